"""The words that say an action, in all their inflections, and which actions share some."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TypeAlias

from advisor.language.nodes import Action

_VOWELS = "aeiou"

Row: TypeAlias = tuple[str, ...]


@lru_cache(maxsize=4096)
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


def phrases_of(action: Action) -> tuple[Row, ...]:
    """Return the words for an action, its name first, each a row of plain words."""
    return _rows((action.name, *action.also))


def says_also(action: Action, other: Action) -> bool:
    """Return whether some words for an action say the other one too: ``boil gently`` says boil."""
    return _say_also(phrases_of(action), phrases_of(other))


@lru_cache(maxsize=1024)
def _rows(names: tuple[str, ...]) -> tuple[Row, ...]:
    return tuple(tuple(re.findall(r"[a-z0-9]+", each.lower().replace("'", ""))) for each in names)


@lru_cache(maxsize=65536)
def _say_also(rows: tuple[Row, ...], others: tuple[Row, ...]) -> bool:
    return any(_holds(words, inner) for words in rows for inner in others)


def _holds(words: tuple[str, ...], inner: tuple[str, ...]) -> bool:
    """Whether a row of words holds another, whatever its inflection."""
    if not inner:
        return False
    starts = range(len(words) - len(inner) + 1)
    return any(all(_alike(words[at + index], word) for index, word in enumerate(inner)) for at in starts)


def _alike(one: str, other: str) -> bool:
    """Whether two words are inflections of each other; a heater is a thing and no heating."""
    if one.endswith("er") != other.endswith("er"):
        return False
    return one in inflections(other) or other in inflections(one)
