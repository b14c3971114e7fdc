"""Compiled operations: each turns the columns of its inputs into one column.

There is no other evaluator. Bulk runs and explanations call the same `run`;
what differs is how many rows the frame has and whether its columns are kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

import numpy as np

from advisor.errors import Span
from advisor.language.nodes import ArithOp
from advisor.model.vocabulary import Measure, Relation
from advisor.reasoning import intervals, truths
from advisor.reasoning.columns import MISSING, Column, Numbers, Sets, Truths, Words
from advisor.reasoning.frame import Frame, Ref
from advisor.units import Unit


@dataclass(frozen=True, slots=True, eq=False)
class Op:
    """Base of all operations; compared by identity, shared within a rule by `compile`."""

    span: Span

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The operations whose columns this one reads."""
        return ()

    @property
    def plain(self) -> bool:
        """Whether a quantity is a number in any case: not perhaps the least of nobody, no quotient."""
        return all(child.plain for child in self.inputs)

    def run(self, frame: Frame) -> Column:
        """Return the column for every binding of `frame`."""
        raise TypeError(f"{type(self).__name__} cannot run")


def numbers(frame: Frame, op: Op) -> Numbers:
    """Return the column of an operation that is known to give quantities."""
    return cast(Numbers, frame.value(op))  # the checker has proved the type


def truth(frame: Frame, op: Op) -> Truths:
    """Return the column of an operation that is known to give truths."""
    return cast(Truths, frame.value(op))  # the checker has proved the type


@dataclass(frozen=True, slots=True, eq=False)
class Quantity(Op):
    """An operation that gives quantities of one dimension, shown in `unit`, stepped by `step`."""

    unit: Unit
    step: float


@dataclass(frozen=True, slots=True, eq=False)
class Constant(Quantity):
    """A literal or a named number. [base unit]"""

    value: float
    name: str = ""

    def run(self, frame: Frame) -> Numbers:
        """Return the number for every binding."""
        full = np.full(frame.size, self.value)
        return Numbers(full, full, full, np.zeros(frame.size, np.uint8))


@dataclass(frozen=True, slots=True, eq=False)
class NumberCell(Quantity):
    """A quantity read from the tables."""

    measure: Measure
    refs: tuple[Ref, ...]

    @property
    def name(self) -> str:
        """The name of what is read."""
        return self.measure.name

    def run(self, frame: Frame) -> Numbers:
        """Gather the cells, or their hull."""
        if frame.hull:
            return self._hull(frame)
        rows = tuple(frame.resolve(ref) for ref in self.refs)
        return frame.tables.numbers(self.measure.name, rows, frame.months, frame.assume)

    def _hull(self, frame: Frame) -> Numbers:
        """Return the range over every row; a pair's range is the physical one."""
        flags = np.full(1, MISSING, np.uint8)
        low, high = self.measure.low, self.measure.high
        if len(self.refs) == 1:
            rows = frame.all_rows(self.refs[0])
            if len(rows):
                found = frame.tables.numbers(self.measure.name, (rows,), None, frame.assume)
                low, high = float(found.low.min()), float(found.high.max())
        return Numbers(np.array([low]), np.array([np.nan]), np.array([high]), flags)


@dataclass(frozen=True, slots=True, eq=False)
class WordCell(Op):
    """A word read from the tables."""

    measure: Measure
    refs: tuple[Ref, ...]

    @property
    def name(self) -> str:
        """The name of what is read."""
        return self.measure.name

    def run(self, frame: Frame) -> Words:
        """Gather the cells, or every word any row could have."""
        if frame.hull:
            found = frame.tables.words(self.measure.name, tuple(frame.all_rows(ref) for ref in self.refs))
            possible = np.logical_or.reduce(found.possible, axis=0, keepdims=True)
            return Words(possible, found.domain, np.full(1, MISSING, np.uint8))
        return frame.tables.words(self.measure.name, tuple(frame.resolve(ref) for ref in self.refs))


@dataclass(frozen=True, slots=True, eq=False)
class SetCell(Op):
    """A set of words read from the tables."""

    measure: Measure
    refs: tuple[Ref, ...]

    @property
    def name(self) -> str:
        """The name of what is read."""
        return self.measure.name

    def run(self, frame: Frame) -> Sets:
        """Gather the cells, or what every row surely and any row possibly has."""
        if frame.hull:
            found = frame.tables.sets(self.measure.name, tuple(frame.all_rows(ref) for ref in self.refs))
            return Sets(
                np.logical_and.reduce(found.surely, axis=0, keepdims=True),
                np.logical_or.reduce(found.possibly, axis=0, keepdims=True),
                found.domain,
                np.full(1, MISSING, np.uint8),
            )
        return frame.tables.sets(self.measure.name, tuple(frame.resolve(ref) for ref in self.refs))


@dataclass(frozen=True, slots=True, eq=False)
class RelationCell(Op):
    """A relation read from the tables."""

    relation: Relation
    refs: tuple[Ref, ...]

    @property
    def name(self) -> str:
        """The name of what is read."""
        return self.relation.name

    def run(self, frame: Frame) -> Truths:
        """Gather the cells; anything may hold in the hull."""
        if frame.hull:
            no = np.zeros(1, np.bool_)
            return truths.of_bools(no, no, np.full(1, MISSING, np.uint8))
        found = frame.tables.truths(
            self.relation.name, tuple(frame.resolve(ref) for ref in self.refs), frame.months
        )
        return truths.of_bools(found.yes, found.no, found.flags, found.lean)


