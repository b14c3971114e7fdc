"""Columns of what was stated about two things, by day and by change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.model.cells import NumberCell
from advisor.model.vocabulary import Kind, Measure, Param
from advisor.reasoning.columns import Ints, Numbers
from advisor.reasoning.survey_pack import pack_numbers, take_numbers
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


def tokens_at(names: Names, param: Param, rows: Ints) -> Tokens:
    """Return the tokens of rows of the table of one parameter."""
    tokens = names.of(Kind.PLACE if param.kind is Kind.PLACE else Kind.ANIMAL)
    return Tokens(tokens.own[rows], tokens.place[rows])
