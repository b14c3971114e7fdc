"""Relations of two animals: stated, closed by a stated none, or worked out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.model.tank import ANYTHING, Statement
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import MISSING, Bools, Floats, Ints, Truths
from advisor.reasoning.survey_bodies import Positions, day_number
from advisor.reasoning.survey_facts import Facts, said_on
from advisor.reasoning.survey_pairs import Entry, Hits, Names, Stated, Tokens, merge
from advisor.reasoning.survey_stated import WorldTable
from advisor.reasoning.survey_worked import Computed


@dataclass(frozen=True, slots=True)
class Way:
    """How one relation is read: ``up-flow(a, b)`` is ``down-flow(b, a)``."""

    name: str
    turned: bool = False


SAME: dict[str, tuple[Way, ...]] = {
    "down-flow": (Way("down-flow"), Way("up-flow", True)),
    "up-flow": (Way("up-flow"), Way("down-flow", True)),
    "above": (Way("above"), Way("shaded-by", True)),
    "shaded-by": (Way("shaded-by"), Way("above", True)),
}
"""Relations that say the same thing from either end."""

ONE_WAY = frozenset(SAME)
"""Relations that cannot hold both ways round."""


def truths_of(yes: Bools, no: Bools) -> Truths:
    """Return a column of truths that have no margin."""
    size = len(yes)
    nan = np.full(size, np.nan)
    lean = yes.astype(np.int8) - no.astype(np.int8)
    flags = np.where(yes | no, 0, MISSING).astype(np.uint8)
    return Truths(yes, no, lean, nan, nan, nan, flags)


@dataclass(frozen=True, slots=True)
class Nones:
    """Who a keeper says nothing stands in a relation to, by token."""

    first: dict[str, Statement]
    """``relation(x, *)`` is none."""
    second: dict[str, Statement]
    """``relation(*, x)`` is none."""


def nones_of(facts: Facts, ways: Sequence[Way]) -> Nones:
    """Return the stated nones of a relation, whichever way round they were told."""
    nones = Nones({}, {})
    for way in ways:
        for (one, other), said in facts.pairs.get(way.name, {}).items():
            if ANYTHING not in (one, other) or not said or not said[0].none:
                continue
            open_first = (one == ANYTHING) != way.turned
            (nones.second if open_first else nones.first)[other if one == ANYTHING else one] = said[0]
    return nones


def entries_of_relation(facts: Facts, ways: Sequence[Way], symmetric: bool) -> list[Entry]:
    """Return stated pairs of a relation, read one way round."""
    table: dict[tuple[str, str], tuple[Statement, ...]] = {}
    for way in ways:
        for pair, said in facts.pairs.get(way.name, {}).items():
            if ANYTHING in pair or not said:
                continue
            key = (pair[1], pair[0]) if way.turned else pair
            key = (min(key), max(key)) if symmetric else key
            table[key] = merge(table.get(key, ()), said)
    return [Entry(pair, table[pair]) for pair in sorted(table)]


def truth_of(said: Sequence[Statement]) -> bool | None:
    """Return what the newest statements of a relation say, None where they disagree."""
    newest = [each for each in said if said_on(each) == said_on(said[0])]
    told = {not each.none if each.truth is None else each.truth for each in newest}
    return told.pop() if len(told) == 1 else None


@dataclass(frozen=True, slots=True)
class Grounds:
    """What decided each pair: 0 nothing, 1 a change, 2 stated, 3 stated the other way, 4 none, 5 computed."""

    by: Ints
    at: Ints
    """Entry of the change or statement, -1 where none."""


OPEN, CHANGE, STATED, TURNED, NONE, WORKED_OUT = range(6)


class PairRelation:
    """One relation of two things, for any number of pairs at once."""

    def __init__(
        self,
        names: Names,
        stated: Stated,
        nones: Nones,
        worlds: WorldTable,
        world_values: Sequence[bool | None],
        positions: Positions,
        computed: Computed | None,
        one_way: bool,
        kinds: tuple[Kind, ...] = (Kind.ANIMAL, Kind.ANIMAL),
    ) -> None:
        self.stated = stated
        self._names = names
        self.nones = nones
        self._worlds = worlds
        self._world_values = np.array([_sign(value) for value in world_values] or [0], np.int8)
        self._values = np.array([_sign(truth_of(entry.said)) for entry in stated.entries] or [0], np.int8)
        self._positions = positions
        self._computed = computed
        self._one_way = one_way
        self._kinds = kinds
        self._none_first = _days_of_none(names, nones.first)
        self._none_second = _days_of_none(names, nones.second)

    def truths(self, first: Ints, second: Ints, months: Floats | None) -> Truths:
        """Return whether it holds for each pair of animal rows."""
        value, _ = self.decide(first, second, months)
        return truths_of(value > 0, value < 0)

    def decide(self, first: Ints, second: Ints, months: Floats | None) -> tuple[Ints, Grounds]:
        """Return 1, -1 or 0 for each pair, and what decided it."""
        one, other = self._tokens(first, self._kinds[0]), self._tokens(second, self._kinds[1])
        hits = self.stated.find(one, other)
        steps = [(CHANGE, self._in_worlds(first, second)), (STATED, self._stated(hits))]
        if self._one_way:
            back = self.stated.find(other, one)
            steps.append((TURNED, (np.where(self._stated(back)[0] > 0, -1, 0), back.at)))
        steps.append((NONE, (self._closed(one, other, first, second), np.full(len(first), -1))))
        steps.append((WORKED_OUT, (self._worked_out(first, second, months), np.full(len(first), -1))))
        value, by, at = (np.zeros(len(first), np.int64) for _ in range(3))
        at = at - 1
        for kind, (found, entry) in steps:
            new = (by == OPEN) & ((found != 0) | ((entry >= 0) & (kind in (CHANGE, STATED))))
            value, by, at = (
                np.where(new, fill, old) for fill, old in ((found, value), (kind, by), (entry, at))
            )
        return value.astype(np.int64), Grounds(by.astype(np.int64), at.astype(np.int64))

    def _tokens(self, rows: Ints, kind: Kind) -> Tokens:
        """Subjects the rows answer to."""
        tokens = self._names.of(kind)
        return Tokens(tokens.own[rows], tokens.place[rows])

    def _stood(self, rows: Ints, kind: Kind) -> tuple[Bools, Ints]:
        """Whether each row stands where it was found, and the day it was last moved; only animals move."""
        if kind.lives:
            return self._positions.here[rows], self._positions.moved_day[rows]
        return np.ones(len(rows), np.bool_), np.zeros(len(rows), np.int64)

    def _in_worlds(self, first: Ints, second: Ints) -> tuple[Ints, Ints]:
        """What a change states."""
        at = self._worlds.find(first, second)
        return np.where(at >= 0, self._world_values[at], 0).astype(np.int64), at

    def _stated(self, hits: Hits) -> tuple[Ints, Ints]:
        """What is stated of the pair itself."""
        return np.where(hits.at >= 0, self._values[hits.at], 0).astype(np.int64), hits.at

    def _closed(self, one: Tokens, other: Tokens, first: Ints, second: Ints) -> Ints:
        """No where a keeper says there is none; it was said of what stood there then."""
        first_here, first_moved = self._stood(first, self._kinds[0])
        second_here, second_moved = self._stood(second, self._kinds[1])
        from_first = np.maximum(self._none_first[one.own], self._none_first[one.place])
        to_second = np.maximum(self._none_second[other.own], self._none_second[other.place])
        no = (from_first >= second_moved) & second_here | (to_second >= first_moved) & first_here
        return np.where(no, -1, 0).astype(np.int64)

    def _worked_out(self, first: Ints, second: Ints, months: Floats | None) -> Ints:
        """What positions and the like tell."""
        if self._computed is None:
            return np.zeros(len(first), np.int64)
        yes, no = self._computed(first, second, months)
        return yes.astype(np.int64) - no.astype(np.int64)


def _sign(value: bool | None) -> int:
    """1, -1, or 0 where not known."""
    return 0 if value is None else (1 if value else -1)


def _days_of_none(names: Names, table: dict[str, Statement]) -> Ints:
    """Day number of each token's stated none, 0 if undated, -1 where none; the last entry is no token's."""
    days = np.full(len(names.number) + 1, -1, np.int64)
    for name, said in table.items():
        days[names.number[name]] = day_number(said_on(said))
    return days
