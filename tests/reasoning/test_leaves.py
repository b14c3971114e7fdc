"""The cells a rule reads, numbered for each binding, and rows taken with some of them blank."""

from __future__ import annotations

import numpy as np

from advisor.reasoning.bindings import bindings_of, population_of
from advisor.reasoning.columns import Numbers, Truths
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import judge_frame
from advisor.reasoning.leaves import Book, Layer, Seen, trial
from advisor.reasoning.ops import NumberCell
from tests.reasoning.grids import random_grid
from tests.reasoning.small import compiled_of
from tests.reasoning.test_record import PAIR, Known, expected, point


def laid_out(expect: str, known: dict[str, Known]) -> tuple[CompiledRule, Layer, list[list[Seen]]]:
    """Return a rule, the layer of all bindings of three animals, and the cells of each."""
    library, compiled = compiled_of(expect, binders=PAIR)
    grid = random_grid(library, 0, animals=3, worlds=0)
    for name, values in known.items():
        point(grid, name, *values)
    population = population_of(grid)
    every = bindings_of(grid, population, compiled.binders, everywhere=True)
    frame = Frame(grid, population, every.worlds, every.rows, np.zeros(len(every)))
    judge_frame(compiled, frame, every)
    seen: list[list[Seen]] = [[] for _ in range(frame.size)]
    return compiled, Book(seen).layer(frame, [expected(compiled)]), seen


def test_each_cell_of_a_binding_is_numbered_once_however_often_it_is_read() -> None:
    _, _, seen = laid_out("gap(a, b) >= reach(a) and gap(b, a) < 99 cm", {"gap": (12.0,), "reach": (9.0,)})
    assert [each.key for each in seen[0]] == [("gap", (0, 1)), ("reach", (0,))]


def test_what_is_not_known_anyway_is_no_cell_to_forget() -> None:
    _, _, seen = laid_out("gap(a, b) >= reach(a)", {"gap": (0.0, np.nan, 500.0, 1.0), "reach": (9.0,)})
    assert [each.key[0] for each in seen[0]] == ["reach"]


def test_order_tells_kind_and_distance_from_the_nearest_limit() -> None:
    _, _, seen = laid_out("gap(a, b) >= 5 cm or gap(a, b) >= 11 cm", {"gap": (12.0,)})
    assert seen[0][0].order == (3, -1.0, "gap", ("a0", "a1"))


def test_an_open_comparison_that_may_be_either_is_at_its_limit() -> None:
    _, _, seen = laid_out("gap(a, b) >= 5 cm", {"gap": (2.0, np.nan, 40.0, 0.0)})
    assert seen[0][0].order[1] == 0.0


def test_rows_are_taken_with_their_own_cells_blank() -> None:
    compiled, layer, seen = laid_out("gap(a, b) >= reach(a)", {"gap": (12.0,), "reach": (9.0,)})
    gap = next(op for op in layer.leaves if isinstance(op, NumberCell) and op.name == "gap")
    forgotten = np.zeros((2, 3), np.bool_)
    forgotten[1, [each.key[0] for each in seen[4]].index("gap")] = True
    frame = trial(layer, np.array([4, 4]), np.arange(2), forgotten)
    column = frame.value(gap)
    assert isinstance(column, Numbers)
    assert column.high.tolist() == [12.0, 500.0]
    truth = frame.value(expected(compiled))
    assert isinstance(truth, Truths)
    assert truth.yes.tolist() == [True, False]


def test_members_of_an_aggregate_come_along() -> None:
    compiled, layer, seen = laid_out(
        "count of neighbour n of a where (gap(a, n) < 9 cm) <= 1", {"gap": (4.0,)}
    )
    forgotten = np.zeros((3, len(seen[0]) + 1), np.bool_)
    forgotten[1, 0] = forgotten[2, 0] = forgotten[2, 1] = True
    frame = trial(layer, np.array([0, 0, 0]), np.arange(3), forgotten)
    truth = frame.value(expected(compiled))
    assert isinstance(truth, Truths)
    assert truth.no.tolist() == [True, False, False]
    count = frame.value(expected(compiled).inputs[0])
    assert isinstance(count, Numbers)
    assert count.low.tolist() == [2.0, 1.0, 0.0]
    assert layer.rows == layer.frame.size * 3
