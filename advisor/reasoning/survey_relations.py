"""Relations of two animals: stated, closed by a stated none, or worked out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from advisor.fields.canopy import stands_over
from advisor.fields.growth import spread_cm
from advisor.fields.stream import down_stream
from advisor.model.tank import ANYTHING, Rock, Statement
from advisor.reasoning.columns import MISSING, Bools, Floats, Ints, Numbers, Truths
from advisor.reasoning.survey_bodies import Positions, day_number
from advisor.reasoning.survey_facts import Facts, said_on
from advisor.reasoning.survey_pairs import Entry, Hits, Names, Stated, Tokens, merge
from advisor.reasoning.survey_stated import WorldTable

Computed: TypeAlias = Callable[[Ints, Ints, Floats | None], tuple[Bools, Bools]]
"""Surely yes and surely no for pairs of animal rows at a month."""


@dataclass(frozen=True, slots=True)
class Way:
    """How one relation is read: ``up-flow(a, b)`` is ``down-flow(b, a)``."""

    name: str
    turned: bool = False


SAME: dict[str, tuple[Way, ...]] = {
    "down-flow": (Way("down-flow"), Way("up-flow", True)),
    "up-flow": (Way("up-flow"), Way("down-flow", True)),
}
"""Relations that say the same thing from either end."""

ONE_WAY = frozenset({"down-flow", "up-flow", "above"})
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
        self._none_first = _days_of_none(names, nones.first)
        self._none_second = _days_of_none(names, nones.second)

    def truths(self, first: Ints, second: Ints, months: Floats | None) -> Truths:
        """Return whether it holds for each pair of animal rows."""
        value, _ = self.decide(first, second, months)
        return truths_of(value > 0, value < 0)

    def decide(self, first: Ints, second: Ints, months: Floats | None) -> tuple[Ints, Grounds]:
        """Return 1, -1 or 0 for each pair, and what decided it."""
        one, other = self._tokens(first), self._tokens(second)
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

    def _tokens(self, rows: Ints) -> Tokens:
        """Subjects the rows answer to."""
        return Tokens(self._names.animals.own[rows], self._names.animals.place[rows])

    def _in_worlds(self, first: Ints, second: Ints) -> tuple[Ints, Ints]:
        """What a change states."""
        at = self._worlds.find(first, second)
        return np.where(at >= 0, self._world_values[at], 0).astype(np.int64), at

    def _stated(self, hits: Hits) -> tuple[Ints, Ints]:
        """What is stated of the pair itself."""
        return np.where(hits.at >= 0, self._values[hits.at], 0).astype(np.int64), hits.at

    def _closed(self, one: Tokens, other: Tokens, first: Ints, second: Ints) -> Ints:
        """No where a keeper says there is none; it was said of what stood there then."""
        here, moved = self._positions.here, self._positions.moved_day
        from_first = np.maximum(self._none_first[one.own], self._none_first[one.place])
        to_second = np.maximum(self._none_second[other.own], self._none_second[other.place])
        no = (from_first >= moved[second]) & here[second] | (to_second >= moved[first]) & here[first]
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


# --- worked out ------------------------------------------------------------


def by_stream(positions: Positions, direction_deg: float | None) -> Computed:
    """Return whether the first lies down-stream of the second, from positions and the main stream."""

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        if direction_deg is None:
            none = np.zeros(len(first), np.bool_)
            return none, none
        low, high = positions.low[:, :2], positions.high[:, :2]
        surely, never = down_stream(low[second], high[second], low[first], high[first], direction_deg)
        apart = ~_together(positions, first, second)
        return surely & apart, never & apart

    return find


def turned(computed: Computed) -> Computed:
    """Return a computed relation read from the other end."""

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        return computed(second, first, months)

    return find


def by_canopy(positions: Positions, radius: Numbers, spread: Numbers) -> Computed:
    """Return whether the first stands over the second, from positions and grown outlines.

    Parameters
    ----------
    radius
        Radius of each entity. [cm]
    spread
        Outward growth of each animal row. [mm/month]
    """

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        one, other = positions.entity[first], positions.entity[second]
        ahead = np.zeros(len(first)) if months is None else months
        low = radius.low[one] + radius.low[other] + spread_cm(ahead, spread.low[first] + spread.low[second])
        high = (
            radius.high[one] + radius.high[other] + spread_cm(ahead, spread.high[first] + spread.high[second])
        )
        corners = (positions.low[first], positions.high[first], positions.low[second], positions.high[second])
        surely, never = stands_over(*corners, low, high)
        apart = ~_together(positions, first, second)
        return surely & apart, never & apart

    return find


def _together(positions: Positions, first: Ints, second: Ints) -> Bools:
    """Whether two stand on one spot, where the spot's position tells nothing of who is where."""
    one_spot = (positions.spot[first] == positions.spot[second]) & (positions.spot[first] >= 0)
    found: Bools = one_spot & ~(positions.own[first] & positions.own[second])
    return found


def by_rock(rock_of_rows: Sequence[str], rocks: Sequence[Rock], spots: Ints) -> Computed:
    """Return whether two stand on one rock, or on rocks that touch."""
    names = sorted({*rock_of_rows, *(rock.id for rock in rocks)} - {""})
    number = {name: at for at, name in enumerate(names)}
    touch = np.zeros((len(names) + 1, len(names) + 1), np.int8)
    for rock in rocks:
        if rock.touches is not None:
            touch[number[rock.id], : len(names)] = np.where(touch[number[rock.id], : len(names)] > 0, 1, -1)
            touch[: len(names), number[rock.id]] = np.where(touch[: len(names), number[rock.id]] > 0, 1, -1)
            for other in rock.touches:
                if other in number:
                    touch[number[rock.id], number[other]] = touch[number[other], number[rock.id]] = 1
    for at in range(len(names)):
        touch[at, at] = 1
    row_rock = np.array([number.get(name, -1) for name in rock_of_rows], np.int64)

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        found = touch[row_rock[first], row_rock[second]]
        one_spot = (spots[first] == spots[second]) & (spots[first] >= 0)
        return (found > 0) | one_spot, (found < 0) & ~one_spot

    return find


def by_clone(clones: Sequence[str], entity: Ints) -> Computed:
    """Return whether two are pieces of one colony; colonies of one taxon are strangers unless told."""
    number = {name: at for at, name in enumerate(sorted(set(clones)))}
    of_row = np.array([number[name] if name else -1 for name in clones], np.int64)[entity]

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        same = (of_row[first] == of_row[second]) & (of_row[first] >= 0)
        return same, ~same

    return find
