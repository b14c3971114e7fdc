"""Everything the rule files say, checked and joined: what reasoning works with."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from advisor.errors import Span
from advisor.language.nodes import (
    Action,
    Card,
    Define,
    Example,
    Handling,
    HouseEdit,
    Let,
    Lever,
    Prefer,
    Rule,
    WordMeaning,
)
from advisor.model.vocabulary import Vocabulary


class AsideKind(StrEnum):
    """Why a house line does not count, though answers can be given without it."""

    DRIFTED = "drifted"
    """The shipped value is no longer the one it was changed from."""
    RAN_OUT = "ran out"
    NOT_YET = "not yet"
    """It counts from a later day than the one asked about."""
    BARE = "bare"
    """An accept of a danger that does not say what would make it lapse."""
    FAULTY = "faulty"
    """It has an error, and could only have let something pass: without it answers are stricter."""
    MOVED = "moved"
    """An accept: one of its animals no longer stands where it stood."""


@dataclass(frozen=True, slots=True)
class Aside:
    """A house line that does not count, and why."""

    edit: HouseEdit
    kind: AsideKind
    where: Span
    """The shipped value it is about, or else the line itself."""
    told: str = ""
    """For a drifted line: the value in force, and whether the house's would be stricter or looser."""

    def holds(self, place: Span | None) -> bool:
        """Return whether a place lies in the line."""
        line = self.edit.span
        if place is None or place.file != line.file:
            return False
        first, last = (line.line, line.column), (line.end_line, line.end_column)
        return first <= (place.line, place.column) <= last


@dataclass(frozen=True, slots=True)
class Shipped:
    """What stood before the house lines were laid over, of those things that they touch."""

    lets: dict[str, Let] = field(default_factory=dict)
    rules: dict[str, Rule] = field(default_factory=dict)
    prefers: dict[str, Prefer] = field(default_factory=dict)
    cards: dict[str, Card] = field(default_factory=dict)
    examples: tuple[Example, ...] = ()
    """Those of rules and preferences that are switched off."""


@dataclass(frozen=True, slots=True)
class Library:
    """A checked set of rule files, house edits already laid over.

    `house` keeps every edit that was applied, so that an explanation can name
    it where it touches; names are unique in each mapping.
    """

    vocabulary: Vocabulary
    lets: dict[str, Let] = field(default_factory=dict)
    defines: dict[str, Define] = field(default_factory=dict)
    rules: dict[str, Rule] = field(default_factory=dict)
    prefers: dict[str, Prefer] = field(default_factory=dict)
    cards: dict[str, Card] = field(default_factory=dict)
    words: tuple[WordMeaning, ...] = ()
    examples: tuple[Example, ...] = ()
    house: tuple[HouseEdit, ...] = ()
    levers: dict[str, Lever] = field(default_factory=dict)
    actions: dict[str, Action] = field(default_factory=dict)
    handlings: dict[str, Handling] = field(default_factory=dict)
    shipped: Shipped = field(default_factory=Shipped)
    alone: dict[str, dict[str, Card]] = field(default_factory=dict)
    """By animal id, then by name: the cards as the house has them read for that one animal."""
    aside: tuple[Aside, ...] = ()
    """House lines that do not count, so that an explanation can say so where they would touch."""
    own_cards: tuple[str, ...] = ()
    """Names of the cards that the house's files declare: a name they share with a shipped card means both."""
    contested: tuple[HouseEdit, ...] = ()
    """House lines that contradict each other on a day on which they count; none of them is applied."""
    on: str = ""
    """ISO date the house lines are in force for; empty while no day was asked about."""
