"""The tables an example makes: its givens stand in for the survey, and whatever is not given is unknown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Call, Example, Given, Name, Number
from advisor.model.cells import Cause, Cell, CellKind, NumberCell, SetCell, Support, TruthCell, WordCell
from advisor.model.vocabulary import CARRIES, Kind, Measure, NumberType, SetType, WordType
from advisor.reasoning.columns import MISSING, Bools, Floats, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.listing import Listing, here_in, listing_of
from advisor.reasoning.survey_gaps import grown
from advisor.reasoning.survey_tables import same_both_ways
from advisor.reasoning.survey_values import reading_range
from advisor.units import to_base, unit_named

Key = tuple[str, tuple[str, ...]]


@dataclass(slots=True)
class Givens:
    """Tables made of an example's givens; whatever is not given is unknown."""

    library: Library
    names: tuple[str, ...]
    facts: dict[Key, Given]
    extra: dict[str, tuple[str, ...]] = field(default_factory=dict)
    kinds: tuple[Kind, ...] = ()
    """What each name stands for; all are animals where it is left out."""
    whose: tuple[int, ...] = ()
    """The row of the animal whose weapon each name is, -1 where it is none."""

    @property
    def animal_world(self) -> Ints:
        """Every animal of an example is shared."""
        return np.full(len(self.names), -1, np.int64)

    @property
    def lives(self) -> Bools:
        """Which names are animals."""
        kinds = self.kinds or (Kind.ANIMAL,) * len(self.names)
        return np.array([kind.lives for kind in kinds], np.bool_)

    def listing(self, kind: Kind, apart: bool = False) -> Listing:
        """Return what the example introduces: that is all there is. An animal's own place is a place."""
        mine = np.array([each is kind for each in self.kinds] or [False] * len(self.names), np.bool_)
        if kind is Kind.PLACE:
            mine |= self.lives
        if kind is Kind.WEAPON:
            whose = np.array(self.whose or (-1,) * len(self.names), np.int64)
            held = (whose[None, :] == np.arange(len(whose))[:, None]) & mine
            return listing_of(held, np.full(len(whose), -1, np.int64))
        world = self._world_of_names()
        return listing_of(here_in(len(self.removed), world) & mine, world)

    def _world_of_names(self) -> Ints:
        """The world of each thing, -1 where shared."""
        return np.full(len(self.names), -1, np.int64)

    @property
    def animal_place(self) -> Ints:
        """Every animal stands on a place of its own."""
        return np.arange(len(self.names))

    @property
    def removed(self) -> Bools:
        """No animal is removed; there is one world. What is no animal is none of its animals."""
        found: Bools = ~self.lives[None, :]
        return found

    @property
    def place_count(self) -> int:
        """One place per animal."""
        return len(self.names)

    def tank_rows(self, worlds: Ints) -> Ints:
        """There is one tank."""
        return np.zeros(len(worlds), np.int64)

    def set_domain(self, measure: str, words: Sequence[str]) -> None:
        """Remember words that rules compare an open name with."""
        self.extra[measure] = tuple(dict.fromkeys((*self.extra.get(measure, ()), *words)))

    def numbers(self, measure: str, rows: tuple[Ints, ...], months: Floats | None, assume: bool) -> Numbers:
        """Return the given quantities; what is not given is the physical range, a gap as grown over."""
        cells = [self.cell(measure, at, assume=assume) for at in _each(rows)]
        found = [cell for cell in cells if isinstance(cell, NumberCell)]
        best = [np.nan if cell.best is None else cell.best for cell in found]
        now = Numbers(
            np.array([cell.low for cell in found], float),
            np.array(best, float),
            np.array([cell.high for cell in found], float),
            _flags(found),
        )
        if measure != "gap" or months is None or not months.any():
            return now
        spread = (self._spread(rows[0]), self._spread(rows[1]))
        return grown(now, spread, months, self.library.vocabulary.measures[measure])

    def _spread(self, rows: Ints) -> Numbers:
        """How fast the edge of each animal moves outward; one that is kept trimmed does not. [mm/month]"""
        found = self.numbers("grows-out", (rows,), None, assume=True)
        still = self.truths("kept-trimmed", (rows,), None).yes
        return Numbers(
            np.where(still, 0.0, found.low),
            np.where(still, 0.0, found.best),
            np.where(still, 0.0, found.high),
            np.where(still, 0, found.flags).astype(np.uint8),
        )

    def words(self, measure: str, rows: tuple[Ints, ...]) -> Words:
        """Return the words still possible."""
        cells = [self.cell(measure, at) for at in _each(rows)]
        found = [cell for cell in cells if isinstance(cell, WordCell)]
        domain = self._domain(measure)
        possible = np.array(
            [[cell.possible is None or word in cell.possible for word in domain] for cell in found], np.bool_
        ).reshape(len(found), len(domain))
        return Words(possible, domain, _flags(found))

    def sets(self, measure: str, rows: tuple[Ints, ...]) -> Sets:
        """Return the given sets."""
        cells = [self.cell(measure, at) for at in _each(rows)]
        found = [cell for cell in cells if isinstance(cell, SetCell)]
        domain = self._domain(measure)
        shape = (len(found), len(domain))
        surely = np.array([[word in cell.surely for word in domain] for cell in found], np.bool_)
        possibly = np.array(
            [[cell.possibly is None or word in cell.possibly for word in domain] for cell in found], np.bool_
        )
        return Sets(surely.reshape(shape), possibly.reshape(shape), domain, _flags(found))

    def truths(self, relation: str, rows: tuple[Ints, ...], months: Floats | None) -> Truths:
        """Return the given relations."""
        cells = [self.cell(relation, at) for at in _each(rows)]
        found = [cell for cell in cells if isinstance(cell, TruthCell)]
        yes = np.array([cell.value is True for cell in found], np.bool_)
        no = np.array([cell.value is False for cell in found], np.bool_)
        lean = np.where(yes, 1, np.where(no, -1, 0)).astype(np.int8)
        none = np.full(len(found), np.nan)
        return Truths(yes, no, lean, none, none, none, _flags(found))

    def cell(self, name: str, rows: tuple[int, ...], month: float = 0.0, assume: bool = True) -> Cell:
        """Return one given value, or what not knowing it means."""
        relation = self.library.vocabulary.relations.get(name)
        given = self._given(name, rows)
        if relation is not None:
            if name == CARRIES and given is None and self.whose:
                return TruthCell(self.whose[rows[1]] == rows[0], CellKind.STATED, None, _SUPPORT)
            return _relation_cell(given, closed=relation.given)
        measure = self.library.vocabulary.measures[name]
        match measure.type:
            case NumberType():
                return self._number(measure, rows, given, assume)
            case SetType():
                words = frozenset() if given is None else frozenset(given.word.split(", "))
                if given is None or not given.word:
                    return SetCell(frozenset(), None, CellKind.UNKNOWN, Cause.MISSING)
                return SetCell(words, words, CellKind.STATED, None, _SUPPORT)
            case _:
                if given is None or not given.word:
                    return WordCell(None, CellKind.UNKNOWN, Cause.MISSING)
                return WordCell(frozenset((given.word,)), CellKind.STATED, None, _SUPPORT)

    def _given(self, name: str, rows: tuple[int, ...]) -> Given | None:
        """The given about these things; what reads the same both ways is given both ways."""
        key = tuple(self.names[row] if row < len(self.names) else "tank" for row in rows)
        found = self.facts.get((name, key))
        if found is None and self._both_ways(name):
            found = self.facts.get((name, key[::-1]))
        if found is None and self._of_tank(name):
            found = self.facts.get((name, ("tank",)))
        return found

    def _both_ways(self, name: str) -> bool:
        """Whether a measure or relation of two says the same from either end, as in a tank."""
        vocabulary = self.library.vocabulary
        if name in vocabulary.relations:
            return same_both_ways(vocabulary.relations[name])
        return vocabulary.measures[name].symmetric

    def _of_tank(self, name: str) -> bool:
        """Whether a measure or relation is about the tank as a whole."""
        vocabulary = self.library.vocabulary
        told = vocabulary.measures.get(name) or vocabulary.relations.get(name)
        return told is not None and told.params[0].kind is Kind.TANK

    def _number(self, measure: Measure, rows: tuple[int, ...], given: Given | None, assume: bool) -> Cell:
        """A given quantity with its error, an assumption, or the physical range."""
        if given is not None and given.low is not None:
            low = _base(given.low)
            high = low if given.high is None else _base(given.high)
            if high > low:
                return NumberCell(low, None, high, CellKind.STATED, None, _SUPPORT)
            bottom, top = reading_range(measure, low, None)
            return NumberCell(bottom, low, top, CellKind.MEASURED, None, _SUPPORT)
        group = self._given("group", rows) if measure.name != "group" and rows else None
        for assumed in measure.assumptions if assume and (given is None) else ():
            if not assumed.groups or (group is not None and group.word in assumed.groups):
                return NumberCell(assumed.low, None, assumed.high, CellKind.ASSUMED, Cause.MISSING, _SUPPORT)
        return NumberCell(measure.low, None, measure.high, CellKind.UNKNOWN, Cause.MISSING)

    def _domain(self, measure: str) -> tuple[str, ...]:
        """Every word a measure can have here."""
        declared = self.library.vocabulary.measures[measure].type
        words = declared.words if isinstance(declared, WordType | SetType) else ()
        given = [
            word
            for (name, _), fact in self.facts.items()
            if name == measure
            for word in fact.word.split(", ")
            if word
        ]
        other = () if words else ("(another)", "(yet another)")
        return tuple(dict.fromkeys((*words, *given, *self.extra.get(measure, ()), *other)))

    def label(self, kind: Kind, row: int) -> str:
        """Return the name the example gives."""
        if kind is Kind.TANK:
            return "tank"
        on_it = kind is Kind.PLACE and bool(self.lives[row])
        return f"{self.names[row]}.spot" if on_it else self.names[row]

    def say(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the call as it is written in the example."""
        return f"{name} of {', '.join(self._labels(name, rows))}"

    def ask(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the cell to fill."""
        return f"{name}({', '.join(self._labels(name, rows))})"

    def asked_of(self, name: str, rows: tuple[int, ...]) -> tuple[str, ...]:
        """Return the names the example gives."""
        return tuple(self._labels(name, rows))

    def _labels(self, name: str, rows: tuple[int, ...]) -> list[str]:
        """The things a measure or relation is about here."""
        vocabulary = self.library.vocabulary
        params = (vocabulary.measures.get(name) or vocabulary.relations[name]).params
        return [self.label(param.kind, row) for param, row in zip(params, rows, strict=True)]


_SUPPORT = (Support("given in the example"),)


def _base(number: Number) -> float:
    """A literal in base units."""
    return to_base(number.value, unit_named(number.unit)) if number.unit else number.value


def _each(rows: tuple[Ints, ...]) -> Iterable[tuple[int, ...]]:
    """The index arrays as tuples of plain numbers, row by row."""
    return [tuple(int(part[at]) for part in rows) for at in range(len(rows[0]))]


def _flags(cells: Sequence[Cell]) -> np.ndarray[tuple[int], np.dtype[np.uint8]]:
    """Flags of cells; an assumed one is marked as such."""
    return np.array(
        [
            4 if cell.kind is CellKind.ASSUMED else MISSING if cell.cause is Cause.MISSING else 0
            for cell in cells
        ],
        np.uint8,
    )


def _relation_cell(given: Given | None, *, closed: bool) -> TruthCell:
    """A relation as given; one declared `given` is false unless stated."""
    if given is not None and given.word in ("yes", "no"):
        return TruthCell(given.word == "yes", CellKind.STATED, None, _SUPPORT)
    if closed and given is None:
        return TruthCell(False, CellKind.STATED)
    return TruthCell(None, CellKind.UNKNOWN, Cause.MISSING)


def names_of(example: Example) -> dict[str, int]:
    """Return the row of each thing an example introduces, in their order."""
    return {name: row for row, name in enumerate(given.entity for given in example.givens if given.entity)}


def givens_of(example: Example, library: Library) -> Givens:
    """Return the tables an example describes."""
    facts: dict[Key, Given] = {}
    for given in example.givens:
        if given.fact is not None:
            facts[given.fact.name, tuple(_subject(arg) for arg in given.fact.args)] = given
    rows = names_of(example)
    things = [given for given in example.givens if given.entity]
    return Givens(
        library,
        tuple(rows),
        facts,
        kinds=tuple(given.kind or Kind.ANIMAL for given in things),
        whose=tuple(rows.get(given.of, -1) if given.of else -1 for given in things),
    )


def _subject(arg: object) -> str:
    """The name an argument stands for; a place goes by the animal on it."""
    match arg:
        case Name(name=name):
            return name
        case Call(name="spot", args=(Name(name=name),)):
            return name
        case _:
            return ""
