"""Comparisons of quantities: a truth with a signed margin in steps."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from advisor.language.nodes import CompareOp
from advisor.reasoning import intervals, truths
from advisor.reasoning.columns import Numbers, Truths
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Op, by_cases, extreme_of, numbers
from advisor.units import Unit


@dataclass(frozen=True, slots=True)
class Collected:
    """A difference as a sum of cells, each once, so that a shared error cancels. [base unit]"""

    terms: tuple[tuple[float, Op], ...]
    offset: float

    def run(self, frame: Frame) -> Numbers:
        """Return the range of the sum."""
        full = np.full(frame.size, self.offset)
        found = Numbers(full, full, full, np.zeros(frame.size, np.uint8))
        for factor, op in self.terms:
            if factor:  # what cancels is no longer asked about
                share = np.full(frame.size, factor)
                found = intervals.plus(
                    found, intervals.times(numbers(frame, op), Numbers(share, share, share, found.flags))
                )
        return found


@dataclass(frozen=True, slots=True)
class CollectedExtreme:
    """The largest or smallest of several differences."""

    largest: bool
    items: tuple[Difference, ...]

    def run(self, frame: Frame) -> Numbers:
        """Return the range of the extreme."""
        return extreme_of([item.run(frame) for item in self.items], largest=self.largest)


@dataclass(frozen=True, slots=True)
class CollectedCases:
    """Differences by cases, tried in order."""

    guards: tuple[Op | None, ...]
    items: tuple[Difference, ...]

    def run(self, frame: Frame) -> Numbers:
        """Return the range of every case still possible."""
        return by_cases(frame, self.guards, [item.run(frame) for item in self.items])


Difference = Collected | CollectedExtreme | CollectedCases
"""Left minus right of a comparison in which a cell stands twice."""


def _difference(frame: Frame, left: Op, right: Op, collected: Difference | None) -> Numbers:
    """Left minus right, both computed in any case so that a recording has both numbers."""
    plain = intervals.above(numbers(frame, left), numbers(frame, right))
    if collected is None:
        return plain
    # what may know no bounds does not cancel: no more than the least of nobody is the same as it
    ends = [end for op in _loose(collected) for end in (numbers(frame, op).low, numbers(frame, op).high)]
    if not ends:
        return collected.run(frame)
    return intervals.where(np.logical_or.reduce([np.isinf(end) for end in ends]), plain, collected.run(frame))


@lru_cache(maxsize=20_000)
def _loose(of: Difference) -> tuple[Op, ...]:
    """The terms of a difference that may be no plain number."""
    if isinstance(of, Collected):
        return tuple(op for _, op in of.terms if not op.plain)
    return tuple(op for item in of.items for op in _loose(item))


@dataclass(frozen=True, slots=True, eq=False)
class Compare(Op):
    """An order comparison; `collected` replaces the plain difference where a cell stands on both sides."""

    op: CompareOp
    left: Op
    right: Op
    step: float
    unit: Unit
    collected: Difference | None = None

    @property
    def inputs(self) -> tuple[Op, ...]:
        """Both sides."""
        return (self.left, self.right)

    def run(self, frame: Frame) -> Truths:
        """Return the truth with its margin in steps."""
        margin = _difference(frame, self.left, self.right, self.collected)
        low, best, high = margin.low, margin.best, margin.high
        if self.op in (CompareOp.AT_MOST, CompareOp.LESS):
            low, best, high = -high, -best, -low
        strict = self.op in (CompareOp.MORE, CompareOp.LESS)
        return truths.of_margin(low / self.step, best / self.step, high / self.step, margin.flags, strict)


@dataclass(frozen=True, slots=True, eq=False)
class Within(Op):
    """``value between low and high``, both ends counting."""

    value: Op
    low: Op
    high: Op
    step: float
    unit: Unit
    over_low: Difference | None = None
    under_high: Difference | None = None

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The value and both ends."""
        return (self.value, self.low, self.high)

    def run(self, frame: Frame) -> Truths:
        """Return the truth with the margin to the nearer end in steps."""
        margins = (
            _difference(frame, self.value, self.low, self.over_low),
            _difference(frame, self.high, self.value, self.under_high),
        )
        return truths.all_of(
            [
                truths.of_margin(
                    margin.low / self.step,
                    margin.best / self.step,
                    margin.high / self.step,
                    margin.flags,
                    strict=False,
                )
                for margin in margins
            ]
        )
