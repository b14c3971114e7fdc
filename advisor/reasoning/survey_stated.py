"""Columns of what was stated about two things, by day and by change: quantities and words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.model.cells import Cell, NumberCell, SetCell, WordCell
from advisor.model.vocabulary import Measure, Param
from advisor.reasoning.columns import Ints, Numbers, Sets, Words
from advisor.reasoning.survey_grounds import plain
from advisor.reasoning.survey_pack import (
    pack_numbers,
    pack_sets,
    pack_words,
    take_numbers,
    take_sets,
    take_words,
    words_in,
)
from advisor.reasoning.survey_pairs import Hits, Names, Stated, Tokens
from advisor.reasoning.survey_values import Reader, unknown


@dataclass(frozen=True, slots=True)
class WorldTable:
    """What changes state of pairs of rows, found by row."""

    keys: Ints
    at: Ints
    width: int

    def find(self, first: Ints, second: Ints) -> Ints:
        """Return the entry of each pair, -1 where none."""
        if not len(self.keys):
            return np.full(len(first), -1, np.int64)
        key = first * self.width + second
        place = np.minimum(np.searchsorted(self.keys, key), len(self.keys) - 1)
        return np.where(self.keys[place] == key, self.at[place], -1)


def world_table(pairs: Sequence[tuple[int, int]], width: int, both_ways: bool) -> WorldTable:
    """Return a table of row pairs; of one pair named twice the later counts."""
    table: dict[int, int] = {}
    for at, (first, second) in enumerate(pairs):
        table[first * width + second] = at
        if both_ways:
            table[second * width + first] = at
    keys = np.array(sorted(table), np.int64)
    return WorldTable(keys, np.array([table[int(key)] for key in keys], np.int64), width)


class StatedNumbers:
    """Stated quantities of two things."""

    def __init__(
        self,
        measure: Measure,
        stated: Stated,
        reader: Reader,
        world_cells: Sequence[NumberCell],
        worlds: WorldTable,
    ) -> None:
        self.measure = measure
        self.stated = stated
        found = [reader.cell(measure, entry.said) for entry in stated.entries]
        nothing = unknown(measure, ())
        cells = [cell if isinstance(cell, NumberCell) else nothing for cell in found]
        self.cells = [cell for cell in (*cells, nothing) if isinstance(cell, NumberCell)]
        self.world_cells = tuple(world_cells)
        self.worlds = worlds
        self._column = pack_numbers(self.cells)
        self._world_column = pack_numbers(self.world_cells) if self.world_cells else None

    def find(self, names: Names, first: Ints, second: Ints) -> Hits:
        """Return the statement that counts for each pair of rows."""
        one, other = (tokens_at(names, param, rows) for param, rows in
                      zip(self.measure.params, (first, second), strict=True))  # fmt: skip
        return self.stated.find(one, other)

    def take(self, at: Ints) -> Numbers:
        """Return the stated values; the physical range where `at` is -1."""
        return take_numbers(self._column, at)

    def in_worlds(self, first: Ints, second: Ints, otherwise: Numbers) -> Numbers:
        """Return what a change states of each pair, or else what is given."""
        if self._world_column is None:
            return otherwise
        at = self.worlds.find(first, second)
        found = take_numbers(self._world_column, at)
        hit = at >= 0
        return Numbers(
            np.where(hit, found.low, otherwise.low),
            np.where(hit, found.best, otherwise.best),
            np.where(hit, found.high, otherwise.high),
            np.where(hit, found.flags, otherwise.flags).astype(np.uint8),
        )


class StatedWords:
    """Stated words, or sets of words, of two things."""

    def __init__(
        self,
        measure: Measure,
        stated: Stated,
        reader: Reader,
        world_cells: Sequence[Cell],
        worlds: WorldTable,
    ) -> None:
        self.measure = measure
        self._stated = stated
        self._worlds = worlds
        told = [reader.cell(measure, entry.said) for entry in stated.entries]
        nothing = unknown(measure, (plain("not told"),))
        self._world_at = len(told)
        self._cells: list[Cell] = [
            cell if cell is not None else nothing for cell in (*told, *world_cells, None)
        ]

    @property
    def said(self) -> set[str]:
        """Every word that is told of any two."""
        return words_in(self._cells)

    def _at(self, names: Names, first: Ints, second: Ints) -> Ints:
        """Which cell each pair of rows has."""
        one, other = (tokens_at(names, param, rows) for param, rows in
                      zip(self.measure.params, (first, second), strict=True))  # fmt: skip
        by_change, stated = self._worlds.find(first, second), self._stated.find(one, other).at
        return np.where(by_change >= 0, by_change + self._world_at, np.where(stated >= 0, stated, -1))

    def words(self, names: Names, rows: tuple[Ints, Ints], domain: tuple[str, ...]) -> Words:
        """Return the words still possible for each pair of rows."""
        packed = pack_words([cell for cell in self._cells if isinstance(cell, WordCell)], domain)
        return take_words(packed, self._at(names, *rows))

    def sets(self, names: Names, rows: tuple[Ints, Ints], domain: tuple[str, ...]) -> Sets:
        """Return the words surely and possibly told of each pair of rows."""
        packed = pack_sets([cell for cell in self._cells if isinstance(cell, SetCell)], domain)
        return take_sets(packed, self._at(names, *rows))

    def cell(self, names: Names, first: int, second: int) -> Cell:
        """Return one cell with its grounds."""
        return self._cells[int(self._at(names, np.array([first]), np.array([second]))[0])]


def tokens_at(names: Names, param: Param, rows: Ints) -> Tokens:
    """Return the tokens of rows of the table of one parameter."""
    tokens = names.of(param.kind)
    return Tokens(tokens.own[rows], tokens.place[rows])
