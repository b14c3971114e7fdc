"""The tables an example makes: as told, unknown where nothing is told, and the same cell by cell."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.cells import Cause, CellKind, NumberCell, SetCell, TruthCell, WordCell
from advisor.model.vocabulary import Kind
from advisor.reasoning.givens import Givens, givens_of
from tests.reasoning.small import VOCABULARY, library_of, rule_text
from tests.reasoning.test_examples import library


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


@pytest.mark.parametrize(("say", "back"), [
    ("{a} and {b} are pieces of one colony", True), ("{a} stands in the shade of {b}", None),
])  # fmt: skip
def test_what_is_said_of_both_is_given_both_ways(say: str, back: bool | None) -> None:
    more = f'relation kin(animal a, animal b) from keeper  say "{say}"  ask "?"\n'
    text = rule_text("kin(b, a)", binders="animal a, neighbour b of a") + (
        'example "tried" for tested\n  given x is coral with potency = 3\n        y is animal\n'
        "        kin(x, y) = yes\n  then  x, y fails\n"
    )
    made = library_of(text, VOCABULARY + more)
    tables = givens_of(made.examples[0], made)
    there, turned = (tables.cell("kin", rows) for rows in ((0, 1), (1, 0)))
    assert isinstance(there, TruthCell)
    assert isinstance(turned, TruthCell)
    assert (there.value, turned.value) == (True, back)


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


def of_tank(given: str, declared: str = "") -> Givens:
    """The tables of an example about the tank, with one relation of it that is false until told."""
    words = f'relation pumps-rest(tank) {declared}from keeper  say "the pumps rest"  ask "Do they rest?"\n'
    text = rule_text("pumps-rest(tank)", binders="tank") + (
        f'example "tried" for tested\n  given {given}\n  then  tank fails\n'
    )
    made = library_of(text, VOCABULARY + words)
    return givens_of(made.examples[0], made)


@pytest.mark.parametrize(
    ("given", "declared", "value", "cause"),
    [
        ("pumps-rest(tank) = yes", "", True, None),
        ("pumps-rest(tank) = no", "", False, None),
        ("pumps-rest(tank) unknown", "", None, Cause.MISSING),
        ("warmth(tank) = 25 °C", "", None, Cause.MISSING),
        ("pumps-rest(tank) = yes", "given ", True, None),
        ("pumps-rest(tank) unknown", "given ", None, Cause.MISSING),
        ("warmth(tank) = 25 °C", "given ", False, None),
    ],
)
def test_a_relation_of_the_tank_is_as_told_by_its_cell_and_its_column(
    given: str, declared: str, value: bool | None, cause: Cause | None
) -> None:
    tables = of_tank(given, declared)
    cell = tables.cell("pumps-rest", (0,))
    assert isinstance(cell, TruthCell)
    assert (cell.value, cell.cause) == (value, cause)
    column = tables.truths("pumps-rest", (np.zeros(2, np.int64),), None)
    assert column.yes.tolist() == [value is True] * 2
    assert column.no.tolist() == [value is False] * 2
    assert (column.flags != 0).tolist() == [cause is not None] * 2


def test_a_relation_of_the_tank_is_read_in_whatever_row_it_is_asked() -> None:
    """Where an example has things as well, the tank has no row of its own among them."""
    words = 'relation pumps-rest(tank) from keeper  say "the pumps rest"  ask "Do they rest?"\n'
    text = rule_text("pumps-rest(tank)", binders="animal a") + (
        'example "tried" for tested\n  given x is coral\n        y is coral\n'
        "        pumps-rest(tank) = yes\n        warmth(tank) = 25 °C\n  then  x fails\n"
    )
    made = library_of(text, VOCABULARY + words)
    tables = givens_of(made.examples[0], made)
    for row in (0, 1, 2):
        rests, warmth = tables.cell("pumps-rest", (row,)), tables.cell("warmth", (row,))
        assert isinstance(rests, TruthCell)
        assert isinstance(warmth, NumberCell)
        assert (rests.value, warmth.best) == (True, 25.0)
    assert tables.ask("pumps-rest", (0,)) == "pumps-rest(tank)"
    assert tables.say("pumps-rest", (0,)) == "pumps-rest of tank"
    assert tables.asked_of("warmth", (0,)) == ("tank",)
