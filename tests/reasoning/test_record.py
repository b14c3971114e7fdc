"""From columns to what a person can read: values, words, questions, grounds."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.cells import CellKind, NumberCell, Support
from advisor.model.results import Ground, Value
from advisor.model.vocabulary import Grade
from advisor.reasoning.bindings import population_of
from advisor.reasoning.compare_ops import Compare
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Op, truth
from advisor.reasoning.record import (
    Row,
    describe,
    every_cell,
    grounds_of,
    keys_below,
    number_value,
    open_cells,
    value_of,
    weakest_of,
)
from advisor.units import UNITS
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of

PAIR = "animal a, neighbour b of a"
GONE = (0.0, np.nan, 60.0, 1.0)
NO_GAP = (0.0, np.nan, 500.0, 1.0)


def point(grid: Grid, name: str, *values: float) -> None:
    """Make one quantity known everywhere: low, best, high, flags (or one number)."""
    low, best, high, flags = values if len(values) == 4 else (values[0], values[0], values[0], 0.0)
    for table in (grid.number, grid.plain):
        shape = table[name][0].shape
        table[name] = [np.full(shape, part) for part in (low, best, high, flags)]


Known = tuple[float, ...]


def row_of(
    expect: str, known: dict[str, Known], *, more: str = "", because: str = "so it is"
) -> tuple[CompiledRule, Row]:
    """Return a rule about two animals and the row of one binding of it."""
    library, compiled = compiled_of(expect, more=more, because=because, binders=PAIR)
    grid = random_grid(library, 0, animals=3, worlds=0)
    for name, values in known.items():
        point(grid, name, *values)
    rows = {"a": np.array([0], np.int64), "b": np.array([1], np.int64)}
    return compiled, Row(Frame(grid, population_of(grid), np.zeros(1, np.int64), rows, np.zeros(1)), 0)


def expected(compiled: CompiledRule) -> Op:
    """Return the compiled expectation."""
    assert compiled.expect is not None
    return compiled.expect


def test_numbers_are_shown_in_the_unit_of_the_measure() -> None:
    inches = number_value(2.54, 5.08, 7.62, UNITS["in"])
    assert inches.unit == "in"
    assert [inches.low, inches.best, inches.high] == pytest.approx([1, 2, 3])
    warm = number_value(25.0, 25.0, 25.0, UNITS["°F"])
    assert warm.best == pytest.approx(77.0)


def test_what_is_unbounded_or_has_no_best_value_is_none_and_not_a_number() -> None:
    value = number_value(-np.inf, np.nan, np.inf, UNITS["cm"])
    assert (value.low, value.best, value.high) == (None, None, None)


# --- words ------------------------------------------------------------------


@pytest.mark.parametrize(("expect", "words"), [
    ("gap(a, b) >= 5 cm", "gap of (0, 1) is at least 5 cm"),
    ("gap(a, b) < near", "gap of (0, 1) is less than near"),
    ("not potency(a) > 3", "not: potency of (0,) is more than 3"),
    ("group(a) is one of soft, clam", "group of (0,) is one of soft, clam"),
    ("group(a) is not group(b)", "group of (0,) is not group of (1,)"),
    ("weapons(a) has mucus", "weapons of (0,) has mucus"),
    ("light(a.spot) between 5 PAR and 9 PAR", "is between 5 PAR and 9 PAR"),
    ("larger of reach(a), 2 cm >= 1 cm", "the largest of reach of (0,), 2 cm is at least 1 cm"),
    ("reach(a) - 2 cm <= -reach(b)", "reach of (0,) minus 2 cm is at most minus reach of (1,)"),
    ("divider(a, b) or fenced(a)", "divider of (0, 1) or fenced of (0,)"),
    ("close(a, b)", "a0 stands close to a1"),
    ("room(a) >= 2 cm", "room of a0 is at least 2 cm"),
])  # fmt: skip
def test_operations_are_told_in_words(expect: str, words: str) -> None:
    more = (
        "let near = 5 cm\n"
        'define close(animal a, animal b) as gap(a, b) < near say "{a} stands close to {b}"\n'
        "define room(animal a) in cm as reach(a) + 1 cm\n"
    )
    compiled, row = row_of(expect, {}, more=more)
    assert describe(expected(compiled), row).endswith(words)


def test_the_least_of_nobody_is_told_as_such() -> None:
    expect = "least of gap(a, n) for neighbour n of a where potency(n) > 5 >= 4 cm"
    compiled, row = row_of(expect, {"potency": (5.0,)}, because="the nearest is {gap(a, b)} away")
    op = expected(compiled)
    assert isinstance(op, Compare)
    assert value_of(op.left, row) == Value(words=("none",))
    assert describe(op, row) == "least of nobody is at least 4 cm"
    assert bool(truth(row.frame, op).yes[0])
    compiled, row = row_of(expect, {"potency": (0.0, np.nan, 6.0, 1.0)})
    assert describe(expected(compiled), row) == "least of is at least 4 cm"


# --- what would settle it -----------------------------------------------------


def asked(expect: str, *, more: str = "", **known: Known) -> set[str]:
    """Return the cells that keep an expectation open."""
    compiled, row = row_of(expect, known, more=more)
    return {cell.name for cell, _ in open_cells(expected(compiled), row)}


def test_a_decided_truth_asks_for_nothing() -> None:
    assert (
        asked("reach(a) >= 5 cm or gap(a, b) >= 500 cm", reach=(9.0,), gap=(0.0, np.nan, 500.0, 1.0)) == set()
    )


def test_only_open_parts_ask() -> None:
    assert asked("reach(a) >= 5 cm and gap(a, b) >= 7 cm", reach=(9.0,), gap=NO_GAP) == {"gap"}
    assert asked("gap(a, b) >= reach(a)", reach=GONE, gap=NO_GAP) == {"gap", "reach"}


def test_a_case_that_does_not_apply_asks_for_nothing() -> None:
    more = "define room(animal a) in cm as\n    2 cm      when potency(a) <= 1\n    reach(a)  otherwise\n"
    close = (1.0, 2.0, 3.0, 0.0)
    assert asked("gap(a, b) >= room(a)", more=more, potency=(0.0,), reach=GONE, gap=close) == set()
    assert asked("gap(a, b) >= room(a)", more=more, potency=(4.0,), reach=GONE, gap=close) == {"reach"}
    open_guard = (0.0, np.nan, 5.0, 1.0)
    assert asked("gap(a, b) >= room(a)", more=more, potency=open_guard, reach=GONE, gap=close) == {
        "potency", "reach",
    }  # fmt: skip


def test_what_is_open_within_an_aggregate_asks_for_its_own_members() -> None:
    library, compiled = compiled_of("count of neighbour n of a where (gap(a, n) < 9 cm) <= 0", binders=PAIR)
    grid = random_grid(library, 0, animals=3, worlds=0)
    point(grid, "gap", 20.0)
    for part, value in enumerate((0.0, np.nan, 500.0, 1.0)):
        grid.number["gap"][part][0, 2] = value
    rows = {"a": np.array([0], np.int64), "b": np.array([1], np.int64)}
    row = Row(Frame(grid, population_of(grid), np.zeros(1, np.int64), rows, np.zeros(1)), 0)
    found = [(cell.name, where.rows(cell.refs)) for cell, where in open_cells(expected(compiled), row)]
    assert [(name, set(rows)) for name, rows in found] == [("gap", {0, 2})]


# --- grounds ----------------------------------------------------------------------


def test_grounds_carry_what_their_cell_says() -> None:
    cell = NumberCell(1, 2, 3, CellKind.CARD, None, (
        Support("card torch", Grade.GUESS, source="from memory"), Support("tape", age_days=12),
    ))  # fmt: skip
    first, second = grounds_of(cell)
    assert (first.text, first.grade, first.source) == ("card torch", "guess", "from memory")
    assert (second.grade, second.age_days, second.line) == ("", 12, 0)


def test_the_weakest_ground_is_the_one_of_lowest_grade() -> None:
    graded = {"a study": "study", "a hunch": "guess", "keepers": "experience", "tape": ""}
    grounds = tuple(Ground(text=text, grade=grade) for text, grade in graded.items())
    assert "a hunch" in weakest_of(grounds)
    assert "guess" in weakest_of(grounds)
    assert weakest_of((Ground(text="tape"),)) == ""


def test_every_cell_below_an_operation_is_found() -> None:
    compiled, row = row_of("gap(a, b) >= reach(a) or weapons(b) has mucus and divider(a, b)", {})
    assert {cell.name for cell in every_cell(expected(compiled))} == {"gap", "reach", "weapons", "divider"}
    assert value_of(expected(compiled), row).words == ()


# --- what little is known ---------------------------------------------------------


@pytest.mark.parametrize(("expect", "known", "says"), [
    ("gap(a, b) >= 9 cm", {"gap": (11.5, np.nan, 66.6, 1.0)}, True),
    ("gap(a, b) >= 9 cm", {"gap": NO_GAP}, False),
    ("gap(a, b) >= 9 cm", {"gap": (0.0, 12.0, 500.0, 2.0)}, False),
    ("gap(a, b) - 2 cm >= 9 cm", {"gap": NO_GAP}, False),
    ("room(a) >= 9 cm", {"potency": (0.0, np.nan, 5.0, 1.0)}, True),
    ("room(a) >= 9 cm", {"potency": (0.0, np.nan, 5.0, 1.0), "reach": GONE}, False),
    ("room(a) >= 9 cm", {"potency": (0.0,), "reach": GONE}, True),
])  # fmt: skip
def test_a_range_is_known_if_it_says_more_than_what_is_possible(
    expect: str, known: dict[str, Known], says: bool
) -> None:
    more = "define room(animal a) in cm as\n    2 cm      when potency(a) <= 1\n    reach(a)  otherwise\n"
    compiled, row = row_of(expect, {"reach": (9.0,), **known}, more=more)
    value = value_of(expected(compiled).inputs[0], row)
    assert value.known is says


def test_a_gap_is_one_cell_whichever_way_round_it_is_read() -> None:
    compiled, row = row_of("gap(a, b) >= 9 cm and reach(a) >= 1 cm and above(b, a)", {})
    assert set(keys_below(expected(compiled), row)) == {("gap", (0, 1)), ("reach", (0,)), ("above", (1, 0))}
