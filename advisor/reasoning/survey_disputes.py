"""Card lines on which two sources disagree, and the rules as each source alone would have them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue
from advisor.model.computed import behind
from advisor.model.vocabulary import Kind, Measure, Relation, WordType
from advisor.reasoning.survey_cards import words_of
from advisor.reasoning.survey_rows import Layout

Told = float | tuple[str, ...]
"""What a line of a card tells: a number in the base unit, or words."""


@dataclass(frozen=True, slots=True)
class Dispute:
    """One line of one card that is told twice, with different numbers or different words."""

    card: str
    key: str
    of: str
    """The weapon it is about; empty for other lines."""
    told: tuple[Told, ...]
    """What is told, lowest first, or by the alphabet."""
    animal: str = ""
    """The animal for which alone the house has the card read so; empty for the card itself."""


def disputes_of(library: Library) -> tuple[Dispute, ...]:
    """Return every disputed line of the cards of a library."""
    alone = [(animal, card) for animal, cards in library.alone.items() for card in cards.values()]
    single = frozenset(
        measure.card_line
        for measure in library.vocabulary.measures.values()
        if measure.card_line and isinstance(measure.type, WordType)
    )
    return tuple(
        dispute
        for animal, card in (*(("", card) for card in library.cards.values()), *alone)
        for dispute in _of_card(card, animal, single)
    )


def _of_card(card: Card, animal: str, single: frozenset[str]) -> Iterable[Dispute]:
    """The disputed lines of one card; of words only those lines that can have but one."""
    numbers: dict[tuple[str, str], set[float]] = {}
    words: dict[tuple[str, str], set[tuple[str, ...]]] = {}
    for value in card.values:
        if value.number is not None:
            numbers.setdefault((value.key, value.of), set()).add(value.number)
        elif value.key in single:
            words.setdefault((value.key, value.of), set()).add(words_of(value))
    for (key, of), told in numbers.items():
        if len(told) > 1:
            yield Dispute(card.name, key, of, tuple(sorted(told)), animal)
    for (key, of), said in words.items():
        if len(said) > 1:
            yield Dispute(card.name, key, of, tuple(sorted(said)), animal)


def as_told(library: Library, dispute: Dispute, alone: Told) -> Library:
    """Return the library in which one of the disagreeing values of a line stands alone."""

    def kept(value: CardValue) -> bool:
        meant = (value.key, value.of) == (dispute.key, dispute.of)
        said = words_of(value) if isinstance(alone, tuple) else value.number
        return not meant or said == alone or (value.number is None) != isinstance(alone, tuple)

    cards = library.alone[dispute.animal] if dispute.animal else library.cards
    card = cards[dispute.card]
    changed = {**cards, dispute.card: replace(card, values=tuple(filter(kept, card.values)))}
    if dispute.animal:
        return replace(library, alone={**library.alone, dispute.animal: changed})
    return replace(library, cards=changed)


class Disputes:
    """The disputed lines of the cards in a survey, and which values rest on them."""

    def __init__(self, library: Library, layout: Layout) -> None:
        self._every = disputes_of(library)
        self._layout = layout
        self._words = library.vocabulary
        self._behind: dict[str, frozenset[str]] = {}
        self._known: dict[tuple[str, tuple[int, ...]], tuple[Dispute, ...]] = {}
        self._lines: dict[tuple[str, tuple[str, ...]], tuple[Dispute, ...]] = {}

    def at(self, word: Measure | Relation, rows: tuple[int, ...]) -> tuple[Dispute, ...]:
        """Return the disputed lines that a value or a relation of some rows rests on."""
        if not self._every:
            return ()
        key = (word.name, rows)
        if key not in self._known:
            self._known[key] = tuple(dict.fromkeys(self._at(word, rows)))
        return self._known[key]

    def _at(self, word: Measure | Relation, rows: tuple[int, ...]) -> Iterable[Dispute]:
        """The disputed lines behind some rows; any animal may have a share in what a place is vouched for."""
        lines = self._lines_behind(word.name)
        kinds = [param.kind for param in word.params]
        if not all(kind.lives or kind is Kind.WEAPON for kind in kinds):
            return (dispute for dispute in self._every if dispute.key in lines)
        return (
            dispute
            for kind, row in zip(kinds, rows, strict=True)
            for dispute in self._of(self._whose(kind, row))
            if dispute.key in lines
        )

    def _lines_behind(self, name: str) -> frozenset[str]:
        """The lines of cards behind a measure or a relation, those of growth included."""
        found = self._behind.get(name)
        if found is None:
            measures = self._words.measures
            names = behind([name], self._words) & measures.keys()
            found = self._behind[name] = frozenset(measures[each].card_line for each in names) - {""}
        return found

    def _whose(self, kind: Kind, row: int) -> tuple[str, tuple[str, ...]]:
        """The animal of a row, and the cards it may have."""
        layout = self._layout
        if kind is Kind.WEAPON:
            return layout.entities[layout.armed[row]].animal.id, layout.weapons[row].cards
        entity = layout.entities[layout.animals[row].entity]
        return entity.animal.id, entity.choice.cards

    def _of(self, whose: tuple[str, tuple[str, ...]]) -> tuple[Dispute, ...]:
        """The disputed lines of an animal's cards, as they are read for it."""
        if whose not in self._lines:
            animal, cards = whose
            own = {dispute.card for dispute in self._every if dispute.animal == animal and animal}
            self._lines[whose] = tuple(
                dispute
                for dispute in self._every
                if dispute.card in cards and dispute.animal == (animal if dispute.card in own else "")
            )
        return self._lines[whose]
