"""Connectives, exact treatment of repeated unknowns, and what is made of many bindings."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np

from advisor.language.nodes import AggregateOp, Binder
from advisor.reasoning import truths
from advisor.reasoning.bindings import expand
from advisor.reasoning.columns import MISSING, Bools, Ints, Numbers, Truths
from advisor.reasoning.folds import (
    Groups,
    extreme,
    groups_of,
    numbers_of_all,
    or_absent,
    summed,
    truths_of_all,
)
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Defined, Op, Quantity, numbers, truth

MOST_SPLIT = 8
"""Repeated unknowns that are split exactly; above it plain Kleene logic answers."""


@dataclass(frozen=True, slots=True, eq=False)
class Negation(Op):
    """Strong Kleene ``not``."""

    of: Op

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The operand."""
        return (self.of,)

    def run(self, frame: Frame) -> Truths:
        """Return the opposite."""
        return truths.negate(truth(frame, self.of))


@dataclass(frozen=True, slots=True, eq=False)
class Every(Op):
    """Strong Kleene ``and``."""

    items: tuple[Op, ...]

    @property
    def inputs(self) -> tuple[Op, ...]:
        """All items."""
        return self.items

    def run(self, frame: Frame) -> Truths:
        """Return whether all hold."""
        return truths.all_of([truth(frame, item) for item in self.items])


@dataclass(frozen=True, slots=True, eq=False)
class Some(Op):
    """Strong Kleene ``or``."""

    items: tuple[Op, ...]

    @property
    def inputs(self) -> tuple[Op, ...]:
        """All items."""
        return self.items

    def run(self, frame: Frame) -> Truths:
        """Return whether any holds."""
        return truths.any_of([truth(frame, item) for item in self.items])


@dataclass(frozen=True, slots=True, eq=False)
class Exact(Op):
    """A formula in which some comparison stands twice: open rows are decided case by case."""

    formula: Op
    repeated: tuple[Op, ...]

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The formula."""
        return (self.formula,)

    def run(self, frame: Frame) -> Truths:
        """Return the formula's truth, decided also where every completion agrees."""
        plain = truth(frame, self.formula)
        still_open = ~(plain.yes | plain.no)
        if not still_open.any():
            return plain
        always, never = still_open.copy(), still_open.copy()
        for values in product((True, False), repeat=len(self.repeated)):
            fixed = {
                op: truths.constant(value, frame.size)
                for op, value in zip(self.repeated, values, strict=True)
            }
            fits = self._fits(frame, values)
            outcome = _kleene(self.formula, frame, fixed)
            always &= outcome.yes | ~fits
            never &= outcome.no | ~fits
        return _decided(plain, always, never & ~always)

    def _fits(self, frame: Frame, values: tuple[bool, ...]) -> Bools:
        """Where an assignment agrees with what is known of the repeated comparisons."""
        fits = np.ones(frame.size, np.bool_)
        for op, value in zip(self.repeated, values, strict=True):
            known = truth(frame, op)
            fits &= ~known.no if value else ~known.yes
        return fits


def _decided(plain: Truths, always: Bools, never: Bools) -> Truths:
    """`plain` with some open rows decided, their margins cut to the side that logic leaves."""
    yes, no = plain.yes | always, plain.no | never
    low = np.where(always, np.maximum(plain.low, 0.0), plain.low)
    high = np.where(never, np.minimum(plain.high, np.nextafter(0.0, -1.0)), plain.high)
    lean = np.where(yes, 1, np.where(no, -1, plain.lean)).astype(np.int8)
    best = np.clip(plain.best, low, high)
    return Truths(yes, no, lean, low, best, high, np.where(yes | no, 0, plain.flags).astype(np.uint8))


def _kleene(op: Op, frame: Frame, fixed: dict[Op, Truths]) -> Truths:
    """The formula's truth with some comparisons fixed; every other leaf as the frame has it."""
    if op in fixed:
        return fixed[op]
    match op:
        case Negation(of=of):
            return truths.negate(_kleene(of, frame, fixed))
        case Every(items=items):
            return truths.all_of([_kleene(item, frame, fixed) for item in items])
        case Some(items=items):
            return truths.any_of([_kleene(item, frame, fixed) for item in items])
        case Defined(body=body) | Exact(formula=body):
            return _kleene(body, frame, fixed)
        case _:
            return truth(frame, op)


