"""The word somebody probably meant."""

from __future__ import annotations

from collections.abc import Iterable

_LIKE_ENOUGH = 70.0


def nearest(word: str, known: Iterable[str], like: float = _LIKE_ENOUGH) -> str:
    """Return the known word most like `word`, or nothing if none is like enough."""
    from rapidfuzz import fuzz, process

    choices = sorted(set(known))
    found = process.extractOne(word.lower(), choices, scorer=fuzz.ratio, score_cutoff=like)
    return found[0] if found else ""


def several(words: Iterable[str], limit: int = 8) -> str:
    """Return the words joined for a sentence, the rest counted."""
    listed = list(words)
    if len(listed) <= limit:
        return ", ".join(listed)
    return f"{', '.join(listed[:limit])} and {len(listed) - limit} more"
