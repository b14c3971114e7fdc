"""Edits of a tank that is not touched: every question is asked of a change."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from advisor.model.tank import Animal, Fact


@dataclass(frozen=True, slots=True)
class Add:
    """Put an animal on a spot; an empty `spot` leaves it where its own position says."""

    animal: Animal
    spot: str = ""


@dataclass(frozen=True, slots=True)
class Remove:
    """Take an animal out of the tank."""

    animal_id: str


@dataclass(frozen=True, slots=True)
class Move:
    """Put an animal of the tank on another spot."""

    animal_id: str
    spot: str


@dataclass(frozen=True, slots=True)
class SetFact:
    """Let one thing be as stated, whatever the tank folder says of it."""

    fact: Fact


Edit: TypeAlias = Add | Remove | Move | SetFact
Change: TypeAlias = tuple[Edit, ...]
"""Edits in order; the empty tuple is the tank as it is."""


@dataclass(frozen=True, slots=True)
class CardChoice:
    """The card or cards that may be meant by what a keeper calls an animal."""

    cards: tuple[str, ...]
    """Names of cards; several where the species is not certain, none where nothing is known."""
    note: str = ""
    """How the name led to the cards, where it is not plain."""


NO_CARD = CardChoice(())
"""Of an animal about which no card speaks."""
