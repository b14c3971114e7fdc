"""Rows of the survey: who stands where, in the tank as it is and in every change laid over it."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from advisor.model.changes import CardChoice
from advisor.model.tank import Animal, Fact, Spot
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Bools, Ints

TANK = "tank"
"""Subject of facts about the tank itself."""
WEAPON = "weapon"
"""Head of the card lines of which there may be several."""
NO_WEAPON = "none"
STRANGER = "some weapon"
"""What a weapon is called of which nobody told."""


@dataclass(frozen=True, slots=True)
class AnimalRow:
    """One animal at one place, in one world or in all of them."""

    id: str
    animal: Animal
    place: int
    world: int = -1
    """-1: stands in every world that has not removed it."""
    entity: int = 0
    """Row of what is known of the animal itself, shared by its rows at other places."""
    here: bool = True
    """Whether it stands where the keeper's statements found it; False once added or moved."""


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """One place: a spot, or wherever an animal without a spot stands."""

    id: str
    spot: Spot | None
    animal_id: str = ""
    world: int = -1
    facts: tuple[Fact, ...] = ()
    """What the change says of it, instead of what the tank folder says."""

    @property
    def key(self) -> str:
        """The subject under which statements about it are kept."""
        return self.spot.id if self.spot is not None else place_of(self.animal_id)


@dataclass(frozen=True, slots=True)
class Entity:
    """What is known of one animal, wherever it stands."""

    animal: Animal
    choice: CardChoice
    moved: bool = False
    """Whether it has only just been put where it stands."""
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True)
class WeaponRow:
    """One weapon of an animal; animals of one kind share it.

    An animal whose species is not certain has rows `apart` for each card, which
    aggregates reckon with card by card, and `bound` ones for rules, one for
    each weapon whatever card has it.
    """

    name: str
    cards: tuple[str, ...]
    """The cards it stands on; none for a weapon nobody told of."""
    part: int = 0
    """Which of the animal's cards it is of."""
    apart: bool = True
    bound: bool = True
    perhaps: bool = False
    """Whether another card the animal may have lacks it."""

    @property
    def stranger(self) -> bool:
        """Whether it stands for any weapons the animal may have."""
        return self.name == STRANGER


@dataclass(frozen=True, slots=True)
class ThingRow:
    """A rock, lamp, pump or fish, in one world or in all of them."""

    id: str
    world: int = -1
    facts: tuple[Fact, ...] = ()
    """What the change says of it, instead of what the tank folder says."""
    stranger: bool = False
    """Whether it stands for any of which nobody told, where the tank file has no list of them."""


def place_of(animal_id: str) -> str:
    """Return the id of the place of an animal that stands on no spot."""
    return f"at {animal_id}"


@dataclass(slots=True)
class Layout:
    """All rows. Rows that every world shares come first."""

    animals: list[AnimalRow] = field(default_factory=list)
    places: list[PlaceRow] = field(default_factory=list)
    entities: list[Entity] = field(default_factory=list)
    tank_facts: list[tuple[Fact, ...]] = field(default_factory=lambda: [()])
    """What a change says of the tank; row 0 is the tank as it is."""
    tank_row: list[int] = field(default_factory=lambda: [0])
    """Row of the tank table for each world."""
    spot_place: dict[str, int] = field(default_factory=dict)
    removals: list[tuple[int, int]] = field(default_factory=list)
    """World and shared row of every animal that is gone from where it stood."""
    world_facts: list[tuple[int, Fact]] = field(default_factory=list)
    """Facts about two things that a change states."""
    things: dict[Kind, list[ThingRow]] = field(default_factory=dict)
    """Rows of each kind that a tank file lists."""
    weapons: list[WeaponRow] = field(default_factory=list)
    armed: list[int] = field(default_factory=list)
    """The entity whose each weapon is."""
    gone: list[tuple[Kind, int, int]] = field(default_factory=list)
    """Kind, world and row of every place or thing that another row stands for in a world."""
    shared_animals: int = 0
    shared_places: int = 0

    def world_of_animals(self) -> Ints:
        """World of each animal row, -1 where shared."""
        return np.array([row.world for row in self.animals], np.int64)

    def place_of_animals(self) -> Ints:
        """Place row of each animal row."""
        return np.array([row.place for row in self.animals], np.int64)

    def entity_of_animals(self) -> Ints:
        """Entity row of each animal row."""
        return np.array([row.entity for row in self.animals], np.int64)

    def removed(self) -> Bools:
        """Whether a shared animal row is gone in a world; shape (worlds, shared rows)."""
        gone = np.zeros((len(self.tank_row), self.shared_animals), np.bool_)
        for world, row in self.removals:
            gone[world, row] = True
        return gone
