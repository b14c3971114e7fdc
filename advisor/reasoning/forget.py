"""What a verdict rests on: cells are forgotten one at a time, and what cannot be is the reason.

A cell of the survey tables that is forgotten is unknown: its whole physical
range, any word at all, a relation that may or may not be. The compiled
operations run again over columns with such cells left blank; a cell is left
blank if the verdict stands. What remains is enough for the verdict, and none
of it can be spared.

Of an open verdict its cause and the way it leans must stand too. Those are
not monotone in what is known, so that what is kept is tried again until
nothing more can be spared.

All bindings of a rule go through it together, each with its own cells, so
that the number of runs does not grow with the number of bindings. A rule that
counts over very many members is not searched to the end (`MOST_ROWS`): more is
then kept than is needed, never less.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.model.vocabulary import Supplier
from advisor.reasoning.columns import Bools, Floats, Ints, Truths
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import NOT_COVERED, UNDECIDED, Plane, hopeful_of, leaning, plane_of
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell
from advisor.reasoning.record import CellOp, Key, Row, parts_of
from advisor.reasoning.unknowns import blanked, is_blank, taken

MOST_ROWS = 2_000_000
"""Rows of columns that are run for one rule before the search ends."""

MOST_TRIES = 24
"""Numbers of cells tried at once for one binding."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A cell as one binding of a rule reads it."""

    key: Key
    op: CellOp
    row: Row
    order: tuple[int, float, str, tuple[str, ...]]
    """What is forgotten first: routine before what a keeper can change, the far from its limit first."""


def kept_cells(compiled: CompiledRule, frame: Frame, plane: Plane) -> list[tuple[Seen, ...]]:
    """Return the cells that each binding's verdict rests on, the one that says most first.

    Parameters
    ----------
    frame, plane
        The bindings as they were judged, with their columns.
    """
    if not frame.size:
        return [()] * frame.size
    search = _Search(compiled, frame, plane)
    return search.kept()


# --- where cells stand -----------------------------------------------------------


@dataclass(slots=True)
class _Layer:
    """A frame of a run: its leaves, and the frames of the aggregates in it."""

    frame: Frame
    leaves: tuple[Op, ...]
    number: dict[Op, Ints]
    """For each leaf that is a cell: which cell of its binding each row is; the last number is none."""
    inner: dict[Op, tuple[_Layer, Ints]]

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
    ends = np.where(column.low * column.high <= 0, 0.0, np.minimum(abs(column.low), abs(column.high)))
    return np.where(np.isnan(column.best), ends, abs(column.best))


@dataclass(slots=True)
class _Book:
    """The cells of every binding, numbered as they are met."""

    numbers: list[dict[Key, int]]
    seen: list[list[Seen]]

    def number(self, op: CellOp, frame: Frame, owner: Ints, distance: Floats) -> Ints:
        """Return the number each row of a cell has in its binding, -1 where it says nothing anyway."""
        column = frame.value(op)
        nothing = is_blank(op, column)
        rows = [frame.resolve(ref).tolist() for ref in op.refs]
        if isinstance(op, NumberCell) and op.measure.symmetric:
            rows = [
                list(pair) for pair in zip(*(sorted(each) for each in zip(*rows, strict=True)), strict=True)
            ]
        found = np.full(frame.size, -1)
        for at, blank in enumerate(nothing.tolist()):
            if not blank:
                key = (op.name, tuple(column[at] for column in rows))
                found[at] = self._add(int(owner[at]), key, op, Row(frame, at), float(distance[at]))
        return found

    def _add(self, owner: int, key: Key, op: CellOp, row: Row, distance: float) -> int:
        """The number of one cell of one binding; the place nearest to its limit tells how near it is."""
        numbers, seen = self.numbers[owner], self.seen[owner]
        at = numbers.setdefault(key, len(seen))
        if at == len(seen):
            order = (_weight(op), -distance, op.name, tuple(row.label(ref) for ref in op.refs))
            seen.append(Seen(key, op, row, order))
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


# --- forgetting ------------------------------------------------------------------


