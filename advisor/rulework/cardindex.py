"""What cards tell, by the key of the line, gathered once for many questions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from advisor.language.library import Library


@dataclass(frozen=True, slots=True)
class CardIndex:
    """Every value of every card, by its line and the row of the card."""

    names: tuple[str, ...] = ()
    numbers: Mapping[str, tuple[tuple[int, float], ...]] = field(default_factory=dict)
    """Row of the card and value. [base unit]"""
    words: Mapping[str, tuple[tuple[int, str], ...]] = field(default_factory=dict)

    def samples(self, line: str) -> tuple[float, ...]:
        """Return the least, the middle and the largest value of a line. [base unit]"""
        values = sorted(value for _, value in self.numbers.get(line, ()))
        return (values[0], values[len(values) // 2], values[-1]) if values else ()


def index_of(library: Library) -> CardIndex:
    """Return what the cards of a library tell."""
    numbers: dict[str, list[tuple[int, float]]] = {}
    words: dict[str, list[tuple[int, str]]] = {}
    for row, card in enumerate(library.cards.values()):
        for value in card.values:
            if value.number is not None:
                numbers.setdefault(value.key, []).append((row, value.number))
            for word in value.words or ((value.word,) if value.word else ()):
                words.setdefault(value.key, []).append((row, word))
    return CardIndex(
        tuple(library.cards),
        {key: tuple(found) for key, found in numbers.items()},
        {key: tuple(found) for key, found in words.items()},
    )
