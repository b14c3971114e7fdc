"""From what a keeper calls an animal to the card or cards it may mean."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from advisor.knowledge.nameindex import NameIndex, index_names, plain_name, spellings
from advisor.language.library import Library
from advisor.model.changes import NO_CARD, CardChoice
from advisor.model.tank import Animal

_READ_AS = 82.0
"""Least likeness (of 100) at which a misspelt name is taken for a known one."""
_SURELY_READ_AS = 92.0
"""Likeness (of 100) at which a misspelt name counts before a known name inside it."""
_NEAREST = 55.0
"""Least likeness (of 100) at which a known name is offered as a suggestion."""
_SUGGESTIONS = 4
_CANDIDATES = 8
_BOTH = 2
_BEFORE = frozenset({"a", "an", "any", "assorted", "my", "mystery", "new", "random", "some", "the",
                     "unidentified", "unknown"})  # fmt: skip
_BEHIND = frozenset({"colony", "frag", "frags", "piece", "sp", "spp"})
"""Words before and behind a name that say nothing of what it is."""
_OF_RANK = {True: "the genus of", False: "the species name of"}


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
    The match. Tried in order: the card's own name; its title, other names,
    genus and species together; group; a known name inside a longer one; a
    misspelling. Where several cards bear the name all are given, and the
    match is not certain.

    Notes
    -----
    A number behind a name (``torch-1``) counts for nothing.
    """
    return _find(text, index_names(library))


def shipped_bearers(name: str, library: Library) -> tuple[str, ...]:
    """Return the shipped cards that bear a name: own, title, other, genus, species or group."""
    index = index_names(library)
    plain = plain_name(name)
    match = _whole(plain, name, index) or _whole(_unnumbered(plain), name, index)
    return match.cards if match is not None else ()


def choose_cards(
    animals: Iterable[Animal], library: Library, wanted: Iterable[str] = ()
) -> dict[str, CardChoice]:
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
    index = index_names(library)
    found = {animal.id: _choice(animal.taxon or animal.id, index) for animal in animals}
    return found | {name: _choice(name, index) for name in wanted if name not in found}


def _choice(text: str, index: NameIndex) -> CardChoice:
    match = _find(text, index)
    if not match.cards:
        return CardChoice((), match.how) if match.how else NO_CARD
    return CardChoice(match.cards, match.how)


def _told(match: CardMatch) -> CardMatch:
    """A match on several cards, with what counts until it is known which of them it is."""
    if len(match.cards) < _BOTH:
        return match
    suits = "both" if len(match.cards) == _BOTH else "all of them"
    return replace(match, how=f"{match.how}; the strictest counts, so a yes must suit {suits}")


def _find(text: str, index: NameIndex) -> CardMatch:
    return _told(_meant(text, index))


def _meant(text: str, index: NameIndex) -> CardMatch:
    plain = plain_name(text)
    if not plain:
        return CardMatch((), "no name was given", certain=False)
    bare = _unnumbered(plain)
    for name in dict.fromkeys((plain, bare, _without_fillers(bare))):
        match = _known(name, text, index)
        if match is not None:
            return match
    near = _near(bare, index)
    return (
        _misspelt(near, text, index, _SURELY_READ_AS)
        or _contained(bare, text, index)
        or _misspelt(near, text, index, _READ_AS)
        or _nothing(near, text, index)
    )


def _unnumbered(name: str) -> str:
    """A name without the numbers behind it."""
    return re.sub(r"( \d+)+$", "", name)


def _without_fillers(name: str) -> str:
    """A name without words that say nothing of what it is: some, unknown, frag."""
    words = name.split()
    while len(words) > 1 and words[0] in _BEFORE:
        words = words[1:]
    while len(words) > 1 and words[-1] in _BEHIND:
        words = words[:-1]
    return " ".join(words)


def _known(name: str, text: str, index: NameIndex) -> CardMatch | None:
    """Match on a whole name; one that a card of the house shares with shipped ones means all of them."""
    house = _whole(name, text, index.house) if index.house else None
    shipped = _whole(name, text, index) or (_whole(_unnumbered(name), text, index) if house else None)
    if house is not None and shipped is not None:
        cards = tuple(dict.fromkeys((*house.cards, *shipped.cards)))
        return CardMatch(cards, f"'{text}' may be {_either(cards)}", certain=False, candidates=cards)
    by_genus = (_by_genus(name, text, each) for each in (index, index.house) if each)
    return house or shipped or next(filter(None, by_genus), None)


