"""The inside of a tank of any shape: what lies within, and how far the glass is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.model.tank import Glass

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]

_AT_GLASS_CM = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class Room:
    """Walls around a level floor, filled with water."""

    outlines_cm: tuple[Floats, ...]
    """Corners seen from above in order, shape (n, 2), at each height; one where the walls are upright."""
    heights_cm: Floats
    """Height of each outline over the floor, rising, shape (outlines,)."""
    water_cm: float
    """Water above the bare glass."""


def room_of(glass: Glass) -> Room:
    """Return the inside of a tank; without a told height of the water it is full to the rim."""
    water = glass.height_cm if glass.water_cm is None else glass.water_cm
    if glass.sections:
        outlines = tuple(np.array(each.outline_cm, np.float64) for each in glass.sections)
        return Room(outlines, np.array([each.height_cm for each in glass.sections], np.float64), water)
    corners = np.array(glass.outline_cm or _box(glass), np.float64)
    return Room((corners,), np.zeros(1), water)


def _box(glass: Glass) -> tuple[tuple[float, float], ...]:
    """The corners of a box."""
    return ((0.0, 0.0), (glass.length_cm, 0.0), (glass.length_cm, glass.width_cm), (0.0, glass.width_cm))


def spans_cm(room: Room) -> tuple[Floats, Floats]:
    """Return the ends of a room seen from above, at its widest: low and high, x and y. [cm]"""
    low = np.min([outline.min(axis=0) for outline in room.outlines_cm], axis=0)
    high = np.max([outline.max(axis=0) for outline in room.outlines_cm], axis=0)
    return low, high


def within(room: Room, points_cm: Floats) -> Bools:
    """Return whether points lie inside the walls at their height, or on them, shape (n,).

    Parameters
    ----------
    points_cm
        x, y and z of each, shape (n, 3). [cm]

    Examples
    --------
    >>> room = room_of(Glass(length_cm=60.0, width_cm=40.0, height_cm=40.0))
    >>> within(room, np.array([[30.0, 20.0, 5.0], [61.0, 20.0, 5.0]])).tolist()
    [True, False]
    """
    found: Bools = _inward(room, points_cm)[0] >= 0.0
    return found


def holds(room: Room, x_cm: float, y_cm: float, z_cm: float) -> bool:
    """Return whether one point lies inside the walls, or next to nothing outside them."""
    point = np.array([[x_cm, y_cm, z_cm]], np.float64)
    return bool(_inward(room, point)[0][0] > -_AT_GLASS_CM)


def to_glass_cm(room: Room, points_cm: Floats) -> Floats:
    """Return how far points are from the nearest wall, shape (n,). [cm]

    Where walls lean it is the distance square to them.

    Examples
    --------
    >>> room = room_of(Glass(length_cm=60.0, width_cm=40.0, height_cm=40.0))
    >>> to_glass_cm(room, np.array([[30.0, 12.0, 5.0], [5.0, 20.0, 5.0]])).tolist()
    [12.0, 5.0]
    """
    inward, lean = _inward(room, points_cm)
    found: Floats = np.abs(inward) / np.sqrt(1.0 + lean**2)
    return found


def _inward(room: Room, points_cm: Floats) -> tuple[Floats, Floats]:
    """How far inside the walls points lie at their height, below 0 outside; and how that grows upward.

    Between two outlines the walls are straight, so it grows evenly from one to the other.
    """
    found, lean = np.zeros(len(points_cm)), np.zeros(len(points_cm))
    if len(room.outlines_cm) == 1:
        return _inside_outline(room.outlines_cm[0], points_cm), lean
    heights = np.clip(points_cm[:, 2], room.heights_cm[0], room.heights_cm[-1])
    below = np.clip(np.searchsorted(room.heights_cm, heights, side="right") - 1, 0, len(room.heights_cm) - 2)
    for level in np.unique(below):
        rows = np.flatnonzero(below == level)
        low, high = (_inside_outline(room.outlines_cm[at], points_cm[rows]) for at in (level, level + 1))
        lean[rows] = (high - low) / (room.heights_cm[level + 1] - room.heights_cm[level])
        found[rows] = low + lean[rows] * (heights[rows] - room.heights_cm[level])
    return found, lean


def _inside_outline(outline: Floats, points_cm: Floats) -> Floats:
    """Distance of points to an outline seen from above, below 0 where they lie outside. [cm]"""
    one, two = outline, np.roll(outline, -1, axis=0)
    x, y = points_cm[:, 0, None], points_cm[:, 1, None]
    crosses = (one[:, 1] > y) != (two[:, 1] > y)
    rise = np.where(two[:, 1] == one[:, 1], 1.0, two[:, 1] - one[:, 1])
    meets = one[:, 0] + (y - one[:, 1]) * (two[:, 0] - one[:, 0]) / rise
    inside = (crosses & (x < meets)).sum(axis=1) % 2 == 1
    along = two - one
    length = np.maximum((along**2).sum(axis=1), 1e-12)
    from_one = points_cm[:, None, :2] - one
    share = np.clip((from_one * along).sum(axis=2) / length, 0.0, 1.0)
    off = from_one - share[:, :, None] * along
    far: Floats = np.sqrt((off**2).sum(axis=2)).min(axis=1)
    return np.where(inside, far, -far)
