"""Examples of rule files run through the evaluator, and an example that is wrong is said to be."""

from __future__ import annotations

import numpy as np
import pytest

from advisor import api
from advisor.language.library import Library
from advisor.model.cells import CellKind, NumberCell, SetCell, TruthCell, WordCell
from advisor.model.results import Verdict
from advisor.model.vocabulary import Kind
from advisor.reasoning.examples import Givens, Outcomes, givens_of, run_examples
from tests.reasoning.small import VOCABULARY, library_of, rule_text

PAIR = "animal a, neighbour b of a"
RULE = rule_text("gap(a, b) >= reach(a)", binders=PAIR, when="potency(a) >= 2", unless="divider(a, b)",
                 level="danger")  # fmt: skip
MORE = (
    'measure grows-out(animal a) in mm/month between 0 and 40 mm/month from card growth-out ask "growth?"\n'
    "relation kept-trimmed(animal a) given from keeper\n"
)


def library(thens: str, *, given: str = "gap(x, y) = 12 cm", rule: str = RULE,
            of_x: str = "potency = 3, reach = 20 cm") -> Library:  # fmt: skip
    """Return a library with one rule and one example."""
    text = (
        f'{rule}example "tried" for tested\n  given x is coral with {of_x}\n        y is animal\n'
        f"        {given}\n  then  {thens}\n"
    )
    return library_of(text, VOCABULARY + MORE)


def outcome(thens: str, *, given: str = "gap(x, y) = 12 cm", rule: str = RULE,
            of_x: str = "potency = 3, reach = 20 cm") -> Outcomes:  # fmt: skip
    """Return what became of the only `then` of an example."""
    (found,) = run_examples(library(thens, given=given, rule=rule, of_x=of_x))
    return found


GOOD = [
    ("x, y fails by 8 cm", "gap(x, y) = 12 cm"),
    ("x, y fails by 80 mm", "gap(x, y) = 12 cm"),
    ("x, y fails", "gap(x, y) = 12 cm"),
    ("x, y holds by 5 cm", "gap(x, y) = 25 cm"),
    ("x, y holds", "gap(y, x) = 25 cm"),
    ("x, y undecided too close leans yes", "gap(x, y) = 20.5 cm"),
    ("x, y undecided too close leans no", "gap(x, y) = 19.5 cm"),
    ("x, y undecided needs gap(x, y)", "gap(x, y) unknown"),
    ("x, y undecided needs gap(y, x)", "gap(x, y) unknown"),
    ("x, y undecided", "gap(x, y) = 10 to 40 cm"),
    ("x, y excused", "gap(x, y) = 1 cm\n        divider(x, y) = yes"),
]


@pytest.mark.parametrize(("thens", "given"), GOOD)
def test_a_right_example_is_right(thens: str, given: str) -> None:
    found = outcome(thens, given=given)
    assert (found.ok, found.expected) == (True, found.got)
    assert found.reason is not None


BAD = [
    ("x, y holds", "gap(x, y) = 12 cm", "fails"),
    ("x, y fails by 7 cm", "gap(x, y) = 12 cm", "fails by 8 cm"),
    ("x, y fails by 8 mm", "gap(x, y) = 12 cm", "fails by 80 mm"),
    ("x, y holds by 5 cm", "gap(x, y) = 12 cm", "fails by 8 cm"),
    ("x, y undecided too close leans no", "gap(x, y) = 20.5 cm", "undecided too close leans yes"),
    ("x, y undecided too close", "gap(x, y) unknown", "undecided"),
    ("x, y undecided needs reach(x)", "gap(x, y) unknown", "undecided"),
    ("x, y not covered", "gap(x, y) = 12 cm", "fails"),
    ("x, y excused", "gap(x, y) = 12 cm", "fails"),
]


@pytest.mark.parametrize(("thens", "given", "got"), BAD)
def test_a_wrong_example_is_wrong_and_says_what_came_out(thens: str, given: str, got: str) -> None:
    found = outcome(thens, given=given)
    assert not found.ok
    assert found.got == got
    assert found.expected != got


def test_what_is_not_covered_says_so() -> None:
    assert outcome("x, y not covered", of_x="potency = 1, reach = 20 cm").ok


def test_an_example_about_the_tank_needs_nobody() -> None:
    rule = rule_text("warmth(tank) <= 28 °C", binders="tank")
    for value, then in (
        ("27 °C", "holds by 1 K"),
        ("30 °C", "fails by 2 K"),
        ("28.2 °C", "undecided too close"),
    ):
        text = f'{rule}example "t" for tested\n  given warmth(tank) = {value}\n  then tank {then}\n'
        (found,) = run_examples(library_of(text))
        assert found.ok, (found.expected, found.got)


def test_a_look_ahead_takes_growth_off_the_gap() -> None:
    grows = "potency = 3, reach = 20 cm, grows-out = 5 mm/month"
    growing = "gap(x, y) = 25 cm\n        grows-out(y) = 5 mm/month"
    assert outcome("x, y holds by 5 cm", given=growing, of_x=grows).ok
    assert outcome("at month 12, x, y fails by 7 cm", given=growing, of_x=grows).ok
    trimmed = f"{growing}\n        kept-trimmed(x) = yes"
    assert outcome("at month 12, x, y undecided too close leans no", given=trimmed, of_x=grows).ok


