"""What an animal might be at worst: every card that any part of its name speaks of, misspelt ones too."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.knowledge.nameindex import NameIndex, index_names, plain_name, spellings
from advisor.knowledge.names import cards_named
from advisor.language.library import Library

_LONGEST = 3
"""Words of a name that are looked up together where one of them is misspelt."""
_SHORTEST = 4
"""Letters a word must have to be looked for misspelt: of shorter ones too many are alike."""
_LIKE = 85.0
"""Least likeness (of 100) of a longer word or row of words to the name it may stand for."""
_LONG = 7
"""Letters from which likeness counts; of a shorter word one letter may be wrong."""
_PLAIN = frozenset({"and", "coral", "corals", "from", "frag", "frags", "mixed", "polyp", "polyps",
                    "rock", "rocks", "some", "with"})  # fmt: skip
"""Words that are no animal's name alone."""


def all_named(text: str, library: Library) -> tuple[str, ...]:
    """Return every card that any word or row of words in `text` names: what it might be at worst.

    Words that no known name accounts for are looked up misspelt as well.
    """
    index = index_names(library)
    words = plain_name(text).split()
    found: dict[str, None] = {}
    known: set[int] = set()
    for start, end in _spans(words, len(words)):
        cards = cards_named(" ".join(words[start:end]), index)
        found.update(dict.fromkeys(cards))
        known.update(range(start, end) if cards else ())
    for start, end in _spans(words, _LONGEST):
        if not known.issuperset(range(start, end)):
            found.update(dict.fromkeys(_like(" ".join(words[start:end]), index)))
    return tuple(found)


def _spans(words: list[str], longest: int) -> Iterator[tuple[int, int]]:
    """Where each row of at most so many words begins and ends."""
    for start in range(len(words)):
        for end in range(start + 1, min(start + longest, len(words)) + 1):
            yield start, end


def _like(part: str, index: NameIndex) -> Iterator[str]:
    """The cards whose name a part may be a misspelling of."""
    from rapidfuzz import fuzz, process
    from rapidfuzz.distance import OSA

    if len(part) < _SHORTEST or part in _PLAIN:
        return
    names = spellings(index)
    if len(part) >= _LONG:
        near = process.extract(part, list(names), scorer=fuzz.ratio, score_cutoff=_LIKE, limit=None)
        likely = [name for name, _, _ in near]
    else:
        alike = (name for name in names if name[0] == part[0] and abs(len(name) - len(part)) <= 1)
        likely = [name for name in alike if OSA.distance(part, name, score_cutoff=1) <= 1]
    for name in likely:
        yield from names[name]
