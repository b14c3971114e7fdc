"""Connectives, exact treatment of repeated unknowns, and what is made of many bindings."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np

from advisor.language.nodes import AggregateOp, Binder, CompareOp
from advisor.reasoning import truths
from advisor.reasoning.bindings import expand
from advisor.reasoning.columns import MISSING, Bools, Ints, Numbers, Truths
from advisor.reasoning.compare_ops import Compare
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
from advisor.reasoning.word_ops import WordIs

MOST_SPLIT = 8
"""Repeated unknowns of one row that are split exactly; above it plain Kleene logic answers."""


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
    """A formula in which some comparison stands twice: open rows are decided case by case.

    What is split is counted for each row: of the comparisons that stand in the
    formula more than once, or once and once denied, those that are open there.
    """

    formula: Op
    repeated: tuple[Op, ...]
    """One comparison of each that repeat."""

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The formula."""
        return (self.formula,)

    def run(self, frame: Frame) -> Truths:
        """Return the formula's truth, decided also where every completion agrees."""
        plain = truth(frame, self.formula)
        open_ = [~(found.yes | found.no) for found in (truth(frame, op) for op in self.repeated)]
        count = np.add.reduce([each.astype(np.int64) for each in open_])
        rows = np.flatnonzero(~(plain.yes | plain.no) & (count > 0) & (count <= MOST_SPLIT))
        if not len(rows):
            return plain
        always, never = self._cases(frame, rows, [each[rows] for each in open_], int(count[rows].max()))
        decided = np.zeros((2, frame.size), np.bool_)
        decided[0, rows], decided[1, rows] = always, never & ~always
        return _decided(plain, decided[0], decided[1])

    def _cases(self, frame: Frame, rows: Ints, open_: list[Bools], most: int) -> tuple[Bools, Bools]:
        """Whether every case makes some rows true, and whether every case makes them false.

        Each row's own open comparisons are numbered from nought, so that rows of few take part in all cases.
        """
        slot = np.cumsum([each.astype(np.int64) for each in open_], axis=0) - 1
        known = [truths.take(truth(frame, op), rows) for op in self.repeated]
        always, never = np.ones(len(rows), np.bool_), np.ones(len(rows), np.bool_)
        for values in product((True, False), repeat=most):
            bits = np.array(values)
            fixed: dict[_Atom, Truths] = {}
            for op, found, unknown, at in zip(self.repeated, known, open_, slot, strict=True):
                atom, says = _atom(op)
                filled = _filled(found, unknown, bits[np.clip(at, 0, most - 1)])
                fixed[atom] = filled if says else truths.negate(filled)
            outcome = _kleene(self.formula, frame, rows, fixed)
            always &= outcome.yes
            never &= outcome.no
        return always, never


def _filled(found: Truths, unknown: Bools, value: Bools) -> Truths:
    """A comparison with its open rows set."""
    yes, no = np.where(unknown, value, found.yes), np.where(unknown, ~value, found.no)
    return truths.of_bools(yes, no, np.zeros(len(yes), np.uint8))


def _decided(plain: Truths, always: Bools, never: Bools) -> Truths:
    """`plain` with some open rows decided, their margins cut to the side that logic leaves."""
    yes, no = plain.yes | always, plain.no | never
    low = np.where(always, np.maximum(plain.low, 0.0), plain.low)
    high = np.where(never, np.minimum(plain.high, np.nextafter(0.0, -1.0)), plain.high)
    lean = np.where(yes, 1, np.where(no, -1, plain.lean)).astype(np.int8)
    best = np.clip(plain.best, low, high)
    return Truths(yes, no, lean, low, best, high, np.where(yes | no, 0, plain.flags).astype(np.uint8))


_Atom = tuple[object, ...]


def _atom(op: Op) -> tuple[_Atom, bool]:
    """What a leaf says, and whether it says it or the opposite: ``x < y`` is not ``x >= y``."""
    match op:
        case Compare(op=CompareOp.AT_LEAST, left=left, right=right):
            return (left, right), True
        case Compare(op=CompareOp.LESS, left=left, right=right):
            return (left, right), False
        case Compare(op=CompareOp.AT_MOST, left=left, right=right):
            return (right, left), True
        case Compare(op=CompareOp.MORE, left=left, right=right):
            return (right, left), False
        case WordIs(op=kind, left=left, right=right, words=words, negated=negated):
            return (kind, left, right, words), not negated
        case _:
            return (op,), True


def _kleene(op: Op, frame: Frame, rows: Ints, fixed: dict[_Atom, Truths]) -> Truths:
    """The formula's truth on some rows with some comparisons fixed; every other leaf as the frame has it."""
    match op:
        case Negation(of=of):
            return truths.negate(_kleene(of, frame, rows, fixed))
        case Every(items=items):
            return truths.all_of([_kleene(item, frame, rows, fixed) for item in items])
        case Some(items=items):
            return truths.any_of([_kleene(item, frame, rows, fixed) for item in items])
        case Defined(body=body) | Exact(formula=body):
            return _kleene(body, frame, rows, fixed)
        case _:
            atom, says = _atom(op)
            found = fixed.get(atom)
            if found is None:
                return truths.take(truth(frame, op), rows)
            return found if says else truths.negate(found)


def with_exact_cases(formula: Op) -> Op:
    """Return `formula`, wrapped where a comparison stands in it more than once, or denied as well."""
    leaves: dict[_Atom, list[Op]] = {}
    _collect_leaves(formula, leaves)
    repeated = tuple(same[0] for same in leaves.values() if len(same) > 1)
    return Exact(formula.span, formula, repeated) if repeated else formula


def _collect_leaves(op: Op, leaves: dict[_Atom, list[Op]]) -> None:
    """Sort the leaves of a formula by what they say."""
    match op:
        case Negation() | Every() | Some() | Defined() | Exact():
            for item in op.inputs:
                _collect_leaves(item, leaves)
        case _:
            leaves.setdefault(_atom(op)[0], []).append(op)


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

    @property
    def plain(self) -> bool:
        """Whether it is a number even over nobody."""
        return self.op is AggregateOp.COUNT or (
            self.op is AggregateOp.SUM and self.of is not None and self.of.plain
        )

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
