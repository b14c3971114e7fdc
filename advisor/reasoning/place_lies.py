"""How every place of a tank lies, by the shapes and scans of its rocks; worked out once for a tank."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from advisor.model.tank import Box, Glass, Rock, Tank
from advisor.reasoning.place_numbers import PlaceNumbers
from advisor.reasoning.survey_rows import place_of

if TYPE_CHECKING:
    from advisor.fields.places import Lie

SNAP_CM = 6.0
"""A place told by hand may be so far above or below the ground it stands on. [cm]"""
LOOSE_CM = 8.0
"""A place known less well than this may lie in any way. [cm]"""
_BY_HAND_CM = 2.0
"""No hand tells a place better than this, whatever the tape says. [cm]"""

Lies = tuple["Lie", ...]
"""How a place may lie, its middle first: as many ways as its position leaves open."""


def lies_of(tank: Tank, numbers: PlaceNumbers) -> Mapping[str, Lies]:
    """Return how places lie, by their keys; those without a position, or far from any ground, left out.

    Where no rock has a shape nothing is said of any place: rock nobody described may be anywhere.
    """
    bodies = tuple(rock for rock in tank.rocks if rock.body is not None)
    if tank.glass is None or not bodies:
        return {}
    told = [(spot.id, spot.box, spot.sampled) for spot in tank.spots]
    told += [(place_of(animal.id), animal.box, False) for animal in tank.animals]
    known = tuple((key, box, exact) for key, box, exact in told if box is not None and not box.by_word)
    return _lies(bodies, tank.glass, known, numbers)


@lru_cache(maxsize=4)
def _lies(
    rocks: tuple[Rock, ...], glass: Glass, told: tuple[tuple[str, Box, bool], ...], numbers: PlaceNumbers
) -> Mapping[str, Lies]:
    """How places lie."""
    from advisor.fields.places import Look, lies_near  # brings a mesh library, which most tanks never need
    from advisor.fields.rock_bodies import body_of
    from advisor.fields.rooms import room_of

    bodies = {rock.id: body for rock in rocks if (body := body_of(rock.body)) is not None}
    points = [(key, point) for key, box, exact in told for point in _points(box, exact)]
    look = Look(numbers.patch_cm, numbers.reach_cm)
    found = lies_near([point for _, point in points], bodies, room_of(glass), look, SNAP_CM)
    by_key: dict[str, list[Lie | None]] = {}
    for (key, _), lie in zip(points, found, strict=True):
        by_key.setdefault(key, []).append(lie)
    return {
        key: tuple(lie for lie in lies if lie is not None)
        for key, lies in by_key.items()
        if lies[0] is not None
    }


def _points(box: Box, exact: bool) -> list[tuple[float, float, float]]:
    """The middle of a position, and points as far off as it leaves open; none where it is too loose."""
    ends = (box.x, box.y, box.z)
    x, y, z = ((low + high) / 2.0 for low, high in ends)
    wide = max(high - low for low, high in ends) / 2.0
    if wide > LOOSE_CM:
        return []
    if exact:
        return [(x, y, z)]
    wide = max(wide, _BY_HAND_CM)
    return [(x, y, z), (x + wide, y, z), (x - wide, y, z), (x, y + wide, z), (x, y - wide, z)]
