"""``b is within 2 steps of a over touching``: chains of a relation, three-valued, for all bindings at once.

A chain is sure where every link of some chain is sure, out of the question
where even with every open link there is none, and open otherwise. That is
exact: more links never make a chain shorter.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from advisor.model.vocabulary import Kind
from advisor.reasoning import truths
from advisor.reasoning.columns import ASSUMED, MISSING, STALE, Bools, Ints, Truths
from advisor.reasoning.frame import Frame, Ref
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate, operations_run
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell, truth

MOST_LINKS = 100_000
"""Links up to which every binding has its own; beyond it bindings of one world and month share them."""

Links = npt.NDArray[np.float32]
"""1 where a step leads from one animal to another, shape (groups, animals, animals)."""


@dataclass(frozen=True, slots=True, eq=False)
class StepsAway(TruthAggregate):
    """Whether a chain of at most `steps` links leads from one animal to another.

    As an aggregate its bindings are the ordered pairs of animals of a world;
    `condition` tells whether a step leads from `before` to `binder`.
    """

    start: Ref
    end: Ref
    steps: int
    before: str
    over: str

    def run(self, frame: Frame) -> Truths:
        """Return the truth per binding; it has no margin."""
        if frame.hull:
            no = np.zeros(1, np.bool_)
            return truths.of_bools(no, no, np.full(1, MISSING, np.uint8))
        graph = self._graph(frame)
        open_ = ~(graph.link.yes | graph.link.no)
        yes = self._leads(graph, graph.link.yes)
        may = ~graph.link.no
        no = ~self._leads(graph, may)
        good = self._leads(graph, graph.link.lean > 0)
        bad = ~self._leads(graph, graph.link.lean >= 0)
        flags = np.zeros(frame.size, np.uint8)
        for bit in (MISSING, STALE, ASSUMED):
            marked = open_ & ((graph.link.flags & bit) != 0)
            if marked.any():
                flags |= np.where(self._passes(graph, may, marked), bit, 0).astype(np.uint8)
        lean = np.where(good, 1, np.where(bad, -1, 0)).astype(np.int8)
        return truths.of_bools(yes, no, flags, lean)

    def links(self, frame: Frame, at: int) -> tuple[Frame, list[int]]:
        """Return the frame of the links, and its rows that decide one binding, in order.

        Of a chain that is there the links of a shortest one, of one that is not
        what would have to be a link, of an open one the links that are open.
        """
        from networkx import DiGraph, shortest_path, single_source_shortest_path_length

        column = truth(frame, self)
        graph = self._graph(frame)
        a, b, link = int(graph.start[at]), int(graph.end[at]), graph.link
        own = np.flatnonzero(graph.group == graph.of[at]).tolist()
        pairs = {(int(graph.first[row]), int(graph.second[row])): row for row in own}
        if column.yes[at]:
            path = shortest_path(DiGraph(pair for pair, row in pairs.items() if link.yes[row]), a, b)
            return graph.rows(pairs[pair] for pair in pairwise(path))
        possible = [pair for pair, row in pairs.items() if not link.no[row]]
        forward, backward = DiGraph(possible), DiGraph(pair[::-1] for pair in possible)
        forward.add_node(a)
        backward.add_node(b)
        from_a = single_source_shortest_path_length(forward, a)
        if column.no[at]:
            # who is further off than one step more than its neighbour has no link from it
            far = {node: min(from_a.get(node, self.steps), self.steps) for pair in pairs for node in pair}
            far[b] = self.steps + 1
            return graph.rows(row for (u, v), row in pairs.items() if far[v] > far[u] + 1)
        to_b = single_source_shortest_path_length(backward, b)
        return graph.rows(
            row
            for (u, v), row in pairs.items()
            if not (link.yes[row] or link.no[row])
            and from_a.get(u, self.steps) + 1 + to_b.get(v, self.steps) <= self.steps
        )

    def fenced(self, frame: Frame, at: int) -> tuple[Frame, list[int]]:
        """Return the frame of the links, and rows of it beside which no other link makes a difference.

        Of a chain that is there or is not, those that decide it. Of an open one
        its open links, those that are none but would bring somebody nearer to
        either end, and those that would make another chain that is short enough.
        """
        from networkx import DiGraph, single_source_shortest_path_length

        column = truth(frame, self)
        if column.yes[at] or column.no[at]:
            return self.links(frame, at)
        graph = self._graph(frame)
        a, b, link = int(graph.start[at]), int(graph.end[at]), graph.link
        own = np.flatnonzero(graph.group == graph.of[at]).tolist()
        pairs = {row: (int(graph.first[row]), int(graph.second[row])) for row in own}
        possible = [pair for row, pair in pairs.items() if not link.no[row]]
        beyond = self.steps + 1
        forward, backward = DiGraph(possible), DiGraph(pair[::-1] for pair in possible)
        forward.add_node(a)
        backward.add_node(b)
        from_a = single_source_shortest_path_length(forward, a)
        to_b = single_source_shortest_path_length(backward, b)
        told = []
        for row, (u, v) in pairs.items():
            ahead, after = from_a.get(u, beyond), from_a.get(v, beyond)
            left, less = to_b.get(u, beyond), to_b.get(v, beyond)
            none = bool(link.no[row])
            if ahead + 1 + less <= self.steps or (none and (after > ahead + 1 or left > less + 1)):
                told.append(row)
        return graph.rows(told)

    # --- the links of each binding's world ------------------------------------------

    def _graph(self, frame: Frame) -> _Graph:
        """Which links there are, of every binding or of every world and month."""
        found = frame.inner.get(self)
        of = np.arange(frame.size)
        if found is None:
            counts = frame.population.starts[frame.worlds + 1] - frame.population.starts[frame.worlds]
            if int((counts * (counts - 1)).sum()) > MOST_LINKS:
                return self._shared(frame)
            found = frame.inner[self] = self._pairs(frame, of)
        inner, group = found
        return self._put_together(frame, inner, inner, np.arange(inner.size), group, of)

    def _shared(self, frame: Frame) -> _Graph:
        """The links of every world and month, each pair asked once where worlds make no difference."""
        keys = np.stack([frame.worlds.astype(np.float64), frame.months])
        first, of = np.unique(keys, axis=1, return_index=True, return_inverse=True)[1:]
        pairs, group = self._pairs(frame, first)
        asked, each = pairs, np.arange(pairs.size)
        if _same_in_every_world(self.condition):
            names = (self.before, self.binder.name)
            columns = np.stack([*(pairs.rows[name].astype(np.float64) for name in names), pairs.months])
            alike, each = np.unique(columns, axis=1, return_index=True, return_inverse=True)[1:]
            rows = {name: pairs.rows[name][alike] for name in names}
            asked = Frame(
                pairs.tables, pairs.population, pairs.worlds[alike], rows, pairs.months[alike], pairs.assume
            )
        graph = self._put_together(frame, pairs, asked, each.reshape(-1), group, of.reshape(-1))
        frame.operations += operations_run(asked)
        return graph

    def _put_together(
        self, frame: Frame, pairs: Frame, asked: Frame, each: Ints, group: Ints, of: Ints
    ) -> _Graph:
        """The links of some pairs, and where each binding starts and ends."""
        index = _Index(frame)
        return _Graph(
            asked,
            each,
            group,
            index.of(pairs.worlds, pairs.rows[self.before]),
            index.of(pairs.worlds, pairs.rows[self.binder.name]),
            truths.take(truth(asked, self.condition), each),
            of,
            index.of(frame.worlds, frame.resolve(self.start)),
            index.of(frame.worlds, frame.resolve(self.end)),
            index.most,
        )

    def _pairs(self, frame: Frame, rows: Ints) -> tuple[Frame, Ints]:
        """The frame of all ordered pairs of animals of the worlds of some bindings."""
        population = frame.population
        worlds, months = frame.worlds[rows], frame.months[rows]
        counts = population.starts[worlds + 1] - population.starts[worlds]
        sizes = counts * counts
        group = np.repeat(np.arange(len(rows)), sizes)
        within = np.arange(len(group)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
        many = np.maximum(counts[group], 1)
        first, second = within // many, within % many
        apart = first != second
        group, first, second = group[apart], first[apart], second[apart]
        begin = population.starts[worlds[group]]
        bound = {
            self.before: population.rows[begin + first],
            self.binder.name: population.rows[begin + second],
        }
        inner = Frame(frame.tables, population, worlds[group], bound, months[group], frame.assume)
        frame.operations += 1
        return inner, group.astype(np.int64)

    # --- chains --------------------------------------------------------------------

    def _leads(self, graph: _Graph, link: Bools) -> Bools:
        """Whether a chain of some links leads from start to end of each binding."""
        matrix, reached = graph.matrix(link), graph.origin()
        found = np.zeros(len(graph.of), np.bool_)
        for _ in range(self.steps):
            reached = _on(reached, matrix)
            found |= graph.at_end(reached)
        apart: Bools = graph.start != graph.end
        return found & apart

    def _passes(self, graph: _Graph, may: Bools, marked: Bools) -> Bools:
        """Whether some chain of possible links passes a marked one."""
        possible, special, before = graph.matrix(may), graph.matrix(marked), graph.origin()
        passed = np.zeros_like(before)
        found = np.zeros(len(graph.of), np.bool_)
        for _ in range(self.steps):
            passed = np.maximum(_on(passed, possible), _on(before, special))
            before = _on(before, possible)
            found |= graph.at_end(passed)
        return found


@dataclass(frozen=True, slots=True)
class _Graph:
    """The links of every group, and where each binding starts and ends in its own."""

    asked: Frame
    """The frame in which links were asked for."""
    each: Ints
    """Its row for each pair."""
    group: Ints
    first: Ints
    second: Ints
    link: Truths
    of: Ints
    """Group of each binding."""
    start: Ints
    end: Ints
    most: int
    """Animals of the largest world."""

    def rows(self, pairs: Iterable[int]) -> tuple[Frame, list[int]]:
        """Return the frame of links with its rows of some pairs."""
        return self.asked, [int(self.each[pair]) for pair in pairs]

    @property
    def alone(self) -> bool:
        """Whether every binding has links of its own."""
        return bool((self.of == np.arange(len(self.of))).all())

    def matrix(self, link: Bools) -> Links:
        """Return some links as a table of who leads to whom."""
        out = np.zeros((self._groups, self.most, self.most), np.float32)
        out[self.group[link], self.first[link], self.second[link]] = 1.0
        return out

    def origin(self) -> Links:
        """Return where chains start: the binding's own start, or everywhere where links are shared."""
        if not self.alone:
            return np.broadcast_to(np.eye(self.most, dtype=np.float32), (self._groups, self.most, self.most))
        out = np.zeros((self._groups, 1, self.most), np.float32)
        out[np.arange(len(self.of)), 0, self.start] = 1.0
        return out

    def at_end(self, reached: Links) -> Bools:
        """Return whether each binding's end is among those reached from its start."""
        found: Bools = reached[self.of, 0 if self.alone else self.start, self.end] > 0
        return found

    @property
    def _groups(self) -> int:
        """Number of groups."""
        return int(self.of.max()) + 1 if len(self.of) else 0


class _Index:
    """Where each animal row stands in the list of its world."""

    def __init__(self, frame: Frame) -> None:
        population = frame.population
        counts = np.diff(population.starts)
        self.most = int(counts.max()) if len(counts) else 0
        self._width = len(population.coral) + 1
        self._keys = np.repeat(np.arange(len(counts)), counts) * self._width + population.rows
        self._starts = population.starts

    def of(self, worlds: Ints, rows: Ints) -> Ints:
        """Return the place of each row among those of its world."""
        found: Ints = np.searchsorted(self._keys, worlds * self._width + rows) - self._starts[worlds]
        return found


def _on(reached: Links, matrix: Links) -> Links:
    """Who is one step further on."""
    found: Links = (reached @ matrix > 0).astype(np.float32)
    return found


def _same_in_every_world(op: Op) -> bool:
    """Whether a link is the same in every world: it asks nothing of the tank or of others."""
    if isinstance(op, TruthAggregate | NumberAggregate):
        return False
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        return all(ref.target is not Kind.TANK for ref in op.refs)
    return all(_same_in_every_world(child) for child in op.inputs)