def _whole(name: str, text: str, index: NameIndex) -> CardMatch | None:
    """Match on a whole name: own, other, genus, species, group."""
    if name in index.own:
        return CardMatch((index.own[name],), "", certain=True)
    shapes = (name, name.removesuffix("s"), name.removesuffix(" coral"), name.removesuffix(" corals"))
    for shape in shapes:
        cards = index.bearers(shape)
        if cards:
            what = "another name for" if shape in index.names else _OF_RANK[shape in index.genera]
            return _named(cards, text, what)
    for shape in shapes:
        if shape in index.groups:
            return _grouped(index.groups[shape], text)
        if shape in index.short:
            return _named(index.short[shape], text, "another name for")
    several = index.bearers(f"{name}s")
    return _named(several, text, "another name for") if several else None


def _named(cards: tuple[str, ...], text: str, what: str) -> CardMatch:
    """Return a match on a name that one or several cards bear."""
    if len(cards) == 1:
        return CardMatch(cards, f"'{text}' is {what} {_title(cards[0])}", certain=True)
    return CardMatch(cards, f"'{text}' may be {_either(cards)}", certain=False, candidates=cards)


def _grouped(cards: tuple[str, ...], text: str) -> CardMatch:
    """Return a match on the name of a group."""
    if len(cards) == 1:
        return _named(cards, text, "the group of")
    how = f"'{text}' may be any of {len(cards)} cards: {_either(cards)}"
    return CardMatch(cards, how, certain=False, candidates=cards)


def _by_genus(name: str, text: str, index: NameIndex) -> CardMatch | None:
    """Match a binomial whose genus alone is known."""
    genus, _, species = name.partition(" ")
    cards = index.genera.get(genus)
    if not cards or not species or species in ("coral", "corals"):
        return None
    return CardMatch(
        cards,
        f"'{text}' is not on a card; by its genus taken for {_either(cards)}",
        certain=False,
        candidates=cards,
    )


def _contained(name: str, text: str, index: NameIndex) -> CardMatch | None:
    """Match the longest known name inside a longer one: 'green torch frag'."""
    words = name.split()
    for length in range(len(words), 0, -1):
        hits: dict[str, None] = {}
        for start in range(len(words) - length + 1):
            part = " ".join(words[start : start + length])
            hits.update(dict.fromkeys(cards_named(part, index)))
        if hits:
            cards = tuple(hits)
            return CardMatch(
                cards, f"'{text}' was taken for {_either(cards)}", certain=False, candidates=cards
            )
    return None


def cards_named(part: str, index: NameIndex) -> tuple[str, ...]:
    """Return the cards that bear exactly this name, its singular, this genus or this group."""
    house = cards_named(part, index.house) if index.house else ()
    return tuple(dict.fromkeys((*house, *_borne(part, index))))


def _borne(part: str, index: NameIndex) -> tuple[str, ...]:
    """The cards of one index that bear a name."""
    if part in index.own:
        return (index.own[part],)
    single = part.removesuffix("s")
    return (
        index.bearers(part)
        or index.bearers(single)
        or index.groups.get(part)
        or index.groups.get(single)
        or index.short.get(part)
        or index.bearers(f"{part}s")
    )


def _near(name: str, index: NameIndex) -> list[tuple[str, float]]:
    """Return known names that are like this one, with their likeness, best first."""
    from rapidfuzz import fuzz, process

    found = process.extract(name, list(spellings(index)), scorer=fuzz.ratio, limit=12, score_cutoff=_NEAREST)
    return [(spelling, score) for spelling, score, _ in found]


def _misspelt(near: list[tuple[str, float]], text: str, index: NameIndex, least: float) -> CardMatch | None:
    """Match by likeness of at least `least`; names equally like count together."""
    if not near or near[0][1] < least:
        return None
    known = spellings(index)
    best = [spelling for spelling, score in near if score >= near[0][1]]
    cards = tuple(dict.fromkeys(card for spelling in best for card in known[spelling]))
    how = f"'{text}' was read as '{best[0]}': {_either(cards)}"
    return CardMatch(cards, how, certain=False, candidates=cards)


def _nothing(near: list[tuple[str, float]], text: str, index: NameIndex) -> CardMatch:
    """Say that no card is known, and offer what is nearest."""
    known = spellings(index)
    nearest = tuple(dict.fromkeys(card for spelling, _ in near for card in known[spelling]))[:_SUGGESTIONS]
    hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
    return CardMatch((), f"no card is known for '{text}'{hint}", certain=False, candidates=nearest)


def _title(card: str) -> str:
    return card.replace("-", " ")


def _either(cards: tuple[str, ...]) -> str:
    """Return card names as a list in words, cut where it grows long."""
    shown = [_title(card) for card in cards[:_CANDIDATES]]
    if len(cards) > _CANDIDATES:
        return f"{', '.join(shown)} or {len(cards) - _CANDIDATES} more"
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"
