"""Statements about two things, found by row for any number of pairs at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from advisor.model.tank import ANYTHING
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Ints
from advisor.reasoning.survey_facts import Facts, Statements, newest_first, said_on
from advisor.reasoning.survey_rows import Layout

NOBODY = -1


@dataclass(frozen=True, slots=True)
class Tokens:
    """Which subjects of statements each row answers to; `NOBODY` where none."""

    own: Ints
    """The animal itself, while it stands where the statements found it."""
    place: Ints
    """The spot it stands on."""


@dataclass(frozen=True, slots=True)
class Hits:
    """For each pair the statement that counts, -1 where none, and how each side was named."""

    at: Ints
    first_by_spot: Ints
    """1 where the first thing was named by its spot, 0 where by itself."""
    second_by_spot: Ints


@dataclass(frozen=True, slots=True)
class Entry:
    """Statements about one ordered pair of subjects."""

    pair: tuple[str, str]
    said: Statements


@dataclass(slots=True)
class Names:
    """Numbers for the subjects of statements about two things."""

    number: dict[str, int] = field(default_factory=dict)
    animals: Tokens = field(default_factory=lambda: Tokens(np.zeros(0, np.int64), np.zeros(0, np.int64)))
    places: Tokens = field(default_factory=lambda: Tokens(np.zeros(0, np.int64), np.zeros(0, np.int64)))
    things: dict[Kind, Tokens] = field(default_factory=dict)

    def of(self, kind: Kind) -> Tokens:
        """Return the tokens of the rows of a table."""
        if kind.lives:
            return self.animals
        return self.places if kind is Kind.PLACE else self.things[kind]


def name_rows(layout: Layout, subjects: set[str]) -> Names:
    """Return tokens for every row, of the subjects that occur in statements."""
    number = {name: at for at, name in enumerate(sorted(subjects))}
    spots = [number.get(row.spot.id, NOBODY) if row.spot is not None else NOBODY for row in layout.places]
    place = np.array(spots, np.int64)
    own = [number.get(row.id, NOBODY) if row.here else NOBODY for row in layout.animals]
    where = layout.place_of_animals()
    animals = Tokens(np.array(own, np.int64), place[where] if len(where) else np.zeros(0, np.int64))
    places = Tokens(np.full(len(place), NOBODY, np.int64), place)
    things = {
        kind: _by_id([number.get(row.id, NOBODY) for row in rows]) for kind, rows in layout.things.items()
    }
    things[Kind.WEAPON] = _by_id([NOBODY] * len(layout.weapons))
    return Names(number, animals, places, things)


def _by_id(own: list[int]) -> Tokens:
    """Tokens of things that have an id and no place."""
    return Tokens(np.array(own, np.int64), np.full(len(own), NOBODY, np.int64))


class Stated:
    """Statements of one measure or relation, ready to be found by row.

    Where several name a pair, the newest counts; of one day the one that
    names both animals goes before one that names a spot.
    """

    def __init__(self, entries: Sequence[Entry], names: Names, both_ways: bool) -> None:
        self.entries = tuple(entries)
        self._width = max(len(names.number), 1)
        keys: list[int] = []
        at: list[int] = []
        for place, entry in enumerate(self.entries):
            first, second = (names.number[name] for name in entry.pair)
            keys.append(first * self._width + second)
            at.append(place)
        order = np.argsort(np.array(keys, np.int64), kind="stable")
        self._keys = np.array(keys, np.int64)[order]
        self._at = np.array(at, np.int64)[order]
        days = np.array([_day(entry.said) for entry in self.entries], np.int64)
        self._rank = days * 3 * len(self.entries) + np.arange(len(self.entries))
        self._both_ways = both_ways

    def find(self, first: Tokens, second: Tokens) -> Hits:
        """Return the statement that counts for each pair of rows."""
        size = len(first.own)
        if not self.entries or not size:
            none = np.zeros(size, np.int64)
            return Hits(none - 1, none, none)
        one, other = np.stack([first.own, first.place])[:, None], np.stack([second.own, second.place])[None]
        there = one * self._width + other
        keys = np.stack([there, other * self._width + one]) if self._both_ways else there[None]
        known = (one >= 0) & (other >= 0)
        place = np.minimum(np.searchsorted(self._keys, keys), len(self._keys) - 1)
        found = self._at[place]
        rank = np.where(
            known & (self._keys[place] == keys), self._rank[found] + _DIRECT * len(self.entries), -1
        )
        rank = rank.reshape(-1, size)
        best = rank.argmax(axis=0)
        pairs = np.arange(size)
        hit = rank[best, pairs] >= 0
        at = np.where(hit, found.reshape(-1, size)[best, pairs], -1)
        return Hits(at, np.where(hit, best >> 1 & 1, 0), np.where(hit, best & 1, 0))


_DIRECT = np.array([[2, 1], [1, 0]], np.int64)[None, :, :, None]
"""How many of the two are named by themselves rather than by their spot, by first and second."""


def _day(said: Statements) -> int:
    """Day number of the newest statement, 0 if undated."""
    day = said_on(said[0]) if said else None
    return day.toordinal() if day is not None else 0


def entries_of(facts: Facts, name: str, symmetric: bool) -> list[Entry]:
    """Return the statements of one measure or relation that name two things.

    Where it is the same both ways round, the two orders are one entry.
    """
    table: dict[tuple[str, str], Statements] = {}
    for pair, said in facts.pairs.get(name, {}).items():
        if ANYTHING in pair or not said:
            continue
        key = (min(pair), max(pair)) if symmetric else pair
        table[key] = merge(table.get(key, ()), said)
    return [Entry(pair, table[pair]) for pair in sorted(table)]


def merge(one: Statements, other: Statements) -> Statements:
    """Return two lists of statements as one, newest first."""
    return newest_first((*one, *other)) if one else other


def subjects_of(facts: Facts) -> set[str]:
    """Return every id that statements about two things name."""
    return {name for table in facts.pairs.values() for pair in table for name in pair if name != ANYTHING}
