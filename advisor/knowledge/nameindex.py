"""Every name of every card, made plain, so that what a keeper writes can be looked up."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Self

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


_NO_EPITHETS = frozenset({"coral", "corals", "type", "forms", "form", "incl", "and"})
_SHORTEST_EPITHET = 5
_BINOMIAL = re.compile(r"([A-Z][a-z]+)(?: \([A-Z][a-z]+\))? ([a-z]{4,})(?: / ([a-z]{4,})\b)?")
_GENUS = re.compile(r"\b[A-Z][a-z]{2,}")


@dataclass(slots=True)
class NameIndex:
    """Every name of every card, made plain, with the cards that bear it."""

    names: dict[str, tuple[str, ...]] = field(default_factory=dict)
    genera: dict[str, tuple[str, ...]] = field(default_factory=dict)
    groups: dict[str, tuple[str, ...]] = field(default_factory=dict)
    own: dict[str, str] = field(default_factory=dict)
    short: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """Names without the word coral at their end."""
    epithets: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """Second words of scientific names."""
    house: Self | None = None
    """The names of the house's own cards, kept apart: a name they share with a shipped one means both."""

    def bearers(self, name: str) -> tuple[str, ...]:
        """Return every card that bears a name: as a name, as its genus, or as its species.

        A trade name goes before the species of another genus that sounds the same.
        """
        found = (*self.names.get(name, ()), *self.genera.get(name, ()))
        if not found or name in self.genera:
            found = (*found, *self.epithets.get(name, ()))
        return tuple(dict.fromkeys(found))


def plain_name(text: str) -> str:
    """Return `text` in lower case, every run of other than letters and digits one space."""
    return re.sub(r"[^a-z0-9]+", " ", text.lower().replace("'", "")).strip()


def index_names(library: Library) -> NameIndex:
    """Return every name of every card, plain; those of the house's own cards apart."""
    own = [card for card in library.cards.values() if card.name in library.own_cards]
    index = _index(card for card in library.cards.values() if card.name not in library.own_cards)
    index.house = _index(own) if own else None
    return index


def _index(cards: Iterable[Card]) -> NameIndex:
    """Every name of some cards, plain."""
    index = NameIndex()
    names: dict[str, dict[str, None]] = {}
    genera: dict[str, dict[str, None]] = {}
    groups: dict[str, dict[str, None]] = {}
    for card in cards:
        index.own.setdefault(plain_name(card.name), card.name)
        for name in (card.title, *card.also, *_values(card, "taxon"), *_scientific(card)):
            names.setdefault(plain_name(name), {})[card.name] = None
        for genus in _values(card, "genus"):
            genera.setdefault(plain_name(genus), {})[card.name] = None
        for group in _values(card, "group"):
            groups.setdefault(group, {})[card.name] = None
    index.names = _tuples(names)
    index.genera = _tuples(genera)
    index.short = _tuples(_shortened(names))
    index.epithets = _tuples(_epithets(names, index.genera))
    index.groups = _tuples({plain_name(group): cards for group, cards in groups.items()})
    for word, wanted in _GROUP_WORDS.items():
        meant = {card: None for group in wanted for card in groups.get(group, {})}
        if meant:
            index.groups[word] = tuple(meant)
    return index


def _scientific(card: Card) -> tuple[str, ...]:
    """Every genus and binomial named in the taxon of a card."""
    found: dict[str, None] = {}
    for text in _values(card, "taxon"):
        found.update(dict.fromkeys(_GENUS.findall(text)))
        for genus, *species in _BINOMIAL.findall(text):
            found.update({f"{genus} {each}": None for each in species if each and each not in _NO_EPITHETS})
    return tuple(found)


def _shortened(names: Mapping[str, dict[str, None]]) -> dict[str, dict[str, None]]:
    """Names that end in coral, without that word."""
    out: dict[str, dict[str, None]] = {}
    for name, cards in names.items():
        if name.endswith(" coral"):
            out.setdefault(name.removesuffix(" coral"), {}).update(cards)
    return out


def _epithets(
    names: Mapping[str, dict[str, None]], genera: Mapping[str, tuple[str, ...]]
) -> dict[str, dict[str, None]]:
    """The species words of all binomials, by the genera that cards name."""
    out: dict[str, dict[str, None]] = {}
    for name, cards in names.items():
        genus, _, species = name.partition(" ")
        one_word = species.isalpha() and species not in _NO_EPITHETS
        if genus in genera and one_word and len(species) >= _SHORTEST_EPITHET:
            out.setdefault(species, {}).update(cards)
    return out


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
    found = {**index.genera, **index.names, **{own: (card,) for own, card in index.own.items()}}
    for name, cards in spellings(index.house).items() if index.house else ():
        found[name] = tuple(dict.fromkeys((*cards, *found.get(name, ()))))
    return found