def with_exact_cases(formula: Op) -> Op:
    """Return `formula`, wrapped where a leaf stands in it more than once."""
    counts: dict[Op, int] = {}
    _count_leaves(formula, counts)
    repeated = tuple(op for op, count in counts.items() if count > 1)
    return Exact(formula.span, formula, repeated) if 0 < len(repeated) <= MOST_SPLIT else formula


def _count_leaves(op: Op, counts: dict[Op, int]) -> None:
    """Count how often each leaf of a formula stands in it."""
    match op:
        case Negation() | Every() | Some() | Defined() | Exact():
            for item in op.inputs:
                _count_leaves(item, counts)
        case _:
            counts[op] = counts.get(op, 0) + 1


@dataclass(frozen=True, slots=True, eq=False)
class TruthAggregate(Op):
    """``any`` or ``every`` over the bindings of one more variable."""

    op: AggregateOp
    binder: Binder
    condition: Op

    @property
    def inputs(self) -> tuple[Op, ...]:
        """Nothing of the outer frame; the condition runs over the inner bindings."""
        return ()

    def run(self, frame: Frame) -> Truths:
        """Return the truth per outer binding."""
        if frame.hull:
            no = np.zeros(1, np.bool_)
            return truths.of_bools(no, no, np.full(1, MISSING, np.uint8))
        inner, segment = inner_frame(frame, self, self.binder)
        groups = groups_of(frame, self.binder, inner.rows[self.binder.name], segment)
        found = truth(inner, self.condition)
        every = self.op is AggregateOp.EVERY
        each = or_absent(found if every else truths.negate(found), groups.stranger)
        together = truths.segment_all(each, groups.segment, groups.size)
        return truths_of_all(together if every else truths.negate(together), groups, frame.size)


@dataclass(frozen=True, slots=True, eq=False)
class NumberAggregate(Quantity):
    """``count of``, ``sum of``, ``least of`` or ``most of``."""

    op: AggregateOp
    binder: Binder
    condition: Op | None
    of: Op | None

    def run(self, frame: Frame) -> Numbers:
        """Return the quantity per outer binding; members that may or may not count widen it."""
        if frame.hull:
            unbounded = np.full(1, np.inf)
            return Numbers(-unbounded, np.full(1, np.nan), unbounded, np.full(1, MISSING, np.uint8))
        inner, segment = inner_frame(frame, self, self.binder)
        groups = groups_of(frame, self.binder, inner.rows[self.binder.name], segment)
        member = truths.constant(True, inner.size) if self.condition is None else truth(inner, self.condition)
        if groups.stranger.any():
            member = truths.negate(or_absent(truths.negate(member), groups.stranger))
        return numbers_of_all(self._of(inner, member, groups), groups, frame.size)

    def _of(self, inner: Frame, member: Truths, groups: Groups) -> Numbers:
        """The quantity of each group of members."""
        if self.op is AggregateOp.COUNT:
            ones = np.ones(inner.size)
            return summed(Numbers(ones, ones, ones, np.zeros(inner.size, np.uint8)), member, groups)
        if self.of is None:
            raise TypeError(f"{self.op.value} needs a quantity")
        values = numbers(inner, self.of)
        if self.op is AggregateOp.SUM:
            return summed(values, member, groups)
        return extreme(values, member, groups, most=self.op is AggregateOp.MOST)


def inner_frame(frame: Frame, op: Op, binder: Binder) -> tuple[Frame, Ints]:
    """Return the frame of an aggregate's bindings and the outer row of each, made once per frame."""
    found = frame.inner.get(op)
    if found is None:
        segment, rows = expand(frame.tables, frame.population, frame.worlds, frame.rows, binder, inner=True)
        inner = Frame(
            frame.tables,
            frame.population,
            frame.worlds[segment],
            {**{name: old[segment] for name, old in frame.rows.items()}, binder.name: rows},
            frame.months[segment],
            frame.assume,
        )
        found = (inner, segment)
        frame.inner[op] = found
        frame.operations += 1
    return found


def operations_run(frame: Frame) -> int:
    """Return how many operations ran in a frame and in those below it."""
    return frame.operations + sum(operations_run(inner) for inner, _ in frame.inner.values())
