"""What a verdict rests on: cells are forgotten one at a time, and what cannot be is the reason.

A cell of the survey tables that is forgotten is unknown: its whole physical
range, any word at all, a relation that may or may not be. The compiled
operations run again over columns with such cells left blank; a cell is left
blank if the verdict stands. What remains is enough for the verdict, and none
of it can be spared.

Of an open verdict its cause and the way it leans must stand too; what it rests
on is then what makes it lean so, and what makes it too close or too old rather
than not known. A verdict that is *not covered* can be left and come back to
when still less is known; there, what is kept is tried again until nothing more
can be spared.

All bindings of a rule go through it together, each with its own cells, so
that the number of runs does not grow with the number of bindings. Where a chain
reads very many links, all that cannot make a difference go first, in one run. A
rule that counts over very many members is not searched to the end (`MOST_ROWS`): more is
then kept than is needed, never less.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.reasoning.columns import MISSING, STALE, Bools, Flags, Ints
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import NOT_COVERED, UNDECIDED, Plane, hopeful_of, leaning, plane_of
from advisor.reasoning.leaves import Book, Seen, beside, keys_in_reach, trial
from advisor.reasoning.ops import Op
from advisor.reasoning.record import Row, ops_below
from advisor.reasoning.step_ops import StepsAway

MOST_ROWS = 300_000
"""Rows of columns that are run for one rule before the search ends."""

MANY = 48
"""Cells of one binding from which on it is tried first whether they can be spared all together."""

MOST_TRIES = 24
"""Numbers of cells tried at once for one binding."""


def kept_cells(compiled: CompiledRule, frame: Frame, plane: Plane) -> list[tuple[Seen, ...]]:
    """Return the cells that each binding's verdict rests on, the one that says most first.

    Parameters
    ----------
    frame, plane
        The bindings as they were judged, with their columns.
    """
    if not frame.size:
        return []
    return _Search(compiled, frame, plane).kept()


class _Search:
    """One rule's bindings on the way to what each rests on."""

    def __init__(self, compiled: CompiledRule, frame: Frame, plane: Plane) -> None:
        self.compiled = compiled
        self.plane = plane
        self.causes = _causes(plane)
        self.roots = roots = [
            op for op in (compiled.when, compiled.expect, compiled.unless) if op is not None
        ]
        hopeful = self._hopeful(frame, roots)
        self.seen: list[list[Seen]] = [[] for _ in range(frame.size)]
        self.sober = Book(self.seen).layer(frame, roots, hopeful)
        self.hopeful = None if hopeful is None else beside(self.sober, hopeful)
        self.orders = [_in_order(seen) for seen in self.seen]
        self.width = max((len(seen) for seen in self.seen), default=0)
        self.gone = np.zeros((frame.size, self.width + 1), np.bool_)
        self.spent = 0

    def kept(self) -> list[tuple[Seen, ...]]:
        """Return what each binding rests on."""
        self._all_at_once()
        self._all_but_links()
        needed = self._alone()
        self._all_others(needed)
        self._again()
        return [
            tuple(sorted((each for at, each in enumerate(seen) if not self.gone[row, at]), key=_first))
            for row, seen in enumerate(self.seen)
        ]

    def _all_at_once(self) -> None:
        """Forget everything where a binding reads very much and its verdict rests on none of it."""
        rows = np.array([row for row, seen in enumerate(self.seen) if len(seen) > MANY], np.int64)
        if len(rows):
            tried = np.zeros((len(rows), self.width + 1), np.bool_)
            tried[:, : self.width] = True
            self.gone[rows] = tried & self._stands(rows, tried)[:, None]

    def _all_but_links(self) -> None:
        """Where a chain reads very much, forget in one go all links but those that decide it."""
        if not any(isinstance(op, StepsAway) for root in self.roots for op in ops_below(root)):
            return
        many = [row for row, seen in enumerate(self.seen) if len(seen) > MANY and not self.gone[row].any()]
        rows = np.array(many, np.int64)
        tried = np.zeros((len(rows), self.width + 1), np.bool_)
        for line, row in enumerate(many):
            here = Row(self.sober.frame, row)
            telling = {key for root in self.roots for key in keys_in_reach(root, here)}
            for at, each in enumerate(self.seen[row]):
                tried[line, at] = each.key not in telling
        if len(rows):
            self.gone[rows] = tried & self._stands(rows, tried)[:, None]

    def _alone(self) -> Bools:
        """Which cells cannot be spared even alone; where there are too many to try, none is told."""
        pairs = [(row, at) for row, order in enumerate(self.orders) for at in order if not self.gone[row, at]]
        needed = np.zeros_like(self.gone)
        if not pairs or self.spent + len(pairs) * self._rows_each > MOST_ROWS:
            return needed
        rows, cells = (np.array(part, np.int64) for part in zip(*pairs, strict=True))
        forgotten = np.zeros((len(pairs), self.width + 1), np.bool_)
        forgotten[np.arange(len(pairs)), cells] = True
        needed[rows, cells] = ~self._stands(rows, forgotten)
        return needed

    def _all_others(self, needed: Bools) -> None:
        """Forget in order whatever else can be: the longest run that stands, and past the next cell."""
        queues = [
            [at for at in order if not (needed[row, at] or self.gone[row, at])]
            for row, order in enumerate(self.orders)
        ]
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

    @property
    def _rows_each(self) -> int:
        """Rows that are run for one binding, those of aggregates included."""
        return self.sober.rows // max(len(self.orders), 1) + 1

    def _may_return(self, row: int) -> bool:
        """Whether knowing less can leave a verdict and knowing still less come back to it."""
        return int(self.plane.verdict[row]) == NOT_COVERED

    def _stands(self, rows: Ints, forgotten: Bools) -> Bools:
        """Whether the verdict of each row stands once it has forgotten some cells."""
        frame = trial(self.sober, rows, np.arange(len(rows)), forgotten)
        self.spent += len(rows) * self._rows_each
        bindings = self.plane.bindings.take(rows)
        found = plane_of(self.compiled, frame, bindings)
        same: Bools = found.verdict == self.plane.verdict[rows]
        still_open = same & (found.verdict == UNDECIDED)
        if not still_open.any():
            return same
        if self.hopeful is not None and (still_open & (found.lean == 0)).any():
            hopeful = trial(self.hopeful, rows, np.arange(len(rows)), forgotten)
            found = leaning(found, plane_of(self.compiled, hopeful, bindings))
        alike = (found.lean == self.plane.lean[rows]) & (_causes(found) == self.causes[rows])
        stands: Bools = same & (~still_open | alike)
        return stands

    def _hopeful(self, frame: Frame, roots: Sequence[Op]) -> Frame | None:
        """The frame that reckons with what is assumed, where a danger's lean may rest on it."""
        if frame.assume or not (self.plane.verdict == UNDECIDED).any():
            return None
        found = hopeful_of(frame)
        for op in roots:
            found.value(op)
        return found


def _causes(plane: Plane) -> Flags:
    """Why each binding would be open, as a number: as `Plane.causes` tells it in words."""
    missing = (plane.flags & ~np.uint8(STALE)) != 0
    return np.where(missing, MISSING, plane.flags & STALE).astype(np.uint8)


def _in_order(seen: Sequence[Seen]) -> list[int]:
    """The numbers of some cells, the first to be forgotten first."""
    return sorted(range(len(seen)), key=lambda at: seen[at].order)


def _sizes(cells: int) -> list[int]:
    """How many of some cells to try at once: every number up to all, or some of them spread out."""
    if cells <= MOST_TRIES:
        return list(range(1, cells + 1))
    return sorted({1, *(cells * part // MOST_TRIES for part in range(1, MOST_TRIES + 1))})


def _first(seen: Seen) -> tuple[float, float, str, tuple[str, ...]]:
    """What is told first of what is kept: the last to be forgotten."""
    weight, distance, name, labels = seen.order
    return -weight, -distance, name, labels
