"""Every name of every card, made plain, so that what a keeper writes can be looked up."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from advisor.language.library import Library
from advisor.language.nodes import Card

# Trade words for whole groups; the groups themselves are words of the measure `group`.
_GROUP_WORDS: dict[str, tuple[str, ...]] = {
    "sps": ("small-polyp",),
    "small polyp stony": ("small-polyp",),
    "small polyp": ("small-polyp",),
    "lps": ("large-polyp",),
    "large polyp stony": ("large-polyp",),
    "large polyp": ("large-polyp",),
    "stony": ("small-polyp", "large-polyp"),
    "stony coral": ("small-polyp", "large-polyp"),
    "hard coral": ("small-polyp", "large-polyp"),
    "soft": ("soft",),
    "soft coral": ("soft",),
    "softie": ("soft",),
    "leather": ("soft",),
    "mushroom": ("mushroom",),
    "zoanthid": ("zoanthid",),
    "gorgonian": ("gorgonian", "sea-fan"),
    "sea fan": ("sea-fan", "gorgonian"),
    "clam": ("clam",),
    "anemone": ("anemone",),
    "sun coral": ("sun-coral",),
    "nps": ("sun-coral", "sea-fan"),
}


@dataclass(slots=True)
class NameIndex:
    """Every name of every card, made plain, with the cards that bear it."""

    names: dict[str, tuple[str, ...]] = field(default_factory=dict)
    genera: dict[str, tuple[str, ...]] = field(default_factory=dict)
    groups: dict[str, tuple[str, ...]] = field(default_factory=dict)
    own: dict[str, str] = field(default_factory=dict)


def plain_name(text: str) -> str:
    """Return `text` in lower case, every run of other than letters and digits one space."""
    return re.sub(r"[^a-z0-9]+", " ", text.lower().replace("'", "")).strip()


def index_names(library: Library) -> NameIndex:
    """Return every name of every card, plain."""
    index = NameIndex()
    names: dict[str, dict[str, None]] = {}
    genera: dict[str, dict[str, None]] = {}
    groups: dict[str, dict[str, None]] = {}
    for card in library.cards.values():
        index.own.setdefault(plain_name(card.name), card.name)
        for name in (card.title, *card.also, *_values(card, "taxon")):
            names.setdefault(plain_name(name), {})[card.name] = None
        for genus in _values(card, "genus"):
            genera.setdefault(plain_name(genus), {})[card.name] = None
        for group in _values(card, "group"):
            groups.setdefault(group, {})[card.name] = None
    index.names = _tuples(names)
    index.genera = _tuples(genera)
    index.groups = _tuples({plain_name(group): cards for group, cards in groups.items()})
    for word, wanted in _GROUP_WORDS.items():
        cards = {card: None for group in wanted for card in groups.get(group, {})}
        if cards:
            index.groups[word] = tuple(cards)
    return index


def _tuples(found: Mapping[str, Iterable[str]]) -> dict[str, tuple[str, ...]]:
    return {name: tuple(cards) for name, cards in found.items()}


def _values(card: Card, key: str) -> tuple[str, ...]:
    """Return the words or texts of one key of a card."""
    return tuple(
        text
        for value in card.values
        if value.key == key
        for text in (
            *value.words,
            *([value.text] if value.text else []),
            *([value.word] if value.word else []),
        )
    )


def spellings(index: NameIndex) -> dict[str, tuple[str, ...]]:
    """Return every name a misspelling may stand for, with its cards."""
    return {**index.genera, **index.names, **{own: (card,) for own, card in index.own.items()}}
