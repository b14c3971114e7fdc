"""What the parser stumbles on, told to a keeper."""

from __future__ import annotations

import pytest
from lark.exceptions import UnexpectedInput

from advisor.errors import Problem, Span
from advisor.language.mistakes import mistake
from tests.language.texts import faults


def only(text: str) -> Problem:
    """The one problem of a text."""
    (problem,) = faults(text)
    return problem


@pytest.mark.parametrize(
    ("text", "code", "mend"),
    [
        ("let x = 3 parsec", "units-203", ""),
        ("let x = 3 PARR", "units-203", "PAR"),
        ('let x = 3 cm becuse "y"', "word-101", "because"),
        ("define x(animal a) as size(a) = 3 cm", "word-109", "is"),
        ("define X(animal a) as yes", "word-110", "x"),
        ("define x(animal a) as 1 cm < size(a) < 3 cm", "word-111", "between … and …"),
        ("define x(animal a) ass size(a) > 3 cm", "word-101", "as"),
        ('let x = 3 cm because "open', "text-404", '"open"'),
    ],
)
def test_a_mistake_has_its_code_and_mend(text: str, code: str, mend: str) -> None:
    problem = only(text)
    assert problem.code == code
    assert not mend or problem.mend == mend


def test_a_unit_is_told_as_it_was_written() -> None:
    problem = only("let x = 3 mm/mnth")
    assert (problem.what, problem.mend) == ("I do not know the unit 'mm/mnth'", "mm/month")
    assert problem.span is not None
    assert (problem.span.column, problem.span.end_column) == (11, 18)


def test_a_missing_operand_is_told_at_the_word_it_is_missing_before() -> None:
    problem = only("rule x\n  for animal a\n  expect size(a) >=\n  unless yes\n  level advice")
    assert problem.what == "something is missing before 'unless'"
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (5, 3)


def test_a_label_lists_what_a_rule_goes_on_with() -> None:
    label = only("rule x\n  for animal a\n  xyzzy\n").label
    assert label.startswith("a rule goes on with: because, expect")


def test_the_end_of_a_piece_is_told_where_it_ends() -> None:
    problem = only("let x =\n\nlet y = 3 cm")
    assert problem.span is not None
    assert (problem.code, problem.span.line, problem.span.column) == ("word-106", 2, 8)


def test_whatever_else_the_parser_raises_is_told() -> None:
    assert mistake(UnexpectedInput(), "rule", Span("x"), "").code == "word-100"
