"""Connectives, exact treatment of repeated unknowns, and what is made of many bindings."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np

from advisor.language.nodes import AggregateOp, Binder
from advisor.reasoning import truths
from advisor.reasoning.bindings import expand
from advisor.reasoning.columns import MISSING, Bools, Ints, Numbers, Truths
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
        found = truth(inner, self.condition)
        if self.op is AggregateOp.EVERY:
            return truths.segment_all(found, segment, frame.size)
        return truths.negate(truths.segment_all(truths.negate(found), segment, frame.size))


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
        member = truths.constant(True, inner.size) if self.condition is None else truth(inner, self.condition)
        if self.op is AggregateOp.COUNT:
            ones = np.ones(inner.size)
            each = Numbers(ones, ones, ones, np.zeros(inner.size, np.uint8))
            return _summed(each, member, segment, frame.size)
        of = self.of
        if of is None:
            raise TypeError(f"{self.op.value} needs a quantity")
        values = numbers(inner, of)
        if self.op is AggregateOp.SUM:
            return _summed(values, member, segment, frame.size)
        return _extreme(values, member, segment, frame.size, most=self.op is AggregateOp.MOST)


def _summed(values: Numbers, member: Truths, segment: Ints, size: int) -> Numbers:
    """Sum per segment; a doubtful member adds at least its least and nothing, at most its most."""
    low = np.where(member.no, 0.0, np.where(member.yes, values.low, np.minimum(values.low, 0.0)))
    high = np.where(member.no, 0.0, np.where(member.yes, values.high, np.maximum(values.high, 0.0)))
    best = np.where(member.lean > 0, values.best, np.where(member.lean < 0, 0.0, np.nan))
    out = [
        np.bincount(segment, weights=part, minlength=size).astype(np.float64) for part in (low, best, high)
    ]
    flags = np.zeros(size, np.uint8)
    np.bitwise_or.at(flags, segment, np.where(member.no, 0, values.flags | member.flags).astype(np.uint8))
    return Numbers(out[0], out[1], out[2], flags)


def _extreme(values: Numbers, member: Truths, segment: Ints, size: int, *, most: bool) -> Numbers:
    """Largest or smallest per segment; without members it is unbounded on the far side."""
    sign = 1.0 if most else -1.0
    near, far = (values.low, values.high) if most else (-values.high, -values.low)
    low, best, without, high = (np.full(size, -np.inf) for _ in range(4))
    with np.errstate(invalid="ignore"):  # a best value nobody knows stays unknown
        np.maximum.at(low, segment, np.where(member.yes, near, -np.inf))
        np.maximum.at(high, segment, np.where(member.no, -np.inf, far))
        np.maximum.at(best, segment, np.where(member.lean < 0, -np.inf, sign * values.best))
        np.maximum.at(without, segment, np.where(member.lean <= 0, -np.inf, sign * values.best))
    best = np.where(best == without, best, np.nan)  # a member nobody knows of makes the difference
    flags = np.zeros(size, np.uint8)
    np.bitwise_or.at(flags, segment, np.where(member.no, 0, values.flags | member.flags).astype(np.uint8))
    return Numbers(low, best, high, flags) if most else Numbers(-high, -best, -low, flags)


def inner_frame(frame: Frame, op: Op, binder: Binder) -> tuple[Frame, Ints]:
    """Return the frame of an aggregate's bindings and the outer row of each, made once per frame."""
    found = frame.inner.get(op)
    if found is None:
        segment, rows = expand(frame.tables, frame.population, frame.worlds, frame.rows, binder)
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
