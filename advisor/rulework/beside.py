"""Numbers just beside a limit: what a reading must be for a comparison to turn there."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from advisor.model.vocabulary import Measure, NumberType
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.examples import Trial
from advisor.reasoning.linear import terms_of
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.ops import NumberCell, Op, numbers
from advisor.reasoning.record import Row, members_of
from advisor.rulework.altering import Slot, Value, cells_at, slot_of
from advisor.units import Dimension

_WIDE_STEPS = 3.0
"""How far a range given in place of a reading runs from the limit. [steps]"""
_PLACES = 3
"""Decimals a person would write."""


def beside_limits(trial: Trial, at: int, ops: Iterable[Op]) -> dict[Slot, list[Value]]:
    """Return for each number that stands in a comparison the values just beside where it turns."""
    found: dict[Slot, list[Value]] = {}
    for op, row in _comparisons(ops, Row(trial.frame, at)):
        sides = (
            ((op.left, op.right),) if isinstance(op, Compare) else ((op.value, op.low), (op.high, op.value))
        )
        for left, right in sides:
            for cell, where, factor in _linear(left, right, row):
                values = _beside(cell, where, factor, (left, right), op.step)
                found.setdefault(slot_of(cell, where), []).extend(values)
    return found


def _comparisons(ops: Iterable[Op], row: Row) -> Iterator[tuple[Compare | Within, Row]]:
    """Every comparison of quantities below some operations."""
    for op in ops:
        if isinstance(op, Compare | Within):
            yield op, row
        yield from _comparisons(op.inputs, row)
        if isinstance(op, TruthAggregate | NumberAggregate) and op.condition is not None:
            for member in members_of(op, row):
                yield from _comparisons((op.condition,), member)


def _linear(left: Op, right: Op, row: Row) -> Iterator[tuple[NumberCell, Row, float]]:
    """The numbers of a difference with the factor each has in it; 1 or -1 where it is no plain sum."""
    terms = terms_of(left, right)
    for side, sign in ((left, 1.0), (right, -1.0)):
        for cell, where in cells_at(side, row):
            if isinstance(cell, NumberCell):
                factor = terms.get(cell, sign)
                yield cell, where, factor or sign


def _beside(cell: NumberCell, row: Row, factor: float, sides: tuple[Op, Op], step: float) -> list[Value]:
    """Values of one number that put a difference at zero or just beside it, its error reckoned in."""
    left, right = (numbers(row.frame, side) for side in sides)
    at, now, own = row.at, numbers(row.frame, cell), cell.measure
    small = step / abs(factor)
    values = _ranges(
        (float(now.low[at]), float(now.high[at])),
        (float(left.low[at] - right.high[at]) / factor, float(left.high[at] - right.low[at]) / factor),
        _WIDE_STEPS * small,
    )
    zero = float(now.best[at]) - float(left.best[at] - right.best[at]) / factor
    if math.isfinite(zero):
        up, down = _spread(own, zero)
        near = [zero + up + share * small for share in (0.0, 0.5, 1.0)]
        near += [zero - down - share * small for share in (0.0, 0.5, 1.0)]
        near += [zero + small, zero - small]
        points = [round(zero, _PLACES), *(_tidy(point, own) for point in near)]
        values = [*(Value(point, point) for point in points), *values]
    return [value for value in values if _possible(value, own)]


def _ranges(now: tuple[float, float], shift: tuple[float, float], wide: float) -> list[Value]:
    """Ranges of which one end lies exactly where a difference turns.

    `shift` is by how much the lower and the upper end of the difference are off, in terms of the number.
    """
    found = []
    for off in shift:
        for end, reach in ((now[0] - off, wide), (now[1] - off, -wide)):
            if math.isfinite(end):
                ends = sorted((round(end, _PLACES), round(end + reach, _PLACES)))
                found.append(Value(ends[0], ends[1]))
    return found


def _possible(value: Value, measure: Measure) -> bool:
    """Whether a number can be that; a rank and a count are whole."""
    ends = [end for end in (value.low, value.high) if end is not None]
    return all(measure.low <= end <= measure.high for end in ends) and (
        not _is_whole(measure) or all(end == round(end) for end in ends)
    )


def _is_whole(measure: Measure) -> bool:
    """Whether a measure counts or ranks."""
    whole = (Dimension.RANK, Dimension.COUNT)
    return isinstance(measure.type, NumberType) and measure.type.dimension in whole


def _spread(measure: Measure, value: float) -> tuple[float, float]:
    """How far above and below a limit a reading must stand for its nearer end to touch it. [base unit]"""
    if not measure.error_is_fraction:
        return measure.error, measure.error
    return value * measure.error, value * measure.error / (1.0 + measure.error)


def _tidy(value: float, measure: Measure) -> float:
    """A value a person would write: no finer than a tenth of a step, a rank or a count whole."""
    fine = measure.step if _is_whole(measure) else measure.step / 10.0
    return round(round(value / fine) * fine, 9)
