"""Measures of one thing: each packed once into arrays, then gathered."""

from __future__ import annotations

from collections.abc import Collection, Hashable
from dataclasses import dataclass, field

import numpy as np

from advisor.model.cells import Cause, Cell, NumberCell, SetCell, WordCell
from advisor.model.vocabulary import LISTED, Assumption, Kind, Measure, SetType, Supplier, WordType
from advisor.reasoning.columns import Bools, Ints, Numbers, Sets, Words
from advisor.reasoning.survey_facts import SIZE
from advisor.reasoning.survey_pack import (
    pack_numbers,
    pack_sets,
    pack_words,
    take_numbers,
    take_sets,
    take_words,
    words_in,
)
from advisor.reasoning.survey_resolve import GROUP, Resolver, kind_of, reckoned
from advisor.reasoning.survey_values import unknown


@dataclass(slots=True)
class Pack:
    """The cells of one measure: the different ones, and which of them each row has."""

    cells: list[Cell]
    """Without assumptions."""
    reckoned: list[Cell]
    """With assumptions, row for row."""
    assumed: list[bool]
    index: Ints
    numbers: dict[bool, Numbers] = field(default_factory=dict)
    words: Words | None = None
    sets: Sets | None = None


STRANGERS = ("(another)", "(yet another)")
"""Names that occur nowhere in the tank."""


