"""Measures of one thing: each packed once into arrays, then gathered."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Mapping
from dataclasses import dataclass, field

import numpy as np

from advisor.model.cells import Cause, Cell, CellKind, NumberCell, SetCell, WordCell
from advisor.model.tank import SAID_WHERE_IT_STANDS, Fact, Statement
from advisor.model.vocabulary import Assumption, Kind, Measure, NumberType, SetType, Supplier, WordType
from advisor.reasoning.columns import Bools, Ints, Numbers, Sets, Words
from advisor.reasoning.survey_cards import CardReader
from advisor.reasoning.survey_computed import Context, Supply, known
from advisor.reasoning.survey_facts import SIZE, newest_first
from advisor.reasoning.survey_grounds import assumed_support, plain
from advisor.reasoning.survey_pack import (
    pack_numbers,
    pack_sets,
    pack_words,
    take_numbers,
    take_sets,
    take_words,
    words_in,
)
from advisor.reasoning.survey_rows import TANK
from advisor.reasoning.survey_values import Reader, unknown

GROUP = "group"
"""The measure whose words say for which animals an assumption is meant."""


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


class Singles:
    """Cells and columns of the measures of one animal, one place or the tank."""

    def __init__(
        self,
        context: Callable[[Singles], Context],
        reader: Reader,
        cards: CardReader,
        supplies: Mapping[str, Supply],
        narrowing: Collection[str] = (),
    ) -> None:
        self._context = context(self)
        self._reader = reader
        self._cards = cards
        self._supplies = supplies
        self._narrowing = narrowing
        self._packs: dict[str, Pack] = {}
        self._cells: dict[tuple[str, int], Cell] = {}
        self._shared: dict[tuple[str, Hashable], Cell] = {}
        self._extra: dict[str, tuple[str, ...]] = {}
        self._kin: Ints | None = None

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
        """Return the words of a measure; for open names all that occur here or were announced."""
        if isinstance(measure.type, (WordType, SetType)) and measure.type.words:
            return measure.type.words
        found = words_in(self._pack(measure).cells)
        return tuple(sorted(found | set(self._extra.get(measure.name, ()))))

    def announce(self, measure: str, words: tuple[str, ...]) -> None:
        """Make sure some words have a place in the columns of an open-name measure."""
        self._extra[measure] = tuple(dict.fromkeys((*self._extra.get(measure, ()), *words)))
        if measure in self._packs:
            self._packs[measure].words = None

    # --- cells

    def cell(self, measure: Measure, row: int, assume: bool) -> Cell:
        """Return one cell, with its grounds."""
        pack = self._pack(measure)
        return (pack.reckoned if assume else pack.cells)[int(pack.index[row])]

    def of(self, name: str, row: int) -> Cell:
        """Return the cell of a measure by name, without assumptions."""
        measure = self._context.library.vocabulary.measures.get(name)
        if measure is None:
            return WordCell(None, CellKind.UNKNOWN, Cause.MISSING)
        return self._one(measure, row)

    def _size(self, measure: Measure) -> int:
        """Rows of the table of a measure."""
        match _kind(measure):
            case Kind.PLACE:
                return len(self._context.layout.places)
            case Kind.TANK:
                return len(self._context.layout.tank_facts)
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
        cell = self._one(measure, row)
        assumption = self._assumption(measure, row) if cell.cause is Cause.MISSING else None
        at = seen.setdefault((id(cell), assumption), len(pack.cells))
        if at == len(pack.cells):
            pack.cells.append(cell)
            pack.reckoned.append(cell if assumption is None else _reckoned(assumption, cell))
            pack.assumed.append(assumption is not None)
        return at

    def _classes(self, measure: Measure) -> Ints:
        """A number for each row; rows with the same one differ only in what is told of them."""
        if _kind(measure) is not Kind.ANIMAL:
            return np.zeros(self._size(measure), np.int64)
        if self._kin is None:
            number: dict[Hashable, int] = {}
            shared = (self._subject(measure, row)[2] for row in range(self._size(measure)))
            self._kin = np.array([number.setdefault(each, len(number)) for each in shared], np.int64)
        return self._kin

    def _told_of(self, measure: Measure) -> Bools:
        """Rows of which something is told or worked out, so that each is looked at by itself."""
        size = self._size(measure)
        if Supplier.COMPUTED in measure.suppliers or _kind(measure) is Kind.TANK:
            return np.ones(size, np.bool_)
        names = set(self._context.facts.single.get(measure.name, ()))
        if measure.assumptions:
            names |= set(self._context.facts.single.get(GROUP, ()))
        layout = self._context.layout
        if _kind(measure) is Kind.PLACE:
            return np.array([place.key in names or bool(place.facts) for place in layout.places], np.bool_)
        wide = measure.name == SIZE
        told = (
            each.animal.id in names or bool(each.facts) or (wide and each.animal.size_cm is not None)
            for each in layout.entities
        )  # fmt: skip
        return np.fromiter(told, np.bool_, size)

    def _assumption(self, measure: Measure, row: int) -> Assumption | None:
        """What is reckoned with for one row, if anything."""
        if not measure.assumptions:
            return None
        groups: frozenset[str] | None = None
        if _kind(measure) is Kind.ANIMAL:
            group = self.of(GROUP, row)
            groups = group.possible if isinstance(group, WordCell) and known(group) else None
        fitting = [
            each for each in measure.assumptions if not each.groups or (groups and groups & set(each.groups))
        ]
        if not fitting or (fitting[0].groups and groups and len(groups) > 1 and not _covers(fitting, groups)):
            return None
        return _joined(fitting) if groups and len(groups) > 1 else fitting[0]

    def _one(self, measure: Measure, row: int) -> Cell:
        """The cell of one row, made once."""
        key = (measure.name, row)
        found = self._cells.get(key)
        if found is None:
            found = self._cells[key] = self._resolve(measure, row)
        return found

    def _resolve(self, measure: Measure, row: int) -> Cell:
        """Work out one cell: what a change states, else the suppliers in order."""
        subject, overrides, shared = self._subject(measure, row)
        set_by_change = [fact.said for fact in overrides if fact.measure == measure.name]
        if set_by_change:
            return self._set(measure, set_by_change[-1])
        best: Cell | None = None
        said = self._said(measure, subject, row)
        for supplier in measure.suppliers:
            if known(best) and not (supplier is Supplier.COMPUTED and measure.computed_by in self._narrowing):
                continue
            cell = self._supplied(measure, row, supplier, said, shared, best)
            if cell is not None and (known(cell) or best is None or cell.cause is Cause.STALE):
                best = cell
        return best if best is not None else self._nothing(measure)

    def _said(self, measure: Measure, subject: str, row: int) -> tuple[Statement, ...]:
        """What was said of one row; of an animal that a change brings, how wide it is."""
        said = self._context.facts.of(measure.name, subject)
        if _kind(measure) is not Kind.ANIMAL:
            return said
        entity = self._context.layout.entities[row]
        if entity.moved and measure.name in SAID_WHERE_IT_STANDS:
            return ()
        if measure.name == SIZE and not said:
            width = entity.animal.size_cm
            return newest_first((width,)) if width is not None else ()
        return said

    def _set(self, measure: Measure, said: Statement) -> Cell:
        """What a change states; it may state that something is not known."""
        cell = self._reader.cell(measure, newest_first((said,)))
        return cell if cell is not None else unknown(measure, (plain("left open"),))

    def _subject(self, measure: Measure, row: int) -> tuple[str, tuple[Fact, ...], Hashable]:
        """Id under which statements are kept, what a change states, and what like rows share."""
        layout = self._context.layout
        match _kind(measure):
            case Kind.PLACE:
                place = layout.places[row]
                return place.key, place.facts, None
            case Kind.TANK:
                return TANK, layout.tank_facts[row], None
            case _:
                entity = layout.entities[row]
                alone = entity.animal.id if self._cards.changes_alone(entity.animal.id) else ""
                return entity.animal.id, entity.facts, (entity.choice, alone)

    def _supplied(
        self,
        measure: Measure,
        row: int,
        supplier: Supplier,
        said: tuple[Statement, ...],
        shared: Hashable,
        so_far: Cell | None,
    ) -> Cell | None:
        """What one supplier gives."""
        match supplier:
            case Supplier.CARD:
                key = (measure.name, shared)
                if key not in self._shared:
                    entity = self._context.layout.entities[row]
                    self._shared[key] = self._cards.cell(measure, entity.choice, entity.animal.id)
                return self._shared[key]
            case Supplier.KEEPER:
                return self._reader.cell(measure, said)
            case _:
                supply = self._supplies.get(measure.computed_by)
                return supply(self._context, measure, row, so_far) if supply is not None else None

    def _nothing(self, measure: Measure) -> Cell:
        """The cell of something nobody has told; one object for all rows."""
        key = (measure.name, "nothing told")
        if key not in self._shared:
            place_number = isinstance(measure.type, NumberType) and _kind(measure) is not Kind.ANIMAL
            self._shared[key] = unknown(measure, (plain("not measured" if place_number else "not told"),))
        return self._shared[key]


def _kind(measure: Measure) -> Kind:
    """Kind of the one thing a measure is about."""
    kind = measure.params[0].kind if measure.params else Kind.TANK
    return Kind.ANIMAL if kind is Kind.CORAL else kind


def _covers(fitting: list[Assumption], groups: frozenset[str]) -> bool:
    """Whether every possible group has an assumption."""
    return all(any(not each.groups or group in each.groups for each in fitting) for group in groups)


def _joined(fitting: list[Assumption]) -> Assumption:
    """One assumption for an animal that may be of several groups."""
    if len(fitting) == 1:
        return fitting[0]
    grade = max((each.grade for each in fitting), key=lambda grade: grade.rank)
    return Assumption(min(each.low for each in fitting), max(each.high for each in fitting),
                      "; ".join(dict.fromkeys(each.because for each in fitting)), grade)  # fmt: skip


def _reckoned(assumption: Assumption, cell: Cell) -> Cell:
    """The cell of an assumption."""
    supports = (assumed_support(assumption), *cell.supports)
    return NumberCell(assumption.low, None, assumption.high, CellKind.ASSUMED, Cause.MISSING, supports)
