"""Words that look like the id of something in the tank, and are none."""

from __future__ import annotations

import re
from collections.abc import Sequence

_NUMBERED = re.compile(r"(?P<stem>.*\D)[- ]\d+")
_MOST_OFFERED = 4


def numbered_stem(text: str) -> str:
    """Return what stands before the number of a word that is built like an id, empty if it is not.

    >>> numbered_stem("torch-9")
    'torch'
    """
    found = _NUMBERED.fullmatch(text.strip())
    return found["stem"] if found is not None else ""


def ids_meant(text: str, ids: Sequence[str]) -> list[str]:
    """Return the ids that a word may be a slip for: one letter off, or of the same stem with another number.

    >>> ids_meant("torch-9", ["torch-1", "hammer-1", "torch-2"])
    ['torch-1', 'torch-2']
    >>> ids_meant("hammer-l", ["torch-1", "hammer-1"])
    ['hammer-1']
    >>> ids_meant("torch", ["torch-1"])
    []
    """
    from rapidfuzz.distance import OSA

    wanted, stem = text.strip().casefold(), numbered_stem(text).casefold()
    near = [each for each in ids if OSA.distance(wanted, each.casefold(), score_cutoff=1) <= 1]
    same = [each for each in ids if stem and numbered_stem(each).casefold() == stem]
    return list(dict.fromkeys((*near, *same)))[:_MOST_OFFERED]
