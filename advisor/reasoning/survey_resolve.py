"""One cell of one thing: what a change states, else the suppliers in the order the rules give."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Mapping
from dataclasses import replace

from advisor.model.cells import Cause, Cell, CellKind, NumberCell, WordCell
from advisor.model.changes import CardChoice
from advisor.model.tank import SAID_WHERE_IT_STANDS, Fact, Statement
from advisor.model.vocabulary import LISTED, Assumption, Kind, Measure, NumberType, Supplier
from advisor.reasoning.survey_cards import CardReader
from advisor.reasoning.survey_computed import Context, Supply, known
from advisor.reasoning.survey_facts import SIZE, newest_first
from advisor.reasoning.survey_grounds import assumed_support, plain
from advisor.reasoning.survey_rows import TANK, WEAPON
from advisor.reasoning.survey_touched import touched, touched_spans
from advisor.reasoning.survey_values import Reader, unknown
from advisor.reasoning.survey_weapons import weapon_kind

GROUP = "group"
"""The measure whose words say for which animals an assumption is meant."""


class Resolver:
    """Works out cells of measures of one animal, one place or the tank, each once."""

    def __init__(
        self,
        context: Callable[[Resolver], Context],
        reader: Reader,
        cards: CardReader,
        supplies: Mapping[str, Supply],
        narrowing: Collection[str] = (),
    ) -> None:
        self.context = context(self)
        self._reader = reader
        self._cards = cards
        self._supplies = supplies
        self._narrowing = narrowing
        self._spans = touched_spans(self.context.library)
        self._cells: dict[tuple[str, int], Cell] = {}
        self._shared: dict[tuple[str, Hashable], Cell] = {}

    def of(self, name: str, row: int) -> Cell:
        """Return the cell of a measure by name, without assumptions."""
        measure = self.context.library.vocabulary.measures.get(name)
        if measure is None:
            return WordCell(None, CellKind.UNKNOWN, Cause.MISSING)
        return self.one(measure, row)

    def one(self, measure: Measure, row: int) -> Cell:
        """Return the cell of one row, without assumptions."""
        key = (measure.name, row)
        found = self._cells.get(key)
        if found is None:
            found = self._cells[key] = self._resolve(measure, row)
        return found

    def _resolve(self, measure: Measure, row: int) -> Cell:
        """Work out one cell: what a change states, else the suppliers in order."""
        subject, overrides, shared = self.subject(measure, row)
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
        said = self.context.facts.of(measure.name, subject)
        if kind_of(measure) is Kind.WEAPON:
            return ()
        if kind_of(measure) is not Kind.ANIMAL:
            return said
        entity = self.context.layout.entities[row]
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

    def subject(self, measure: Measure, row: int) -> tuple[str, tuple[Fact, ...], Hashable]:
        """Return the id statements are kept under, what a change states, and what like rows share."""
        layout = self.context.layout
        match kind_of(measure):
            case Kind.PLACE:
                place = layout.places[row]
                return place.key, place.facts, None
            case Kind.TANK:
                return TANK, layout.tank_facts[row], None
            case Kind.WEAPON:
                weapon = layout.weapons[row]
                animal_id = layout.entities[layout.armed[row]].animal.id
                alone = animal_id if self._cards.changes_alone(animal_id) else ""
                return animal_id, (), (weapon.name, weapon.cards, alone)
            case kind if kind in LISTED:
                thing = layout.things[kind][row]
                return thing.id, thing.facts, None
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
                    self._shared[key] = self._from_card(measure, row)
                return self._shared[key]
            case Supplier.KEEPER:
                return self._reader.cell(measure, said)
            case _:
                supply = self._supplies.get(measure.computed_by)
                return supply(self.context, measure, row, so_far) if supply is not None else None

    def _from_card(self, measure: Measure, row: int) -> Cell:
        """What the cards of an animal say of it, or of one of its weapons."""
        layout = self.context.layout
        if kind_of(measure) is not Kind.WEAPON:
            entity = layout.entities[row]
            return self._cards.cell(measure, entity.choice, entity.animal.id)
        weapon = layout.weapons[row]
        entity = layout.entities[layout.armed[row]]
        if weapon.stranger:
            silent = f"card {' or '.join(weapon.cards)}" if weapon.cards else "no card"
            return unknown(measure, (plain(silent, "does not tell its weapons"),))
        choice = CardChoice(weapon.cards, entity.choice.note)
        told = self._cards.cell(measure, choice, entity.animal.id, weapon.name)
        if measure.card_line != WEAPON:
            return told
        kind = weapon_kind(weapon)
        return replace(kind, supports=(*kind.supports, *touched((told,), self._spans)))

    def _nothing(self, measure: Measure) -> Cell:
        """The cell of something nobody has told; one object for all rows."""
        key = (measure.name, "nothing told")
        if key not in self._shared:
            place_number = isinstance(measure.type, NumberType) and kind_of(measure) in (
                Kind.PLACE,
                Kind.TANK,
            )
            self._shared[key] = unknown(measure, (plain("not measured" if place_number else "not told"),))
        return self._shared[key]

    def assumption(self, measure: Measure, row: int) -> Assumption | None:
        """Return what is reckoned with for one row, if anything."""
        if not measure.assumptions:
            return None
        groups: frozenset[str] | None = None
        if kind_of(measure) is Kind.ANIMAL:
            group = self.of(GROUP, row)
            groups = group.possible if isinstance(group, WordCell) and known(group) else None
        fitting = [
            each for each in measure.assumptions if not each.groups or (groups and groups & set(each.groups))
        ]
        if not fitting or (fitting[0].groups and groups and len(groups) > 1 and not _covers(fitting, groups)):
            return None
        return _joined(fitting) if groups and len(groups) > 1 else fitting[0]


def kind_of(measure: Measure) -> Kind:
    """Return the kind of the one thing a measure is about."""
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


def reckoned(assumption: Assumption, cell: Cell) -> Cell:
    """Return the cell of an assumption."""
    supports = (assumed_support(assumption), *cell.supports)
    return NumberCell(assumption.low, None, assumption.high, CellKind.ASSUMED, Cause.MISSING, supports)