def test_growth_nobody_told_leaves_a_look_ahead_open() -> None:
    assert outcome("at month 12, x, y undecided", given="gap(x, y) = 25 cm").ok


def test_a_preference_has_examples_of_its_own() -> None:
    text = (
        "prefer calm for animal a want light(a.spot) between 50 PAR and 90 PAR weight 3 fade 10 steps\n"
        '  because "{a} sits in {light(a.spot)}" source "us" kind guess\n'
        'example "bright" for calm\n  given x is coral\n        light(x.spot) = 200 PAR\n  then x fails\n'
        'example "fine" for calm\n  given x is coral\n        light(x.spot) = 70 PAR\n  then x holds\n'
    )
    assert [found.ok for found in run_examples(library_of(text))] == [True, True]


def test_an_example_for_nothing_is_left_to_the_checker() -> None:
    assert run_examples(library_of('example "t" for nothing\n  given x is coral\n  then x holds\n')) == ()


# --- the tables an example makes --------------------------------------------------


def givens(given: str, of_x: str = "potency = 3") -> Givens:
    """Return the tables of an example."""
    made = library("x, y fails", given=given, of_x=of_x)
    return givens_of(made.examples[0], made)


def test_a_number_given_stands_as_a_point_unless_its_measure_has_an_error() -> None:
    tables = givens("gap(x, y) = 12 cm\n        light(x.spot) = 110 PAR", "reach = 20 cm")
    reach, gap, light = (
        tables.cell(name, rows) for name, rows in (("reach", (0,)), ("gap", (0, 1)), ("light", (0,)))
    )
    assert isinstance(reach, NumberCell)
    assert isinstance(gap, NumberCell)
    assert isinstance(light, NumberCell)
    assert (reach.low, reach.high) == (20, 20)
    assert (gap.low, gap.best, gap.high) == (11, 12, 13)
    assert light.low == pytest.approx(100)  # log-symmetric: divided and multiplied by 1.1
    assert light.high == pytest.approx(121)


def test_a_range_given_has_no_best_value() -> None:
    cell = givens("gap(x, y) = 10 to 14 cm").cell("gap", (0, 1))
    assert isinstance(cell, NumberCell)
    assert (cell.low, cell.best, cell.high) == (10, None, 14)


def test_what_is_not_given_is_unknown_but_a_given_relation_is_no() -> None:
    tables = givens("gap(x, y) = 12 cm")
    size, group, weapons = (tables.cell(name, (0,)) for name in ("size", "group", "weapons"))
    assert isinstance(size, NumberCell)
    assert isinstance(group, WordCell)
    assert isinstance(weapons, SetCell)
    assert (size.low, size.high, size.kind) == (0.5, 150, CellKind.UNKNOWN)
    assert group.possible is None
    assert weapons.possibly is None
    divider, above = tables.cell("divider", (0, 1)), tables.cell("above", (0, 1))
    assert isinstance(divider, TruthCell)
    assert isinstance(above, TruthCell)
    assert (divider.value, above.value) == (False, None)


def test_a_given_relation_that_is_said_to_be_unknown_is_unknown() -> None:
    cell = givens("divider(x, y) unknown").cell("divider", (0, 1))
    assert isinstance(cell, TruthCell)
    assert cell.value is None


def test_what_is_assumed_counts_only_where_assumptions_do() -> None:
    tables = givens("gap(x, y) = 12 cm")
    for assume, ends in ((True, (40.0, 110.0)), (False, (0.0, 2500.0))):
        found = tables.numbers("origin", (np.array([0]),), None, assume)
        assert (float(found.low[0]), float(found.high[0])) == ends


def test_things_are_called_as_the_example_calls_them() -> None:
    tables = givens("gap(x, y) = 12 cm")
    assert [tables.label(kind, 0) for kind in (Kind.ANIMAL, Kind.PLACE, Kind.TANK)] == ["x", "x.spot", "tank"]
    assert tables.ask("gap", (0, 1)) == "gap(x, y)"
    assert tables.ask("light", (1,)) == "light(y.spot)"


def test_every_cell_and_its_column_say_the_same() -> None:
    tables = givens("gap(x, y) = 12 cm\n        light(x.spot) = 110 PAR", "reach = 20 cm, group = soft")
    for name in ("reach", "size", "light", "origin"):
        for row in (0, 1):
            cell = tables.cell(name, (row,))
            assert isinstance(cell, NumberCell)
            found = tables.numbers(name, (np.array([row]),), None, True)
            assert (found.low[0], found.high[0]) == (cell.low, cell.high)
    words = tables.words("group", (np.array([0, 1]),))
    assert words.possible.sum(axis=1).tolist() == [1, len(words.domain)]


# --- the shipped examples -----------------------------------------------------------


def test_every_shipped_example_comes_out_as_written() -> None:
    found = api.run_examples()
    assert len(found) > 100
    wrong = [(item.rule, item.title, item.expected, item.got) for item in found if not item.ok]
    assert wrong == []
    assert {item.reason.verdict for item in found if item.reason is not None} >= {
        Verdict.HOLDS, Verdict.FAILS, Verdict.UNDECIDED, Verdict.EXCUSED, Verdict.NOT_COVERED,
    }  # fmt: skip
