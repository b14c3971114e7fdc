"""The cells that a rule reads at each binding, and its columns with some of them left blank.

A layer is a frame of a run with its leaves: the operations that read the
tables. The frames of aggregates are layers within it. From a layer any rows
can be taken as a frame of their own, each with its own cells forgotten; the
compiled operations then run over it as over any other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from advisor.model.vocabulary import Supplier
from advisor.reasoning.columns import Bools, Floats, Ints, Truths
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.frame import Frame
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell
from advisor.reasoning.record import CellOp, Key, Row, key_of, members_of, parts_of
from advisor.reasoning.step_ops import StepsAway
from advisor.reasoning.unknowns import blanked, is_blank, taken


@dataclass(frozen=True, slots=True)
class Seen:
    """A cell as one binding of a rule reads it."""

    key: Key
    op: CellOp
    row: Row
    order: tuple[int, float, str, tuple[str, ...]]
    """What is forgotten first: routine before what a keeper can change, the far from its limit first."""


@dataclass(slots=True)
class Layer:
    """A frame of a run: its leaves, and the frames of the aggregates in it."""

    frame: Frame
    leaves: tuple[Op, ...]
    number: dict[Op, Ints]
    """For each leaf that is a cell: which cell of its binding each row is; the last number is none."""
    inner: dict[Op, tuple[Layer, Ints]]

    @property
    def rows(self) -> int:
        """Rows of this frame and of all in it."""
        return self.frame.size + sum(layer.rows for layer, _ in self.inner.values())


def _walk(roots: Sequence[Op], distance: Floats, near: dict[Op, Floats], frame: Frame) -> None:
    """Find the leaves and aggregates below some operations, and how far each is from its limit. [steps]"""
    for op in roots:
        inputs = op.inputs
        if not inputs:
            before = near.get(op)
            near[op] = distance if before is None else np.minimum(before, distance)
            continue
        here = _distance(frame, op) if isinstance(op, Compare | Within) else distance
        _walk(inputs, here, near, frame)


def _distance(frame: Frame, op: Op) -> Floats:
    """How far a comparison is from its limit; an open one that may be either is at it. [steps]"""
    column = frame.value(op)
    assert isinstance(column, Truths)  # a comparison is a truth
    either = (column.low <= 0) & (column.high >= 0)
    ends = np.where(either, 0.0, np.minimum(abs(column.low), abs(column.high)))
    return np.where(np.isnan(column.best), ends, abs(column.best))


@dataclass(slots=True)
class Book:
    """The cells of every binding, numbered as they are met."""

    seen: list[list[Seen]]
    numbers: list[dict[Key, int]] = field(default_factory=list)

    def layer(self, frame: Frame, roots: Sequence[Op], hopeful: Frame | None = None) -> Layer:
        """Return the leaves below some operations of a frame, one row for each binding, cells numbered.

        Parameters
        ----------
        hopeful
            A frame of the same bindings that reckons with what is assumed, where that counts too.
        """
        self.numbers = [{} for _ in self.seen]
        return self._layer(frame, hopeful, roots, np.arange(frame.size), np.full(frame.size, np.inf))

    def _layer(
        self, frame: Frame, hopeful: Frame | None, roots: Sequence[Op], owner: Ints, distance: Floats
    ) -> Layer:
        """The layer of a frame, each row of which belongs to a binding and is so far from a limit."""
        near: dict[Op, Floats] = {}
        _walk(roots, distance, near, frame)
        number: dict[Op, Ints] = {
            op: self._number(op, frame, hopeful, owner, far)
            for op, far in near.items()
            if isinstance(op, NumberCell | WordCell | SetCell | RelationCell)
        }
        inner: dict[Op, tuple[Layer, Ints]] = {}
        for op, far in near.items():
            if isinstance(op, TruthAggregate | NumberAggregate):
                frame.value(op)
                if op not in frame.inner:  # a chain whose links many bindings share
                    continue
                below, segment = frame.inner[op]
                beside = _inner(hopeful, op)
                inner[op] = (self._layer(below, beside, parts_of(op), owner[segment], far[segment]), segment)
        leaves = tuple(op for op in near if op not in inner)
        return Layer(frame, leaves, number, inner)

    def _number(self, op: CellOp, frame: Frame, hopeful: Frame | None, owner: Ints, distance: Floats) -> Ints:
        """The number each row of a cell has in its binding, -1 where it says nothing anyway."""
        sober = is_blank(op, frame.value(op))
        nothing = sober if hopeful is None else sober & is_blank(op, hopeful.value(op))
        told_of = rows = [frame.resolve(ref).tolist() for ref in op.refs]
        if isinstance(op, NumberCell) and op.measure.symmetric:
            pairs = [sorted(pair) for pair in zip(*rows, strict=True)]
            rows = [[pair[0] for pair in pairs], [pair[1] for pair in pairs]]
        found = np.full(frame.size, -1)
        for at in np.flatnonzero(~nothing).tolist():
            key = (op.name, tuple(column[at] for column in rows))
            told = frame if hopeful is None or not sober[at] else hopeful
            things = tuple(column[at] for column in told_of)
            found[at] = self._add(int(owner[at]), key, op, Row(told, at), float(distance[at]), things)
        return found

    def _add(
        self, owner: int, key: Key, op: CellOp, row: Row, distance: float, things: tuple[int, ...]
    ) -> int:
        """The number of one cell of one binding; the place nearest to its limit tells how near it is."""
        numbers, seen = self.numbers[owner], self.seen[owner]
        at = numbers.setdefault(key, len(seen))
        if at == len(seen):
            label = row.frame.tables.label
            labels = tuple(label(ref.target, thing) for ref, thing in zip(op.refs, things, strict=True))
            seen.append(Seen(key, op, row, (_weight(op), -distance, op.name, labels)))
        elif -distance > seen[at].order[1]:
            before = seen[at]
            order = (before.order[0], -distance, *before.order[2:])
            seen[at] = Seen(key, before.op, before.row, order)
        return at


def _weight(op: CellOp) -> int:
    """How much a kind of cell says to a keeper: what nobody told least, what stands in the tank most."""
    if isinstance(op, RelationCell):
        return 0 if op.relation.given else 3
    if Supplier.CARD in op.measure.suppliers:
        return 2 if isinstance(op, NumberCell) else 1
    return 3


def _inner(frame: Frame | None, op: TruthAggregate | NumberAggregate) -> Frame | None:
    """The frame of an aggregate within another frame."""
    if frame is None:
        return None
    frame.value(op)
    return frame.inner[op][0]


def beside(layer: Layer, frame: Frame) -> Layer:
    """Return the layer of another frame of the same bindings."""
    inner = {op: (beside(below, frame.inner[op][0]), segment) for op, (below, segment) in layer.inner.items()}
    return Layer(frame, layer.leaves, layer.number, inner)


def trial(layer: Layer, at: Ints, owner: Ints, forgotten: Bools) -> Frame:
    """Return some rows of a layer as a frame of their own, with the cells each has forgotten left blank.

    Parameters
    ----------
    at
        Rows of the layer, in any order and number.
    owner
        Which line of `forgotten` each of them goes by.
    forgotten
        By line and number of a cell; the last column stands for none and is false.
    """
    base = layer.frame
    frame = Frame(
        base.tables,
        base.population,
        base.worlds[at],
        {name: rows[at] for name, rows in base.rows.items()},
        base.months[at],
        base.assume,
    )
    for op in layer.leaves:
        column = taken(base.value(op), at)
        number = layer.number.get(op)
        if number is not None:
            gone = forgotten[owner, number[at]]
            column = blanked(op, column, gone) if gone.any() else column
        frame.columns[op] = column
    for op, (below, segment) in layer.inner.items():
        members, part = _members(segment, at, base.size)
        frame.inner[op] = (trial(below, members, owner[part], forgotten), part)
    return frame


def _members(segment: Ints, at: Ints, size: int) -> tuple[Ints, Ints]:
    """The members of some rows, in their order, and which of the rows each belongs to."""
    starts = np.searchsorted(segment, np.arange(size + 1))
    counts = starts[at + 1] - starts[at]
    part = np.repeat(np.arange(len(at)), counts)
    before = np.cumsum(counts) - counts
    return np.repeat(starts[at] - before, counts) + np.arange(len(part)), part


def keys_in_reach(op: Op, row: Row) -> Iterator[Key]:
    """Yield the cells an operation reads at one row, of chains only those of links that make a difference."""
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        yield key_of(op, row)
    for child in op.inputs:
        yield from keys_in_reach(child, row)
    if isinstance(op, TruthAggregate | NumberAggregate):
        for member in _in_reach(op, row):
            for part in parts_of(op):
                yield from keys_in_reach(part, member)


def _in_reach(op: TruthAggregate | NumberAggregate, row: Row) -> list[Row]:
    """The bindings of an aggregate beside which no other makes a difference at one row."""
    if not isinstance(op, StepsAway):
        return members_of(op, row)
    inner, found = op.fenced(row.frame, row.at)
    return [Row(inner, at) for at in found]