def word_of(cell: NumberCell | WordCell | SetCell | RelationCell) -> Measure | Relation:
    """Return the measure or relation that a cell is of."""
    return cell.relation if isinstance(cell, RelationCell) else cell.measure


@dataclass(frozen=True, slots=True, eq=False)
class Arithmetic(Quantity):
    """Interval arithmetic; every range holds all values its inputs allow."""

    op: ArithOp
    left: Op
    right: Op

    @property
    def inputs(self) -> tuple[Op, ...]:
        """Both operands."""
        return (self.left, self.right)

    @property
    def plain(self) -> bool:
        """Whether both operands are, and nothing is divided by what may be nothing."""
        divides = self.op is ArithOp.DIVIDE and not (isinstance(self.right, Constant) and self.right.value)
        return not divides and self.left.plain and self.right.plain

    def run(self, frame: Frame) -> Numbers:
        """Return the range of the result."""
        a, b = numbers(frame, self.left), numbers(frame, self.right)
        match self.op:
            case ArithOp.ADD:
                return intervals.plus(a, b)
            case ArithOp.SUBTRACT:
                return intervals.minus(a, b)
            case ArithOp.MULTIPLY:
                return intervals.times(a, b)
            case ArithOp.DIVIDE:
                return intervals.over(a, b)


@dataclass(frozen=True, slots=True, eq=False)
class Minus(Quantity):
    """Change of sign."""

    of: Op

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The operand."""
        return (self.of,)

    def run(self, frame: Frame) -> Numbers:
        """Return the mirrored range."""
        a = numbers(frame, self.of)
        return Numbers(-a.high, -a.best, -a.low, a.flags)


@dataclass(frozen=True, slots=True, eq=False)
class Extreme(Quantity):
    """The largest or smallest of several quantities."""

    largest: bool
    items: tuple[Op, ...]

    @property
    def inputs(self) -> tuple[Op, ...]:
        """All items."""
        return self.items

    def run(self, frame: Frame) -> Numbers:
        """Return the extreme of the ranges, end by end."""
        return extreme_of([numbers(frame, item) for item in self.items], largest=self.largest)


def extreme_of(items: Sequence[Numbers], *, largest: bool) -> Numbers:
    """Return the largest or smallest of several ranges, end by end."""
    pick = np.maximum if largest else np.minimum
    return Numbers(
        pick.reduce([item.low for item in items]),
        pick.reduce([item.best for item in items]),
        pick.reduce([item.high for item in items]),
        np.bitwise_or.reduce([item.flags for item in items]),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Cases(Quantity):
    """Values by cases, tried in order; covers every case still possible."""

    values: tuple[Op, ...]
    guards: tuple[Op | None, ...]

    @property
    def inputs(self) -> tuple[Op, ...]:
        """Guards and values, in order."""
        pairs = zip(self.guards, self.values, strict=True)
        return tuple(op for guard, value in pairs for op in (guard, value) if op is not None)

    @property
    def plain(self) -> bool:
        """Whether every value is, and some case always applies."""
        return self.guards[-1] is None and all(value.plain for value in self.values)

    def run(self, frame: Frame) -> Numbers:
        """Return the hull of the cases that may apply, and the best of the one that leans so."""
        return by_cases(frame, self.guards, [numbers(frame, value) for value in self.values])


def by_cases(frame: Frame, guards: Sequence[Op | None], items: Sequence[Numbers]) -> Numbers:
    """Return the hull of the ranges whose case may apply, and the best of the one that leans so."""
    size = frame.size
    low, high = np.full(size, np.inf), np.full(size, -np.inf)
    best, flags = np.full(size, np.nan), np.zeros(size, np.uint8)
    reached, leaning = np.ones(size, np.bool_), np.ones(size, np.bool_)
    for guard, item in zip(guards, items, strict=True):
        holds = truths.constant(True, size) if guard is None else truth(frame, guard)
        may = reached & ~holds.no
        low = np.where(may, np.minimum(low, item.low), low)
        high = np.where(may, np.maximum(high, item.high), high)
        chosen = leaning & may & (holds.lean > 0)
        best = np.where(chosen, item.best, best)
        flags = np.where(reached, flags | holds.flags, flags)
        flags = np.where(may, flags | item.flags, flags).astype(np.uint8)
        leaning &= ~chosen & ~(may & (holds.lean == 0))
        reached &= ~holds.yes
    # where no case need apply, the definition says nothing at all
    return Numbers(
        np.where(reached, -np.inf, low),
        best,
        np.where(reached, np.inf, high),
        np.where(reached, flags | MISSING, flags).astype(np.uint8),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Defined(Op):
    """A definition of a truth applied: passes its body on, so that an explanation can open it."""

    name: str
    refs: tuple[Ref, ...]
    body: Op

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The body."""
        return (self.body,)

    def run(self, frame: Frame) -> Column:
        """Return the column of the body."""
        return frame.value(self.body)


@dataclass(frozen=True, slots=True, eq=False)
class DefinedQuantity(Quantity):
    """A definition of a quantity applied."""

    name: str
    refs: tuple[Ref, ...]
    body: Op

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The body."""
        return (self.body,)

    def run(self, frame: Frame) -> Column:
        """Return the column of the body."""
        return frame.value(self.body)


@dataclass(frozen=True, slots=True, eq=False)
class TruthConstant(Op):
    """A plain yes or no."""

    value: bool

    def run(self, frame: Frame) -> Truths:
        """Return it for every binding."""
        return truths.constant(self.value, frame.size)
