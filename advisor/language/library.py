"""Everything the rule files say, checked and joined: what reasoning works with."""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.language.nodes import Card, Define, Example, HouseEdit, Let, Lever, Prefer, Rule, WordMeaning
from advisor.model.vocabulary import Vocabulary


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
