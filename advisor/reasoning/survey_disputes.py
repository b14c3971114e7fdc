"""Card lines on which two sources disagree, and the rules as each source alone would have them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue
from advisor.model.vocabulary import Kind, Measure
from advisor.reasoning.survey_rows import Layout

_VOUCHED = ("light-min", "light-max", "flow-min", "flow-max")
"""Card lines by which an animal that does well bounds the place where it stands."""
_GROWTH = "growth-"
"""How the card lines begin that what is taken at a month rests on."""


@dataclass(frozen=True, slots=True)
class Dispute:
    """One line of one card that is told twice, with different numbers."""

    card: str
    key: str
    of: str
    """The weapon it is about; empty for other lines."""
    numbers: tuple[float, ...]
    """What is told, lowest first. [base unit]"""
    animal: str = ""
    """The animal for which alone the house has the card read so; empty for the card itself."""


def disputes_of(library: Library) -> tuple[Dispute, ...]:
    """Return every disputed line of the cards of a library."""
    alone = [(animal, card) for animal, cards in library.alone.items() for card in cards.values()]
    return tuple(
        dispute
        for animal, card in (*(("", card) for card in library.cards.values()), *alone)
        for dispute in _of_card(card, animal)
    )


def _of_card(card: Card, animal: str) -> Iterable[Dispute]:
    """The disputed lines of one card."""
    told: dict[tuple[str, str], set[float]] = {}
    for value in card.values:
        if value.number is not None:
            told.setdefault((value.key, value.of), set()).add(value.number)
    for (key, of), numbers in told.items():
        if len(numbers) > 1:
            yield Dispute(card.name, key, of, tuple(sorted(numbers)), animal)


def as_told(library: Library, dispute: Dispute, number: float) -> Library:
    """Return the library in which one of the disagreeing numbers of a line stands alone."""

    def kept(value: CardValue) -> bool:
        meant = (value.key, value.of) == (dispute.key, dispute.of) and value.number is not None
        return not meant or value.number == number

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

    def at(self, measure: Measure, rows: tuple[int, ...]) -> tuple[Dispute, ...]:
        """Return the disputed lines that a value of some rows rests on."""
        if not self._every:
            return ()
        if measure.computed_by.startswith("vouched-"):
            return tuple(dispute for dispute in self._every if dispute.key in _VOUCHED)
        if measure.at_a_month:
            return tuple(
                dispute
                for row in rows
                for dispute in self._of(self._whose(Kind.ANIMAL, row))
                if dispute.key.startswith(_GROWTH)
            )
        found = self._of(self._whose(measure.params[0].kind, rows[0]))
        return tuple(dispute for dispute in found if dispute.key == measure.card_line)

    def _whose(self, kind: Kind, row: int) -> tuple[str, tuple[str, ...]]:
        """The animal of a row, and the cards it may have."""
        layout = self._layout
        if kind is Kind.WEAPON:
            return layout.entities[layout.armed[row]].animal.id, layout.weapons[row].cards
        entity = layout.entities[layout.animals[row].entity]
        return entity.animal.id, entity.choice.cards

    def _of(self, whose: tuple[str, tuple[str, ...]]) -> Iterable[Dispute]:
        """The disputed lines of an animal's cards, as they are read for it."""
        animal, cards = whose
        own = {dispute.card for dispute in self._every if dispute.animal == animal and animal}
        return (
            dispute
            for dispute in self._every
            if dispute.card in cards and dispute.animal == (animal if dispute.card in own else "")
        )
