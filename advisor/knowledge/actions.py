"""From what a person says they are about to do to the actions the rule files know."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.knowledge.nameindex import plain_name
from advisor.language.nodes import Action

_SHORTEST_MISSPELT = 5
"""Letters a word must have to be looked for misspelt: of shorter ones too many are alike."""
_SHORTEST_MISREAD = 4
"""Letters a known word must have for another to be taken as a misspelling of it."""
_VOWELS = "aeiou"


@dataclass(frozen=True, slots=True)
class Understood:
    """What was recognised."""

    actions: tuple[str, ...]
    """Names, in the order they are declared."""
    read_as: tuple[tuple[str, str], ...] = ()
    """Each misspelt word with the word it was read as."""


def understood(text: str, actions: Mapping[str, Action]) -> Understood:
    """Return every action that `text` speaks of, in any inflection, and as well with one letter wrong.

    A word that could mean two actions means both: a refusal too many is told and harms nobody.
    """
    said = plain_name(text).split()
    phrases = [(name, phrase) for name, action in actions.items() for phrase in _phrases(action)]
    hits: dict[int, set[str]] = {}
    for name, phrase in phrases:
        for at in _places(said, phrase):
            for index in range(at, at + len(phrase)):
                hits.setdefault(index, set()).add(name)
    read_as: list[tuple[str, str]] = []
    for index, word in enumerate(said):
        if index not in hits:
            for name, meant in _misspelt(word, phrases):
                hits.setdefault(index, set()).add(name)
                read_as.append((word, meant))
    found = set().union(*hits.values()) if hits else set()
    return Understood(tuple(name for name in actions if name in found), tuple(dict.fromkeys(read_as)))


def inflections(word: str) -> frozenset[str]:
    """Return a word with its regular endings: boil, boils, boiled, boiling, boiler."""
    stems = {word}
    ends = {"s", "es", "ed", "ing", "er"}
    found = {word, *(word + end for end in ends)}
    if word.endswith("e"):
        stems.add(word[:-1])
    if word.endswith("y") and len(word) > 2 and word[-2] not in _VOWELS:
        found |= {word[:-1] + "ies", word[:-1] + "ied"}
    if len(word) > 2 and word[-1] not in _VOWELS + "wxy" and word[-2] in _VOWELS and word[-3] not in _VOWELS:
        stems.add(word + word[-1])
    for stem in stems:
        found |= {stem + end for end in ("ed", "ing", "er")}
    return frozenset(found)


def _phrases(action: Action) -> Iterator[tuple[str, ...]]:
    """The words for an action, each a row of plain words."""
    for words in (action.name, *action.also):
        yield tuple(plain_name(words).split())


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
