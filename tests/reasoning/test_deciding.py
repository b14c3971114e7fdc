"""The comparison that decides, and its two numbers."""

from __future__ import annotations

import pytest

from advisor.reasoning.deciding import both_numbers, decided_by, is_asked, quantity_of, weighed
from advisor.reasoning.record import Key, Row, describe
from tests.reasoning.test_record import NO_GAP, Known, expected, row_of

GAP: Key = ("gap", (0, 1))
REACH: Key = ("reach", (0,))
KNOWN: dict[str, Known] = {"gap": (12.0,), "reach": (9.0,), "potency": (3.0,)}


def decides(expect: str, *kept: Key, **known: Known) -> str:
    """Return in words what decides an expectation."""
    compiled, row = row_of(expect, {**KNOWN, **known})
    return describe(*decided_by(expected(compiled), row, frozenset(kept)))


def test_of_an_and_the_worst_and_of_an_or_the_best_decides() -> None:
    assert decides("gap(a, b) >= 5 cm and gap(a, b) >= 20 cm").endswith("at least 20 cm")
    assert decides("gap(a, b) >= 40 cm or gap(a, b) >= 15 cm").endswith("at least 15 cm")


def test_of_what_is_decided_only_what_it_rests_on_is_looked_at() -> None:
    formula = "gap(a, b) >= 5 cm or reach(a) >= 1 cm"
    assert decides(formula).startswith("reach")
    assert decides(formula, GAP).startswith("gap")
    assert decides(f"not ({formula})", REACH).startswith("reach")


def test_of_what_is_open_everything_is_looked_at() -> None:
    formula = "gap(a, b) >= 5 cm and potency(a) >= 3"
    assert decides(formula, ("potency", (0,)), gap=NO_GAP).startswith("gap")


def test_the_member_that_decides_is_one_of_those_it_rests_on() -> None:
    formula = "any neighbour n of a where gap(a, n) >= 5 cm"
    assert decides(formula, ("gap", (0, 2))) == "gap of (0, 2) is at least 5 cm"


@pytest.mark.parametrize(("expect", "asked"), [
    ("gap(a, b) >= 5 cm", True), ("above(a, b)", True), ("potency(a) <= 3", False), ("5 cm <= 6 cm", False),
])  # fmt: skip
def test_what_stands_in_the_tank_is_told_from_what_cards_say(expect: str, asked: bool) -> None:
    compiled, _ = row_of(expect, {})
    assert is_asked(expected(compiled)) is asked


def test_a_label_names_the_other_animal() -> None:
    compiled, row = row_of("gap(a, b) >= 5 cm", KNOWN)
    assert quantity_of(expected(compiled), row, "a0") == "gap to a1"
    assert quantity_of(None, row, "a0") == ""


def test_a_formula_is_weighed_by_its_label_and_both_ends() -> None:
    compiled, row = row_of("gap(a, b) between 2 cm and 20 cm", KNOWN)
    label, here, low, high = weighed(expected(compiled), row, "a0")
    assert label == "gap to a1"
    assert [value.best for value in (here, low, high) if value is not None] == [12, 2, 20]


def test_nothing_has_no_numbers() -> None:
    _, row = row_of("gap(a, b) >= 5 cm", KNOWN)
    assert both_numbers(None, Row(row.frame, 0)) == (None, None, None)
