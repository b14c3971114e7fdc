"""Blocks to paste: whole but for the outcome."""

from __future__ import annotations

import pytest

from advisor.language.nodes import Example
from advisor.language.parse import parse_file
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import rule_of, try_out
from advisor.rulework.altering import Change, Slot, Value
from advisor.rulework.pasting import block_of, outcome_of, titled
from tests.rulework.little import FAR, NEAR, PARTED, little

COMES_OUT = [
    (FAR, "holds by 10 cm"),
    (NEAR, "fails by 8 cm"),
    (PARTED, "excused"),
    (FAR.replace("potency = 3", "potency = 1"), "not covered"),
    (FAR.replace("30 cm", "20.5 cm"), "undecided too close leans yes"),
    (FAR.replace("        gap(x, y) = 30 cm\n", ""), "undecided needs gap(x, y)"),
]


@pytest.mark.parametrize(("text", "outcome"), COMES_OUT)
def test_an_outcome_is_said_as_an_example_says_it(text: str, outcome: str) -> None:
    library = little(text)
    rule = rule_of("tested", library)
    assert rule is not None
    assert outcome_of(try_out(compile_rule(rule, library), library.examples, library), 0) == outcome


def test_a_block_is_refused_until_its_outcome_is_said_and_then_is_the_example() -> None:
    (example,) = little(NEAR).examples
    block = block_of(example, ("comes out: fails by 8 cm",))
    assert "  # comes out: fails by 8 cm\n  then  x, y …" in block
    text = f"edition 1\n\n{block}\n"
    _, problems = parse_file("own.rules", text)
    assert [(problem.code, problem.what) for problem in problems] == [
        ("word-132", "say what should come out: holds, fails or undecided")
    ]
    span = problems[0].span
    assert span is not None
    assert text.splitlines()[span.line - 1][span.column - 1 : span.end_column - 1] == "…"
    file, problems = parse_file("own.rules", f"edition 1\n\n{block.removesuffix('…')}fails by 8 cm\n")
    assert problems == ()
    (read,) = file.declarations
    assert isinstance(read, Example)
    assert (read.title, len(read.givens), read.thens[0].by is not None) == ("near", len(example.givens), True)


def test_a_block_fits_a_terminal_and_its_title_stays_whole() -> None:
    (example,) = little(NEAR).examples
    change = Change(Slot("gap", ("x", "y")), Value(7.5, 9.25))
    named = titled(example, [change, change, change], little().vocabulary)
    block = block_of(named, ("comes out: undecided needs " + ", ".join(["potency(x)"] * 12),))
    assert all(len(line) <= 80 for line in block.splitlines())
    file, problems = parse_file("own.rules", f"edition 1\n\n{block.removesuffix('…')}holds\n")
    assert problems == ()
    (read,) = file.declarations
    assert isinstance(read, Example)
    assert read.title == named.title


def test_a_title_tells_what_was_changed() -> None:
    (example,) = little(NEAR).examples
    change = Change(Slot("gap", ("x", "y")), None)
    assert titled(example, [change], little().vocabulary).title == "near, but gap(x, y) not told"
    assert titled(example, [], little().vocabulary).title == "near"
