"""From what a keeper calls an animal to the card or cards it may mean."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from advisor.language.library import Library
from advisor.language.nodes import Card
from advisor.model.changes import NO_CARD, CardChoice
from advisor.model.tank import Animal

_READ_AS = 84.0
"""Least likeness (of 100) at which a misspelt name is taken for a known one."""
_NEAREST = 55.0
"""Least likeness (of 100) at which a known name is offered as a suggestion."""
_SUGGESTIONS = 4

# Trade words for whole groups; the groups themselves are words of the measure `group`.
_GROUP_WORDS: dict[str, tuple[str, ...]] = {
    "sps": ("small-polyp",), "small polyp stony": ("small-polyp",), "small polyp": ("small-polyp",),
    "lps": ("large-polyp",), "large polyp stony": ("large-polyp",), "large polyp": ("large-polyp",),
    "stony": ("small-polyp", "large-polyp"), "stony coral": ("small-polyp", "large-polyp"),
    "hard coral": ("small-polyp", "large-polyp"), "soft": ("soft",), "soft coral": ("soft",),
    "softie": ("soft",), "leather": ("soft",), "mushroom": ("mushroom",), "zoanthid": ("zoanthid",),
    "gorgonian": ("gorgonian", "sea-fan"), "sea fan": ("sea-fan", "gorgonian"), "clam": ("clam",),
    "anemone": ("anemone",), "sun coral": ("sun-coral",), "nps": ("sun-coral", "sea-fan"),
}


@dataclass(frozen=True, slots=True)
class CardMatch:
    """What a name was taken for."""

    cards: tuple[str, ...]
    """Names of the cards it may mean, empty where none is near enough."""
    how: str
    """How the name led there, as a sentence for an answer; empty where it is plain."""
    certain: bool
    candidates: tuple[str, ...] = ()
    """Cards to choose from, or the nearest ones where nothing matched."""


@dataclass(slots=True)
class _Index:
    """Every name of every card, made plain, with the cards that bear it."""

    names: dict[str, tuple[str, ...]] = field(default_factory=dict)
    genera: dict[str, tuple[str, ...]] = field(default_factory=dict)
    groups: dict[str, tuple[str, ...]] = field(default_factory=dict)
    own: dict[str, str] = field(default_factory=dict)


def plain_name(text: str) -> str:
    """Return `text` in lower case, every run of other than letters and digits one space."""
    return re.sub(r"[^a-z0-9]+", " ", text.lower().replace("'", "")).strip()


def find_card(text: str, library: Library) -> CardMatch:
    """Return the card or cards that `text` may mean.

    Parameters
    ----------
    text
        A card's name, a trade name, a binomial present or former, a genus or a group.
    library
        The checked rule files.

    Returns
    -------
    The match. Tried in order: the card's own name or title, its other names,
    genus, group, a known name inside a longer one, a misspelling. Where
    several cards bear the name all are given, and the match is not certain.

    Notes
    -----
    A number behind a name (``torch-1``) counts for nothing.
    """
    return _find(text, _index(library))


def choose_cards(animals: Iterable[Animal], library: Library,
                 wanted: Iterable[str] = ()) -> dict[str, CardChoice]:
    """Return which cards each animal may have, by its id, and for each further name by that name.

    Parameters
    ----------
    animals
        Animals of a tank; their `taxon` is looked up, or their id where they have none.
    library
        The checked rule files.
    wanted
        Names of corals that are not in the tank.
    """
    index = _index(library)
    found = {animal.id: _choice(animal.taxon or animal.id, index) for animal in animals}
    return found | {name: _choice(name, index) for name in wanted if name not in found}


def _choice(text: str, index: _Index) -> CardChoice:
    match = _find(text, index)
    if not match.cards:
        return CardChoice((), match.how) if match.how else NO_CARD
    return CardChoice(match.cards, match.how)


def _find(text: str, index: _Index) -> CardMatch:
    plain = plain_name(text)
    if not plain:
        return CardMatch((), "no name was given", certain=False)
    bare = re.sub(r"( \d+)+$", "", plain)
    for name in dict.fromkeys((plain, bare)):
        match = _known(name, text, index)
        if match is not None:
            return match
    return _contained(bare, text, index) or _misspelt(bare, text, index)


def _known(name: str, text: str, index: _Index) -> CardMatch | None:
    """Match on a whole name: own, other, genus, group."""
    if name in index.own:
        return CardMatch((index.own[name],), "", certain=True)
    for known, what in ((index.names, "a name of"), (index.genera, "a genus of"), (index.groups, "a group of")):
        for spelling in (name, name.removesuffix("s"), name.removesuffix(" coral"), name.removesuffix(" corals")):
            cards = known.get(spelling)
            if cards:
                return _named(cards, text, what)
    return _by_genus(name, text, index)


def _named(cards: tuple[str, ...], text: str, what: str) -> CardMatch:
    """Return a match on a name that one or several cards bear."""
    if len(cards) == 1:
        return CardMatch(cards, f"'{text}' is {what} {_title(cards[0])}", certain=True)
    return CardMatch(cards, f"'{text}' may be {_either(cards)}", certain=False, candidates=cards)


def _by_genus(name: str, text: str, index: _Index) -> CardMatch | None:
    """Match a binomial whose genus alone is known."""
    genus, _, species = name.partition(" ")
    cards = index.genera.get(genus)
    if not cards or not species or species in ("coral", "corals"):
        return None
    return CardMatch(cards, f"'{text}' is not on a card; by its genus taken for {_either(cards)}",
                     certain=False, candidates=cards)


def _contained(name: str, text: str, index: _Index) -> CardMatch | None:
    """Match the longest known name inside a longer one: 'green torch frag'."""
    words = name.split()
    for length in range(len(words), 0, -1):
        hits: dict[str, None] = {}
        for start in range(len(words) - length + 1):
            part = " ".join(words[start:start + length])
            hits.update(dict.fromkeys(_cards_named(part, index)))
        if hits:
            cards = tuple(hits)
            return CardMatch(cards, f"'{text}' was taken for {_either(cards)}", certain=False, candidates=cards)
    return None


def _cards_named(part: str, index: _Index) -> tuple[str, ...]:
    """Return the cards that bear exactly this name, its singular, or this genus."""
    if part in index.own:
        return (index.own[part],)
    single = part.removesuffix("s")
    return (index.names.get(part) or index.names.get(single) or index.genera.get(part)
            or index.groups.get(part) or index.groups.get(single) or ())


def _misspelt(name: str, text: str, index: _Index) -> CardMatch:
    """Match by likeness, or offer what is nearest."""
    from rapidfuzz import fuzz, process  # noqa: PLC0415  (heavy, and seldom needed)

    known = {**index.genera, **index.names, **{own: (card,) for own, card in index.own.items()}}
    near = process.extract(name, list(known), scorer=fuzz.ratio, limit=12, score_cutoff=_NEAREST)
    if near and near[0][1] >= _READ_AS:
        best = [spelling for spelling, score, _ in near if score >= near[0][1]]
        cards = tuple(dict.fromkeys(card for spelling in best for card in known[spelling]))
        return CardMatch(cards, f"'{text}' was read as '{best[0]}': {_either(cards)}", certain=False,
                         candidates=cards)
    nearest = tuple(dict.fromkeys(card for spelling, _, _ in near for card in known[spelling]))[:_SUGGESTIONS]
    hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
    return CardMatch((), f"no card is known for '{text}'{hint}", certain=False, candidates=nearest)


def _title(card: str) -> str:
    return card.replace("-", " ")


def _either(cards: tuple[str, ...]) -> str:
    """Return card names as a list in words, cut where it grows long."""
    shown = [_title(card) for card in cards[:_SUGGESTIONS]]
    if len(cards) > _SUGGESTIONS:
        return f"{', '.join(shown)} or {len(cards) - _SUGGESTIONS} more"
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"


def _index(library: Library) -> _Index:
    """Return every name of every card, plain."""
    index = _Index()
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
    return tuple(text for value in card.values if value.key == key
                 for text in (*value.words, *([value.text] if value.text else []), *([value.word] if value.word else [])))