class _Search:
    """One rule's bindings on the way to what each rests on."""

    def __init__(self, compiled: CompiledRule, frame: Frame, plane: Plane) -> None:
        self.compiled = compiled
        self.plane = plane
        self.causes = np.array(plane.causes())
        roots = [op for op in (compiled.when, compiled.expect, compiled.unless) if op is not None]
        self.roots = roots
        self.book = _Book([{} for _ in range(frame.size)], [[] for _ in range(frame.size)])
        owner = np.arange(frame.size)
        self.sober = self._layer(frame, roots, owner, np.full(frame.size, np.inf))
        self.hopeful: _Layer | None = None
        self.orders = [
            sorted(range(len(seen)), key=lambda at, seen=seen: seen[at].order)  # type: ignore[misc]  # bound now
            for seen in self.book.seen
        ]
        self.width = max((len(seen) for seen in self.book.seen), default=0)
        self.gone = np.zeros((frame.size, self.width + 1), np.bool_)
        self.spent = 0

    def _layer(self, frame: Frame, roots: Sequence[Op], owner: Ints, distance: Floats) -> _Layer:
        """The leaves below some operations, their cells numbered, and the layers of aggregates."""
        near: dict[Op, Floats] = {}
        _walk(roots, distance, near, frame)
        number: dict[Op, Ints] = {
            op: self.book.number(op, frame, owner, far)
            for op, far in near.items()
            if isinstance(op, NumberCell | WordCell | SetCell | RelationCell)
        }
        inner: dict[Op, tuple[_Layer, Ints]] = {}
        for op, far in near.items():
            if isinstance(op, TruthAggregate | NumberAggregate):
                frame.value(op)
                if op not in frame.inner:  # a chain whose links many bindings share
                    continue
                below, segment = frame.inner[op]
                inner[op] = (self._layer(below, parts_of(op), owner[segment], far[segment]), segment)
        leaves = tuple(op for op in near if op not in inner)
        return _Layer(frame, leaves, number, inner)

    def kept(self) -> list[tuple[Seen, ...]]:
        """Return what each binding rests on."""
        needed = self._alone()
        self._all_others(needed)
        self._again()
        return [
            tuple(sorted((each for at, each in enumerate(seen) if not self.gone[row, at]), key=_first))
            for row, seen in enumerate(self.book.seen)
        ]

    def _alone(self) -> Bools:
        """Which cells cannot be spared even alone; those of bindings too many to try are not told."""
        pairs = [(row, at) for row, seen in enumerate(self.book.seen) for at in range(len(seen))]
        needed = np.zeros_like(self.gone)
        members = self.sober.rows // max(len(self.orders), 1) + 1
        if not pairs or self.spent + len(pairs) * members > MOST_ROWS:
            return needed
        rows, cells = (np.array(part, np.int64) for part in zip(*pairs, strict=True))
        forgotten = np.zeros((len(pairs), self.width + 1), np.bool_)
        forgotten[np.arange(len(pairs)), cells] = True
        needed[rows, cells] = ~self._stands(rows, forgotten)
        return needed

    def _all_others(self, needed: Bools) -> None:
        """Forget in order whatever else can be: the longest run that stands, and past the next cell."""
        queues = [[at for at in order if not needed[row, at]] for row, order in enumerate(self.orders)]
        while any(queues) and self.spent < MOST_ROWS:
            tries = [(row, size) for row, queue in enumerate(queues) for size in _sizes(len(queue))]
            rows = np.array([row for row, _ in tries], np.int64)
            tried = self.gone[rows]
            for line, (row, size) in enumerate(tries):
                tried[line, queues[row][:size]] = True
            stands = self._stands(rows, tried).tolist()
            were_tried = set(tries)
            longest = dict.fromkeys(rows.tolist(), 0)
            for line, ((row, size), spared) in enumerate(zip(tries, stands, strict=True)):
                if spared and size > longest[row]:
                    longest[row] = size
                    self.gone[row] = tried[line]
            for row, size in longest.items():
                # the next cell is known to be needed only if it was tried together with those before it
                past = (row, size + 1) in were_tried
                del queues[row][: size + past]

    def _again(self) -> None:
        """Try what is kept once more, for verdicts that can stand again though they did not before."""
        rows = [row for row in range(len(self.orders)) if self._may_return(row)]
        while rows and self.spent < MOST_ROWS:
            pairs = [(row, at) for row in rows for at in self.orders[row] if not self.gone[row, at]]
            if not pairs:
                return
            where, cells = (np.array(part, np.int64) for part in zip(*pairs, strict=True))
            tried = self.gone[where]
            tried[np.arange(len(pairs)), cells] = True
            stands = self._stands(where, tried)
            first: dict[int, int] = {}
            for (row, at), spared in zip(pairs, stands.tolist(), strict=True):
                if spared:
                    first.setdefault(row, at)
            for row, at in first.items():
                self.gone[row, at] = True
            rows = list(first)

    def _may_return(self, row: int) -> bool:
        """Whether knowing less can leave a verdict and knowing still less come back to it."""
        return int(self.plane.verdict[row]) == NOT_COVERED

    def _stands(self, rows: Ints, forgotten: Bools) -> Bools:
        """Whether the verdict of each row stands once it has forgotten some cells."""
        frame = _trial(self.sober, rows, np.arange(len(rows)), forgotten)
        self.spent += len(rows) * (self.sober.rows // max(len(self.orders), 1) + 1)
        bindings = self.plane.bindings.take(rows)
        found = plane_of(self.compiled, frame, bindings)
        same: Bools = found.verdict == self.plane.verdict[rows]
        still_open = same & (found.verdict == UNDECIDED)
        if not still_open.any():
            return same
        if not frame.assume and (still_open & (found.lean == 0)).any():
            hopeful = _trial(self._hopeful(), rows, np.arange(len(rows)), forgotten)
            found = leaning(found, plane_of(self.compiled, hopeful, bindings))
        alike = (found.lean == self.plane.lean[rows]) & (np.array(found.causes()) == self.causes[rows])
        stands: Bools = same & (~still_open | alike)
        return stands

    def _hopeful(self) -> _Layer:
        """The layer of the frame that reckons with what is assumed; its cells are the same."""
        if self.hopeful is None:
            frame = hopeful_of(self.sober.frame)
            for op in self.roots:
                frame.value(op)
            self.hopeful = _beside(self.sober, frame)
        return self.hopeful


def _sizes(cells: int) -> list[int]:
    """How many of some cells to try at once: every number up to all, or some of them spread out."""
    if cells <= MOST_TRIES:
        return list(range(1, cells + 1))
    return sorted({1, *(cells * part // MOST_TRIES for part in range(1, MOST_TRIES + 1))})


def _first(seen: Seen) -> tuple[float, float, str, tuple[str, ...]]:
    """What is told first of what is kept: the last to be forgotten."""
    weight, distance, name, labels = seen.order
    return -weight, -distance, name, labels


def _beside(layer: _Layer, frame: Frame) -> _Layer:
    """The layer of another frame of the same bindings."""
    inner = {
        op: (_beside(below, frame.inner[op][0]), segment) for op, (below, segment) in layer.inner.items()
    }
    return _Layer(frame, layer.leaves, layer.number, inner)


def _trial(layer: _Layer, at: Ints, owner: Ints, forgotten: Bools) -> Frame:
    """Some rows of a layer as a frame of their own, with the cells that each has forgotten left blank.

    `at` are rows of the layer; `owner` tells which line of `forgotten` each belongs to.
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
        frame.inner[op] = (_trial(below, members, owner[part], forgotten), part)
    return frame


def _members(segment: Ints, at: Ints, size: int) -> tuple[Ints, Ints]:
    """The members of some rows, in their order, and which of the rows each belongs to."""
    starts = np.searchsorted(segment, np.arange(size + 1))
    counts = starts[at + 1] - starts[at]
    part = np.repeat(np.arange(len(at)), counts)
    before = np.cumsum(counts) - counts
    return np.repeat(starts[at] - before, counts) + np.arange(len(part)), part
