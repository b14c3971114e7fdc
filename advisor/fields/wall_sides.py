"""The walls of a tank that is no box, seen from above: which are flat mirrors, and how much is none."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from advisor.model.tank import Glass

Outline: TypeAlias = Sequence[tuple[float, float]]

SIDES = ("left", "right", "front", "back")
_FLAT_CM = 0.5
"""A wall that leaves the side of the box around the tank by no more than that is flat."""
_NEARLY = 0.75
"""A flat wall is a mirror of the whole side where it covers at least this share of it."""


@dataclass(frozen=True, slots=True)
class WallSides:
    """What surrounds a tank, by the side of the tank a wall looks to."""

    flat: frozenset[str]
    """Sides along which one flat wall runs nearly from end to end."""
    rest: tuple[tuple[str, float], ...]
    """Every other side that has walls, curved, oblique or short ones, and their share of the
    way around the tank. [1]"""


def wall_sides(glass: Glass) -> WallSides:
    """Return which walls of a tank lie along the box around it; of a box all do.

    Examples
    --------
    >>> corners = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (0.0, 40.0))
    >>> found = wall_sides(Glass(length_cm=60.0, width_cm=40.0, height_cm=40.0, outline_cm=corners))
    >>> sorted(found.flat), [(side, round(share, 2)) for side, share in found.rest]
    (['front', 'left'], [('right', 0.11), ('back', 0.35)])
    """
    outlines = _outlines(glass)
    if not outlines:
        return WallSides(frozenset(SIDES), ())
    walls = [_walls(outline, glass) for outline in outlines]
    ends = (glass.width_cm, glass.width_cm, glass.length_cm, glass.length_cm)
    flat = frozenset(
        side
        for side, whole in zip(SIDES, ends, strict=True)
        if all(_along(one, side) >= _NEARLY * whole for one in walls)
    )
    rest = {side: sum(_off(one, side, side in flat) for one in walls) / len(walls) for side in SIDES}
    return WallSides(flat, tuple((side, share) for side, share in rest.items() if share > 0.0))


def _outlines(glass: Glass) -> list[Outline]:
    """The outline at every height, none for a box."""
    if glass.sections:
        return [each.outline_cm for each in glass.sections]
    return [glass.outline_cm] if glass.outline_cm else []


@dataclass(frozen=True, slots=True)
class _Wall:
    """One stretch of wall."""

    side: str
    length_cm: float
    at_box: bool


def _walls(outline: Outline, glass: Glass) -> list[_Wall]:
    """The stretches of an outline, each with the side it looks to from within."""
    pairs = list(zip(outline, (*outline[1:], outline[0]), strict=True))
    against_clock = sum(x * v - u * y for (x, y), (u, v) in pairs) > 0.0
    found = []
    for (x, y), (u, v) in pairs:
        out_x, out_y = (v - y, x - u) if against_clock else (y - v, u - x)
        if abs(out_x) > abs(out_y):
            side, off = ("left", max(x, u)) if out_x < 0.0 else ("right", glass.length_cm - min(x, u))
        else:
            side, off = ("front", max(y, v)) if out_y < 0.0 else ("back", glass.width_cm - min(y, v))
        found.append(_Wall(side, math.hypot(u - x, v - y), off <= _FLAT_CM))
    return found


def _along(walls: Sequence[_Wall], side: str) -> float:
    """How much of one side of the box has a wall. [cm]"""
    return sum(wall.length_cm for wall in walls if wall.side == side and wall.at_box)


def _off(walls: Sequence[_Wall], side: str, flat: bool) -> float:
    """Share of the way around that looks to one side and is no part of its flat wall. [1]"""
    whole = sum(wall.length_cm for wall in walls)
    return sum(wall.length_cm for wall in walls if wall.side == side and not (flat and wall.at_box)) / whole
