"""From what a person says they are about to do to the actions the rule files know."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.knowledge.nameindex import plain_name
from advisor.language.nodes import Action
from advisor.language.phrases import inflections, phrases_of

_SHORTEST_MISSPELT = 4
"""Letters a word must have to be looked for misspelt: of shorter ones too many are alike."""
_LITTLE_WORDS = """
a about again all am an and any are as at away be before bit bowl by can colony coral do down for from get
going gonna have he her his how i if im in into is it its just let like little lot make me more my need now
of off ok on one onto or our out over piece please plug polyp polyps put really rock rocks she should so
some tank that the their them then these they this those through to too try up use using very want was we
when while will with would you your
"""
_SAYS_NOTHING = frozenset(_LITTLE_WORDS.split())
"""Words that tell of nothing somebody may be about to do."""
_SHORTEST_MISREAD = 4
"""Letters a known word must have for another to be taken as a misspelling of it."""


@dataclass(frozen=True, slots=True)
class Understood:
    """What was recognised."""

    actions: tuple[str, ...]
    """Names, in the order they are declared."""
    read_as: tuple[tuple[str, str], ...] = ()
    """Each misspelt word with the word it was read as."""
    unread: tuple[str, ...] = ()
    """Words that may say something, and that nothing was recognised in."""
    shared: frozenset[tuple[str, str]] = frozenset()
    """Pairs of actions of which the first was heard only through words that the second was heard through."""


def understood(text: str, actions: Mapping[str, Action]) -> Understood:
    """Return every action that `text` speaks of, in any inflection, and as well with one letter wrong.

    A word that could mean two actions means both: a refusal too many is told and harms nobody.
    """
    said = plain_name(text).split()
    phrases = [(name, phrase) for name, action in actions.items() for phrase in phrases_of(action)]
    hits: dict[int, set[str]] = {}
    for name, phrase in phrases:
        for at in _places(said, phrase):
            for index in range(at, at + len(phrase)):
                hits.setdefault(index, set()).add(name)
    read_as: list[tuple[str, str]] = []
    for index, word in enumerate(said):
        if index not in hits and word not in _SAYS_NOTHING:
            for name, meant in _misspelt(word, phrases):
                hits.setdefault(index, set()).add(name)
                read_as.append((word, meant))
    found = set().union(*hits.values()) if hits else set()
    unread = (word for at, word in enumerate(said) if at not in hits and word not in _SAYS_NOTHING)
    return Understood(
        tuple(name for name in actions if name in found),
        tuple(dict.fromkeys(read_as)),
        tuple(dict.fromkeys(unread)),
        frozenset(
            (one, other)
            for one in found
            for other in found - {one}
            if all(other in names for names in hits.values() if one in names)
        ),
    )


def _places(said: list[str], phrase: tuple[str, ...]) -> Iterator[int]:
    """Where a phrase begins among the words said."""
    forms = [inflections(word) for word in phrase]
    for at in range(len(said) - len(phrase) + 1):
        if forms and all(said[at + index] in form for index, form in enumerate(forms)):
            yield at


def _misspelt(word: str, phrases: list[tuple[str, tuple[str, ...]]]) -> Iterator[tuple[str, str]]:
    """The actions a word with one letter wrong may mean; its first letter counts."""
    from rapidfuzz.distance import OSA

    if len(word) < _SHORTEST_MISSPELT:
        return
    for name, phrase in phrases:
        if len(phrase) != 1 or len(phrase[0]) < _SHORTEST_MISREAD or phrase[0][0] != word[0]:
            continue
        if any(OSA.distance(word, form, score_cutoff=1) <= 1 for form in inflections(phrase[0])):
            yield name, phrase[0]
