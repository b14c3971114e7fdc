"""Compiled parts of one rule, and their values for one known animal."""

from __future__ import annotations

import numpy as np

from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import Numbers
from advisor.reasoning.compare_ops import Compare
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Op, Quantity, numbers
from advisor.reasoning.scales import as_quantity
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of, library_of

PAIR = "animal a, neighbour b of a"


def below(op: Op) -> list[Op]:
    """Return every operation below and with one, each once."""
    found: dict[Op, None] = {}
    todo = [op]
    while todo:
        item = todo.pop()
        if item not in found:
            found[item] = None
            todo.extend(item.inputs)
            todo.extend(
                part
                for part in (getattr(item, "condition", None), getattr(item, "of", None))
                if isinstance(part, Op)
            )
    return list(found)


def expect_op(expect: str, *, more: str = "", binders: str = "animal a") -> Op:
    """Return the compiled expectation of a rule."""
    _, compiled = compiled_of(expect, more=more, binders=binders)
    assert compiled.expect is not None
    return compiled.expect


def sides(expect: str, *, more: str = "", binders: str = "animal a") -> tuple[Quantity, Quantity]:
    """Return both sides of a comparison."""
    op = expect_op(expect, more=more, binders=binders)
    assert isinstance(op, Compare)
    return as_quantity(op.left), as_quantity(op.right)


def point(grid: Grid, measure: str, value: float) -> None:
    """Make one measure the same known number everywhere."""
    for table in (grid.number, grid.plain):
        shape = table[measure][0].shape
        table[measure] = [np.full(shape, value)] * 3 + [np.zeros(shape)]


def value_of(quantity: Quantity, grid: Grid) -> float:
    """Return a quantity of the first animal, in base units."""
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {"a": np.zeros(1, np.int64)}, np.zeros(1))
    found: Numbers = numbers(frame, quantity)
    assert found.low[0] == found.high[0] == found.best[0]
    return float(found.best[0])


def grid_with(**values: float) -> Grid:
    """Return one animal whose measures are known numbers."""
    grid = random_grid(library_of(), 0, animals=1, worlds=0)
    for name, value in values.items():
        point(grid, name, value)
    return grid
