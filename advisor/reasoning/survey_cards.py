"""From cards to cells: planning numbers as points, disagreements kept, house changes named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue, HouseEdit, HouseVerb, Number
from advisor.model.cells import Cause, Cell, CellKind, NumberCell, SetCell, Support, WordCell
from advisor.model.changes import CardChoice
from advisor.model.vocabulary import Measure, NumberType, SetType
from advisor.reasoning.survey_grounds import card_support, plain, quantity
from advisor.reasoning.survey_values import unknown
from advisor.units import to_base, unit_named

WEAPON = "weapon"
"""Head of the card lines of which there may be several; the largest value over them counts."""
NO_WEAPON = "none"


@dataclass(frozen=True, slots=True)
class _Line:
    """One value of a card, after house changes."""

    value: CardValue
    number: float
    edit: HouseEdit | None


class CardReader:
    """Turns card values into cells."""

    def __init__(self, library: Library) -> None:
        self._cards = library.cards
        self._edits: dict[tuple[str, str], list[HouseEdit]] = {}
        self._changed: set[str] = set()
        for edit in library.house:
            if edit.verb is HouseVerb.CHANGE_CARD:
                self._edits.setdefault((edit.target, edit.key), []).append(edit)
                self._changed.add(edit.animal)
        self._values: dict[str, dict[str, list[CardValue]]] = {}

    def changes_alone(self, animal_id: str) -> bool:
        """Whether the house changes a card for this animal alone."""
        return animal_id in self._changed

    def cell(self, measure: Measure, choice: CardChoice, animal_id: str = "") -> Cell:
        """Return what the card or cards of an animal say of one measure."""
        cards = [self._cards[name] for name in choice.cards if name in self._cards]
        if not cards:
            return unknown(measure, (plain("no card", choice.note),))
        cells = [self._of_card(measure, card, animal_id) for card in cards]
        return cells[0] if len(cells) == 1 else _hull(choice, cells)

    def _lines(self, card: Card, key: str) -> list[CardValue]:
        """Values of a card under one key."""
        table = self._values.get(card.name)
        if table is None:
            table = self._values[card.name] = {}
            for value in card.values:
                table.setdefault(value.key, []).append(value)
        return table.get(key, [])

    def _edit(self, card: Card, key: str, animal_id: str) -> HouseEdit | None:
        """The house change of a value, one for this animal alone before one for the card."""
        edits = self._edits.get((card.name, key), [])
        alone = [edit for edit in edits if edit.animal and edit.animal == animal_id]
        general = [edit for edit in edits if not edit.animal]
        found = alone or general
        return found[-1] if found else None

    def _of_card(self, measure: Measure, card: Card, animal_id: str) -> Cell:
        """What one card says of one measure."""
        values = self._lines(card, measure.card_line)
        if isinstance(measure.type, NumberType):
            return self._number(measure, card, values, animal_id)
        words = [(value, _words(value)) for value in values]
        spoken = [(value, said) for value, said in words if said]
        if not spoken:
            return unknown(measure, (plain(f"card {card.name}", "does not say"),))
        supports = tuple(dict.fromkeys(card_support(card.name, value, card.source, None, False)
                                       for value, _ in spoken))  # fmt: skip
        every = frozenset(word for _, said in spoken for word in said)
        if isinstance(measure.type, SetType):
            return SetCell(every, every, CellKind.CARD, None, supports)
        return WordCell(every, CellKind.CARD, None, supports)

    def _number(
        self, measure: Measure, card: Card, values: Sequence[CardValue], animal_id: str
    ) -> NumberCell:
        """The planning number of one card: a point, unless nothing says which of two lines governs."""
        edit = self._edit(card, measure.card_line, animal_id)
        lines = [_Line(value, value.number, edit) for value in values if value.number is not None]
        if edit is not None and edit.animal:
            lines = _edited(lines, edit)
        if not lines:
            return self._no_number(measure, card)
        per_head: dict[str, list[_Line]] = {}
        for line in lines:
            per_head.setdefault(line.value.of, []).append(line)
        return _largest(measure, [_agreed(measure, card, group) for group in per_head.values()])

    def _no_number(self, measure: Measure, card: Card) -> NumberCell:
        """A number the card does not give; an animal without weapons has none of their numbers."""
        weapons = {word for value in self._lines(card, WEAPON) for word in _words(value)}
        if measure.card_line.startswith(f"{WEAPON}-") and weapons == {NO_WEAPON}:
            point, none = max(measure.low, 0.0), plain(f"card {card.name}", "no weapon")
            return NumberCell(point, point, point, CellKind.CARD, None, (none,))
        why = plain(f"card {card.name}", "does not say")
        return NumberCell(measure.low, None, measure.high, CellKind.UNKNOWN, Cause.MISSING, (why,))


def _edited(lines: Sequence[_Line], edit: HouseEdit) -> list[_Line]:
    """Lines with the one that held the old number changed; all that are meant where none held it."""
    if edit.new is None:
        return list(lines)
    new, old = base_of(edit.new), None if edit.old is None else base_of(edit.old)
    meant = [line for line in lines if not edit.of or line.value.of == edit.of]
    matching = [line for line in meant if line.number == old] or meant
    changed = [
        _Line(line.value, new, edit) if line in matching else replace(line, edit=None) for line in lines
    ]
    return changed or [_Line(CardValue(edit.span, edit.key, number=new), new, edit)]


def base_of(number: Number) -> float:
    """Return a literal in its base unit."""
    return to_base(number.value, unit_named(number.unit)) if number.unit else number.value


def _words(value: CardValue) -> tuple[str, ...]:
    """The words of a card value, however it holds them."""
    if value.words:
        return value.words
    return tuple(word for word in (value.word or value.text,) if word)


def _agreed(measure: Measure, card: Card, lines: Sequence[_Line]) -> NumberCell:
    """The value that governs where lines of one head disagree; both stay in the grounds."""
    low, high = min(line.number for line in lines), max(line.number for line in lines)
    disputed = low != high
    supports = tuple(card_support(card.name, line.value, card.source, line.edit, disputed) for line in lines)
    if disputed:
        supports = tuple(_with_number(support, line.number, measure)
                         for support, line in zip(supports, lines, strict=True))  # fmt: skip
    if measure.stricter == "lower":
        high = low
    elif measure.stricter == "higher":
        low = high
    return NumberCell(low, low if low == high else None, high, CellKind.CARD, None, supports)


def _with_number(support: Support, number: float, measure: Measure) -> Support:
    """A ground that also tells which number it gives."""
    told = f"{quantity(number, measure)}: {support.source}" if support.source else quantity(number, measure)
    return Support(support.text, support.grade, support.on, support.age_days, told, support.span)


def _largest(measure: Measure, cells: Sequence[NumberCell]) -> NumberCell:
    """The largest value over several weapons."""
    if len(cells) == 1:
        return cells[0]
    low, high = max(cell.low for cell in cells), max(cell.high for cell in cells)
    counting = [cell for cell in cells if cell.high >= low]
    supports = tuple(dict.fromkeys(support for cell in counting for support in cell.supports))
    return NumberCell(low, low if low == high else None, high, CellKind.CARD, None, supports)


def _hull(choice: CardChoice, cells: Sequence[Cell]) -> Cell:
    """What holds of whichever card is meant: the hull of what they say."""
    either = " or ".join(choice.cards)
    note = plain("species not certain", f"{choice.note}: {either}" if choice.note else either)
    supports = (note, *dict.fromkeys(support for cell in cells for support in cell.supports))
    cause = next((cell.cause for cell in cells if cell.cause is not None), None)
    kind = CellKind.CARD if cause is None else CellKind.UNKNOWN
    numbers = [cell for cell in cells if isinstance(cell, NumberCell)]
    if numbers:
        low, high = min(cell.low for cell in numbers), max(cell.high for cell in numbers)
        best = low if low == high else None
        return NumberCell(low, best, high, kind, cause, supports)
    sets = [cell for cell in cells if isinstance(cell, SetCell)]
    if sets:
        possible = [cell.possibly for cell in sets if cell.possibly is not None]
        every = frozenset().union(*possible) if len(possible) == len(sets) else None
        return SetCell(frozenset.intersection(*(cell.surely for cell in sets)), every, kind, cause, supports)
    words = [cell.possible for cell in cells if isinstance(cell, WordCell)]
    known = [possible for possible in words if possible is not None]
    union = frozenset().union(*known) if len(known) == len(words) else None
    return WordCell(union, kind, cause, supports)
