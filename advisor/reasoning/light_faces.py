"""Which way the surface of a place looks, as far as it is known: told as a slope, or read off the rock."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.reasoning.place_lies import SLOPE, Lies
from advisor.reasoning.place_numbers import PlaceNumbers
from advisor.reasoning.survey_facts import Facts, together

_WAYS = 8
"""So many sides are tried where it is not known to which one a slope looks."""
_HALF_TURN = 180.0
_WHOLE_TURN = 360.0
_LEVEL_DEG = 1.0
"""A face nearer to level than this, looking up or down, looks to no side."""

Way = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Face:
    """The surface of a place."""

    slope_deg: float
    """0 looks up, 90 to a side, 180 straight down."""
    facing_deg: float | None
    """To which side it looks, seen from above: 0 to the right, 90 to the back; None where not known."""
    side: bool
    """Whether it is a side."""
    under: bool
    """Whether it is an underside: what grows there gets the light on that face and no other."""

    def ways(self, leaning_deg: float = 0.0) -> tuple[Way, ...]:
        """Return every direction in which it may look, of length 1.

        Parameters
        ----------
        leaning_deg
            As if it leaned over by so much more.
        """
        slope = min(max(self.slope_deg + leaning_deg, 0.0), _HALF_TURN)
        if slope < _LEVEL_DEG or slope > _HALF_TURN - _LEVEL_DEG:
            return (way(slope, 0.0),)
        if self.facing_deg is not None:
            return (way(slope, self.facing_deg),)
        return tuple(way(slope, _WHOLE_TURN * each / _WAYS) for each in range(_WAYS))


def way(slope_deg: float, facing_deg: float) -> Way:
    """Return the direction a face looks in, of length 1.

    >>> tuple(round(each, 3) + 0.0 for each in way(90.0, 270.0))
    (0.0, -1.0, 0.0)
    """
    slope, facing = math.radians(slope_deg), math.radians(facing_deg)
    return math.sin(slope) * math.cos(facing), math.sin(slope) * math.sin(facing), math.cos(slope)


def faces_of(lies: Mapping[str, Lies], facts: Facts, numbers: PlaceNumbers) -> dict[str, Face]:
    """Return which way places look whose slope is told, or read off a rock, by their keys.

    Parameters
    ----------
    lies
        How places lie by the rocks.
    """
    found = {key: _face(of_key[0].slope_deg, of_key[0].facing_deg, numbers) for key, of_key in lies.items()}
    for key in facts.single.get(SLOPE, {}):
        slope = next((said.best for said in together(facts.of(SLOPE, key)) if said.best is not None), None)
        if slope is not None:
            found[key] = _face(slope, found[key].facing_deg if key in found else None, numbers)
    return found


def _face(slope_deg: float, facing_deg: float | None, numbers: PlaceNumbers) -> Face:
    """A surface, with what it is called."""
    under = slope_deg >= numbers.under_deg
    return Face(slope_deg, facing_deg, slope_deg >= numbers.side_deg and not under, under)
