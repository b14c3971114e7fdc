"""Of the places of a grid that nobody named, the few that are worth reading about."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence

from advisor.model.results import Word
from advisor.model.tank import Spot
from advisor.planning.fold import Standing

OF_EACH_ROCK = 3
"""So many of the best places of each rock, and of the floor, are told."""
APART_CM = 10.0
"""Two that lie nearer to each other are as good as one. [cm]"""


def few_of_grid(
    order: Sequence[tuple[int, Standing]], spot_of: Callable[[Standing], Spot]
) -> tuple[list[tuple[int, Standing]], tuple[str, ...]]:
    """Return a ranking without most places of a grid, and a note about those left out.

    Places a keeper named all stay; of the others those that are not NO, the
    best of each rock, no two of them side by side.
    """
    kept: list[tuple[int, Standing]] = []
    shown: dict[str, list[Spot]] = {}
    words: Counter[Word] = Counter()
    for rank, item in order:
        spot = spot_of(item)
        if not spot.sampled:
            kept.append((rank, item))
            continue
        words[item.word] += 1
        near = shown.setdefault(spot.rock, [])
        if item.word is Word.NO or len(near) >= OF_EACH_ROCK or _beside(spot, near):
            continue
        near.append(spot)
        kept.append((rank, item))
    return kept, _note(words, sum(map(len, shown.values())))


def _beside(spot: Spot, others: Sequence[Spot]) -> bool:
    """Whether a place lies near one of some others."""
    return any(math.dist(_middle(spot), _middle(other)) < APART_CM for other in others)


def _middle(spot: Spot) -> tuple[float, ...]:
    """The middle of a place of a grid, which always has one. [cm]"""
    assert spot.box is not None
    return tuple(sum(ends) / 2.0 for ends in (spot.box.x, spot.box.y, spot.box.z))


def _note(words: Counter[Word], told: int) -> tuple[str, ...]:
    """How many places were looked at, and how many of them are told."""
    every = words.total()
    if not every:
        return ()
    no = f", {words[Word.NO]} are NO" if words[Word.NO] else ""
    return (f"{every} places of the grid were looked at: the best {told} are told{no}",)
