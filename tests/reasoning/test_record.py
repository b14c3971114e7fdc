"""From columns to steps a person can read: values, words, margins, texts, questions."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.cells import CellKind, NumberCell, Support
from advisor.model.results import Ground, Step, Value
from advisor.model.vocabulary import Grade
from advisor.reasoning.bindings import population_of
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Op
from advisor.reasoning.record import (
    Row,
    describe,
    every_cell,
    fill,
    grounds_of,
    in_words,
    number_value,
    open_cells,
    step_of,
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


def step(expect: str, **known: Known) -> Step:
    """Return the recorded expectation of a rule."""
    compiled, row = row_of(expect, known)
    return step_of(expected(compiled), row, "rule(a0,a1)/expect")


def test_numbers_are_shown_in_the_unit_of_the_measure() -> None:
    inches = number_value(2.54, 5.08, 7.62, UNITS["in"])
    assert inches.unit == "in"
    assert [inches.low, inches.best, inches.high] == pytest.approx([1, 2, 3])
    warm = number_value(25.0, 25.0, 25.0, UNITS["°F"])
    assert warm.best == pytest.approx(77.0)


def test_what_is_unbounded_or_has_no_best_value_is_none_and_not_a_number() -> None:
    value = number_value(-np.inf, np.nan, np.inf, UNITS["cm"])
    assert (value.low, value.best, value.high) == (None, None, None)


def test_a_comparison_records_both_operands_and_its_margin_in_both_units() -> None:
    found = step("gap(a, b) >= reach(a) + 2 cm", gap=(11.0, 12.0, 13.0, 0.0), reach=(18.0,))
    assert found.op == "compare"
    assert found.value.truth is False
    assert found.margin is not None
    assert (found.margin.low, found.margin.best, found.margin.high, found.margin.unit) == (-9, -8, -7, "cm")
    assert found.margin_steps == -8
    here, wanted = found.inputs
    assert (here.op, here.value.best) == ("numbercell", 12.0)
    assert wanted.value.best == 20.0
    assert [item.value.best for item in wanted.inputs] == [18.0, 2.0]


def test_steps_are_named_by_their_path() -> None:
    found = step("gap(a, b) >= reach(a) + 2 cm and potency(a) >= 1")
    assert found.id == "rule(a0,a1)/expect"
    assert [item.id for item in found.inputs] == ["rule(a0,a1)/expect/1", "rule(a0,a1)/expect/2"]
    assert found.inputs[0].inputs[1].inputs[0].id == "rule(a0,a1)/expect/1/2/1"


def test_every_node_of_an_aggregate_has_a_member_and_a_name_of_its_own() -> None:
    found = step("count of neighbour n of a where (gap(a, n) < 9 cm) <= 2", gap=(4.0,))
    count = found.inputs[0]
    assert count.value.best == 2.0
    assert len(count.inputs) == 2
    assert len({item.id for item in count.inputs}) == 2
    assert all(item.value.truth is True for item in count.inputs)


def test_a_repeated_unknown_is_recorded_without_the_machinery_that_decides_it() -> None:
    found = step("reach(a) >= 5 cm or not reach(a) >= 5 cm", reach=(0.0, np.nan, 60.0, 1.0))
    assert found.op == "some"
    assert [item.op for item in found.inputs] == ["compare", "negation"]


@pytest.mark.parametrize(("values", "cause"), [
    ((4.0, 5.0, 6.0, 0.0), "too close"), ((0.0, np.nan, 60.0, 1.0), "missing"),
    ((0.0, 5.0, 60.0, 2.0), "stale"), ((40.0, np.nan, 60.0, 1.0), ""), ((1.0,), ""),
])  # fmt: skip
def test_a_step_says_why_it_is_open(values: tuple[float, ...], cause: str) -> None:
    assert step("reach(a) >= 5 cm", reach=values).cause == cause


def test_a_step_of_a_value_says_that_it_is_missing() -> None:
    found = step("reach(a) >= 5 cm", reach=(0.0, np.nan, 60.0, 1.0))
    assert found.inputs[0].cause == "missing"
    assert not found.inputs[0].value.known


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


@pytest.mark.parametrize(("value", "words"), [
    (Value(low=11, best=12, high=13, unit="cm"), "12 cm"),
    (Value(low=20, high=60, unit="cm"), "20 to 60 cm"),
    (Value(low=20, high=20, unit="cm"), "20 cm"),
    (Value(truth=True), "yes"), (Value(truth=False), "no"),
    (Value(words=("soft", "stony")), "soft or stony"),
    (Value(unit="cm"), "an unknown amount"),
])  # fmt: skip
def test_a_value_stands_in_a_sentence(value: Value, words: str) -> None:
    assert in_words(value) == words


def test_a_text_is_filled_with_what_was_found() -> None:
    compiled, row = row_of(
        "gap(a, b) >= 5 cm", {"gap": (12.0,)}, because="in {month} {a} is {gap(a, b)} from {b}, at {a.spot}"
    )
    text = fill(compiled.because, row, "May 2027")
    assert text.startswith("in May 2027 a0 is 12 cm from a1, at p")
    assert "{" not in text


def test_an_unknown_amount_is_called_one() -> None:
    compiled, row = row_of("gap(a, b) >= 5 cm", {"gap": NO_GAP}, because="{b} is {gap(a, b)} away")
    assert fill(compiled.because, row) == "a1 is an unknown amount away"


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
