"""From cards to cells: planning numbers as points, disagreements kept, house changes named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.errors import Span
from advisor.language.house_state import base
from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue, HouseEdit, HouseVerb
from advisor.model.cells import Cause, Cell, CellKind, NumberCell, SetCell, Support, WordCell
from advisor.model.changes import CardChoice
from advisor.model.vocabulary import Measure, NumberType, SetType
from advisor.reasoning.survey_grounds import card_support, plain, quantity
from advisor.reasoning.survey_rows import NO_WEAPON, WEAPON
from advisor.reasoning.survey_values import unknown


@dataclass(frozen=True, slots=True)
class _Line:
    """One number of a card, and the house line that set it, if one did."""

    value: CardValue
    number: float
    edit: HouseEdit | None


class CardReader:
    """Turns card values into cells."""

    def __init__(self, library: Library) -> None:
        self._cards = library.cards
        self._alone = library.alone
        self._edits: dict[Span, HouseEdit] = {
            edit.span: edit for edit in library.house if edit.verb is HouseVerb.CHANGE_CARD
        }
        self._values: dict[tuple[str, str], dict[str, list[CardValue]]] = {}

    def changes_alone(self, animal_id: str) -> bool:
        """Whether the house changes a card for this animal alone."""
        return animal_id in self._alone

    def cell(self, measure: Measure, choice: CardChoice, animal_id: str = "", weapon: str = "") -> Cell:
        """Return what the card or cards of an animal say of one measure, or of one of its weapons."""
        own = self._alone.get(animal_id, {})
        cards = [own.get(name, self._cards[name]) for name in choice.cards if name in self._cards]
        if not cards:
            return unknown(measure, (plain("no card", choice.note),))
        cells = [self._of_card(measure, card, animal_id, weapon) for card in cards]
        return cells[0] if len(cells) == 1 else _hull(choice, cells)

    def _lines(self, card: Card, key: str, animal_id: str) -> list[CardValue]:
        """Values of a card under one key."""
        which = (card.name, animal_id if card is not self._cards[card.name] else "")
        table = self._values.get(which)
        if table is None:
            table = self._values[which] = {}
            for value in card.values:
                table.setdefault(value.key, []).append(value)
        return table.get(key, [])

    def _of_card(self, measure: Measure, card: Card, animal_id: str, weapon: str) -> Cell:
        """What one card says of one measure, of all its weapons together or of one."""
        values = self._lines(card, measure.card_line, animal_id)
        if weapon:
            values = self._of_weapon(card, values, animal_id, weapon)
        if isinstance(measure.type, NumberType):
            return self._number(measure, card, values, animal_id)
        words = [(value, words_of(value)) for value in values]
        spoken = [(value, said) for value, said in words if said]
        if not spoken:
            return unknown(measure, (plain(f"card {card.name}", "does not say"),))
        supports = tuple(dict.fromkeys(card_support(card.name, value, card.source, self._edit(value), False)
                                       for value, _ in spoken))  # fmt: skip
        every = frozenset(word for _, said in spoken for word in said)
        if isinstance(measure.type, SetType):
            return SetCell(every, every, CellKind.CARD, None, supports)
        return WordCell(every, CellKind.CARD, None, supports)

    def _of_weapon(
        self, card: Card, values: Sequence[CardValue], animal_id: str, weapon: str
    ) -> list[CardValue]:
        """Values of one weapon: of the lines that name it; a line is headed by the first it names."""
        heads = {value.of for value in self._lines(card, WEAPON, animal_id) if weapon in words_of(value)}
        return [value for value in values if value.of in heads]

    def _number(
        self, measure: Measure, card: Card, values: Sequence[CardValue], animal_id: str
    ) -> NumberCell:
        """The planning number of one card: a point, unless nothing says which of two lines governs."""
        lines = [
            _Line(value, value.number, self._edit(value)) for value in values if value.number is not None
        ]
        if not lines:
            return self._no_number(measure, card, animal_id)
        per_head: dict[str, list[_Line]] = {}
        for line in lines:
            per_head.setdefault(line.value.of, []).append(line)
        groups = list(per_head.values())
        cells = [_agreed(measure, card, group) for group in groups]
        return _largest(cells, [max(map(_before, group)) for group in groups])

    def _edit(self, value: CardValue) -> HouseEdit | None:
        """The house line that set a value: it stands where that line does."""
        return self._edits.get(value.span)

    def _no_number(self, measure: Measure, card: Card, animal_id: str) -> NumberCell:
        """A number the card does not give; an animal without weapons has none of their numbers."""
        weapons = {word for value in self._lines(card, WEAPON, animal_id) for word in words_of(value)}
        if measure.card_line.startswith(f"{WEAPON}-") and weapons == {NO_WEAPON}:
            point, none = max(measure.low, 0.0), plain(f"card {card.name}", "no weapon")
            return NumberCell(point, point, point, CellKind.CARD, None, (none,))
        why = plain(f"card {card.name}", "does not say")
        return NumberCell(measure.low, None, measure.high, CellKind.UNKNOWN, Cause.MISSING, (why,))


def words_of(value: CardValue) -> tuple[str, ...]:
    """Return the words of a card value, however it holds them."""
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


def _largest(cells: Sequence[NumberCell], shipped: Sequence[float]) -> NumberCell:
    """The largest value over several weapons; `shipped` is what each had before any house line."""
    if len(cells) == 1:
        return cells[0]
    low, high = max(cell.low for cell in cells), max(cell.high for cell in cells)
    # what the house lowered so far that another weapon governs has still changed the largest
    counting = [cell for cell, before in zip(cells, shipped, strict=True) if max(cell.high, before) >= low]
    supports = tuple(dict.fromkeys(support for cell in counting for support in cell.supports))
    return NumberCell(low, low if low == high else None, high, CellKind.CARD, None, supports)


def _before(line: _Line) -> float:
    """A number of a card as it is shipped."""
    return line.number if line.edit is None or line.edit.old is None else base(line.edit.old)


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
