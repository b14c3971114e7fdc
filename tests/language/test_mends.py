"""What is told to try must do: typed in place of what is marked, it takes the problem away."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import pytest

from advisor.errors import Problem, Span
from advisor.language.check import check
from advisor.language.dimensions import number_type
from advisor.language.mends import (
    as_written,
    card_line,
    free_name,
    in_unit,
    number_in,
    some,
    thing_of,
    turned,
    value_of,
)
from advisor.language.nodes import Number
from advisor.language.parse import parse_file
from advisor.model.vocabulary import Kind, SetType, TruthType, WordType
from advisor.units import UNITS
from tests.language.test_bad_files import BAD
from tests.language.texts import COMPUTED, base, base_library

TYPED = frozenset(
    {
        *("card-905", "define-802", "test-708", "units-202", "units-205", "units-207"),
        *("word-107", "word-109", "word-110"),
    }
)
"""Codes whose mend belongs in place of what is marked; that of a loose word is a part of it only."""


@dataclass(frozen=True)
class _Told:
    """One problem of a faulty file, and the file."""

    name: str
    text: str
    problem: Problem


def _found(name: str, text: str) -> tuple[Problem, ...]:
    file, problems = parse_file(name, text)
    return (*problems, *check([base(), file], COMPUTED)[1])


def _counted(text: str, name: str) -> Counter[tuple[str, str]]:
    return Counter((problem.code, problem.what) for problem in _found(name, text))


def _told() -> list[_Told]:
    """Every problem of the faulty files with a mend that can be typed."""
    every = []
    for path in BAD:
        text = path.read_text(encoding="utf-8").partition("# expected")[0]
        every += [_Told(path.name, text, problem) for problem in _found(path.name, text)]
    return [
        told for told in every if told.problem.code in TYPED and not told.problem.mend.startswith("means")
    ]


def _typed(told: _Told) -> str:
    """The file with the mend in place of what is marked."""
    span = told.problem.span
    assert span is not None
    lines = told.text.split("\n")
    first, last = lines[span.line - 1], lines[(span.end_line or span.line) - 1]
    mend = told.problem.mend.partition("   ")[0]
    missing = f"{mend} " if told.problem.code == "word-107" else mend
    kept = last[span.end_column - 1 :] if told.problem.code != "word-107" else first[span.column - 1 :]
    lines[span.line - 1 : span.end_line or span.line] = [first[: span.column - 1] + missing + kept]
    return "\n".join(lines)


@pytest.mark.parametrize("told", _told(), ids=lambda told: f"{told.name}:{told.problem.span.line}")
def test_a_mend_typed_at_its_place_takes_the_problem_away_and_brings_none(told: _Told) -> None:
    before, left = _counted(told.text, told.name), _counted(_typed(told), told.name)
    mine = Counter([(told.problem.code, told.problem.what)])
    assert left <= before - mine


def test_every_code_that_can_be_typed_is_shown() -> None:
    assert {told.problem.code for told in _told()} == TYPED


def test_a_number_keeps_its_figure_and_gets_the_unit() -> None:
    assert in_unit(20, number_type("cm")) == "20 cm"
    assert in_unit(3, number_type("count")) == "3"
    assert as_written(2.54, "in") == 1.0
    assert as_written(7.0, "") == 7.0
    assert number_in(2.54, UNITS["in"]) == "1 in"


def test_a_range_is_turned_with_its_units() -> None:
    here = Span("a.rules")
    assert turned(Number(here, 9.0, ""), Number(here, 1.0, "PAR")) == "1 to 9 PAR"
    assert turned(Number(here, 9.0, "cm"), Number(here, 1.0, "cm")) == "1 to 9 cm"
    assert turned(Number(here, 9.0, "cm"), Number(here, 1.0, "mm")) == "1 mm to 9 cm"


def test_a_card_line_that_may_stand_alone_is_shown_whole_and_can_be_read() -> None:
    for head in ("light", "flow", "contact", "growth", "swells"):
        line = card_line(head)
        text = f'edition 1\ncard odd "odd"\n  {line}\n  source "invented" kind guess\n'
        assert line.startswith(f"{head} ")
        assert parse_file("odd.rules", text)[1] == ()
    assert card_line("genus") == ""


def test_a_free_name_is_one_that_nothing_has() -> None:
    assert free_name(["a", "b"], "a") == "c"
    assert free_name(["z"], "z") == "a"
    assert free_name(["tank"]) == "a"


def test_a_thing_is_named_by_what_is_bound() -> None:
    scope = {"p": Kind.PLACE, "c": Kind.CORAL, "a": Kind.ANIMAL}
    assert some(Kind.ANIMAL, scope) == "c"
    assert some(Kind.ANIMAL, scope, but="c") == "a"
    assert some(Kind.FISH, scope) == ""
    assert thing_of(Kind.PLACE, scope) == "p"
    assert thing_of(Kind.PLACE, {"a": Kind.ANIMAL}) == "a.spot"
    assert thing_of(Kind.FISH, {}) == "tank"


def test_a_value_is_of_its_kind_and_possible() -> None:
    measures = base_library().vocabulary.measures
    assert value_of(TruthType()) == "yes"
    assert value_of(WordType(("soft", "clam"))) == "soft"
    assert value_of(SetType(("rock", "sand", "rubble"))) == "rock, sand"
    assert value_of(number_type("PAR"), measures["light"]) == "50 PAR"
    assert value_of(number_type("rank"), measures["potency"]) == "2"