class Singles:
    """Cells and columns of the measures of one animal, one place or the tank."""

    def __init__(self, resolver: Resolver) -> None:
        self._resolver = resolver
        self._context = resolver.context
        self._packs: dict[str, Pack] = {}
        self._extra: dict[str, tuple[str, ...]] = {}
        self._kin: dict[Kind, Ints] = {}

    # --- columns

    def numbers(self, measure: Measure, rows: Ints, assume: bool) -> Numbers:
        """Return a quantity for each row of its own table. [base unit]"""
        pack = self._pack(measure)
        column = pack.numbers.get(assume)
        if column is None:
            cells = [
                cell for cell in (pack.reckoned if assume else pack.cells) if isinstance(cell, NumberCell)
            ]
            column = pack.numbers[assume] = pack_numbers(cells, pack.assumed if assume else ())
        return take_numbers(column, pack.index[rows])

    def words(self, measure: Measure, rows: Ints) -> Words:
        """Return the words still possible for each row."""
        pack = self._pack(measure)
        if pack.words is None:
            cells = [cell for cell in pack.cells if isinstance(cell, WordCell)]
            pack.words = pack_words(cells, self.domain(measure))
        return take_words(pack.words, pack.index[rows])

    def sets(self, measure: Measure, rows: Ints) -> Sets:
        """Return a set-valued measure for each row."""
        pack = self._pack(measure)
        if pack.sets is None:
            cells = [cell for cell in pack.cells if isinstance(cell, SetCell)]
            pack.sets = pack_sets(cells, self.domain(measure))
        return take_sets(pack.sets, pack.index[rows])

    def domain(self, measure: Measure) -> tuple[str, ...]:
        """Return the words of a measure; for open names all that occur here or were announced.

        An open name nobody told may also be one that occurs nowhere else, and
        two such need not be the same: `STRANGERS` stand for those.
        """
        fixed = isinstance(measure.type, (WordType, SetType)) and bool(measure.type.words)
        return self.domain_of(measure, frozenset() if fixed else words_in(self._pack(measure).cells))

    def domain_of(self, measure: Measure, said: Collection[str]) -> tuple[str, ...]:
        """Return the words of a measure of which some words are said here."""
        if isinstance(measure.type, (WordType, SetType)) and measure.type.words:
            return measure.type.words
        return (*sorted({*said, *self._extra.get(measure.name, ())}), *STRANGERS)

    def announce(self, measure: str, words: tuple[str, ...]) -> None:
        """Make sure some words have a place in the columns of an open-name measure."""
        self._extra[measure] = tuple(dict.fromkeys((*self._extra.get(measure, ()), *words)))
        if measure in self._packs:
            self._packs[measure].words = None

    # --- cells

    def of(self, name: str, row: int) -> Cell:
        """Return the cell of a measure by name, without assumptions."""
        return self._resolver.of(name, row)

    def cell(self, measure: Measure, row: int, assume: bool) -> Cell:
        """Return one cell, with its grounds."""
        pack = self._pack(measure)
        return (pack.reckoned if assume else pack.cells)[int(pack.index[row])]

    def _size(self, measure: Measure) -> int:
        """Rows of the table of a measure."""
        match kind_of(measure):
            case Kind.PLACE:
                return len(self._context.layout.places)
            case Kind.TANK:
                return len(self._context.layout.tank_facts)
            case Kind.WEAPON:
                return len(self._context.layout.weapons)
            case kind if kind in LISTED:
                return len(self._context.layout.things[kind])
            case _:
                return len(self._context.layout.entities)

    def _pack(self, measure: Measure) -> Pack:
        """The cells of a measure for all rows of its table."""
        found = self._packs.get(measure.name)
        if found is None:
            found = self._packs[measure.name] = self._make(measure)
        return found

    def _make(self, measure: Measure) -> Pack:
        """Make all cells of a measure, equal ones once; rows nobody tells of are taken by class."""
        pack = Pack([], [], [], np.zeros(self._size(measure), np.int64))
        classes, alone = self._classes(measure), self._told_of(measure)
        seen: dict[tuple[int, Assumption | None], int] = {}
        for row in np.flatnonzero(alone).tolist():
            pack.index[row] = self._add(pack, measure, row, seen)
        rest = np.flatnonzero(~alone)
        found, first, which = np.unique(classes[rest], return_index=True, return_inverse=True)
        if len(found):
            places = [self._add(pack, measure, row, seen) for row in rest[first].tolist()]
            pack.index[rest] = np.array(places, np.int64)[which]
        if not pack.cells:
            pack.cells.append(unknown(measure, ()))
            pack.reckoned.append(pack.cells[0])
            pack.assumed.append(False)
        return pack

    def _add(
        self, pack: Pack, measure: Measure, row: int, seen: dict[tuple[int, Assumption | None], int]
    ) -> int:
        """Put the cell of one row into a pack, unless it is there, and return where."""
        cell = self._resolver.one(measure, row)
        assumption = self._resolver.assumption(measure, row) if cell.cause is Cause.MISSING else None
        at = seen.setdefault((id(cell), assumption), len(pack.cells))
        if at == len(pack.cells):
            pack.cells.append(cell)
            pack.reckoned.append(cell if assumption is None else reckoned(assumption, cell))
            pack.assumed.append(assumption is not None)
        return at

    def _classes(self, measure: Measure) -> Ints:
        """A number for each row; rows with the same one differ only in what is told of them."""
        kind = kind_of(measure)
        if kind not in (Kind.ANIMAL, Kind.WEAPON):
            return np.zeros(self._size(measure), np.int64)
        if kind not in self._kin:
            number: dict[Hashable, int] = {}
            shared = (self._resolver.subject(measure, row)[2] for row in range(self._size(measure)))
            self._kin[kind] = np.array([number.setdefault(each, len(number)) for each in shared], np.int64)
        return self._kin[kind]

    def _told_of(self, measure: Measure) -> Bools:
        """Rows of which something is told or worked out, so that each is looked at by itself."""
        size = self._size(measure)
        if Supplier.COMPUTED in measure.suppliers or kind_of(measure) is Kind.TANK:
            return np.ones(size, np.bool_)
        names = set(self._context.facts.single.get(measure.name, ()))
        if measure.assumptions:
            names |= set(self._context.facts.single.get(GROUP, ()))
        layout = self._context.layout
        kind = kind_of(measure)
        if kind is Kind.WEAPON:
            return np.zeros(size, np.bool_)
        if kind in LISTED:
            rows = layout.things[kind]
            return np.array([thing.id in names or bool(thing.facts) for thing in rows], np.bool_)
        if kind is Kind.PLACE:
            return np.array([place.key in names or bool(place.facts) for place in layout.places], np.bool_)
        wide = measure.name == SIZE
        told = (
            each.animal.id in names or bool(each.facts) or (wide and each.animal.size_cm is not None)
            for each in layout.entities
        )  # fmt: skip
        return np.fromiter(told, np.bool_, size)
