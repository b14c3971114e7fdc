"""The inside of a tank seen from above, of any outline: what lies within, and how far the glass is."""

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
    """Upright walls around an outline, filled with water."""

    outline_cm: Floats
    """Corners seen from above in order, shape (n, 2)."""
    water_cm: float
    """Water above the bare glass."""


def room_of(glass: Glass) -> Room:
    """Return the inside of a tank; without a told height of the water it is full to the rim."""
    if glass.outline_cm:
        corners: tuple[tuple[float, float], ...] = glass.outline_cm
    else:
        corners = _box(glass)
    water = glass.height_cm if glass.water_cm is None else glass.water_cm
    return Room(np.array(corners, np.float64), water)


def _box(glass: Glass) -> tuple[tuple[float, float], ...]:
    """The corners of a box."""
    return ((0.0, 0.0), (glass.length_cm, 0.0), (glass.length_cm, glass.width_cm), (0.0, glass.width_cm))


def within(room: Room, points_cm: Floats) -> Bools:
    """Return whether points seen from above lie inside the outline, shape (n,).

    Parameters
    ----------
    points_cm
        x and y of each, shape (n, 2). [cm]

    Examples
    --------
    >>> room = room_of(Glass(length_cm=60.0, width_cm=40.0, height_cm=40.0))
    >>> within(room, np.array([[30.0, 20.0], [61.0, 20.0]])).tolist()
    [True, False]
    """
    x, y = points_cm[:, 0, None], points_cm[:, 1, None]
    one, two = room.outline_cm, np.roll(room.outline_cm, -1, axis=0)
    crosses = (one[:, 1] > y) != (two[:, 1] > y)
    rise = np.where(two[:, 1] == one[:, 1], 1.0, two[:, 1] - one[:, 1])
    meets = one[:, 0] + (y - one[:, 1]) * (two[:, 0] - one[:, 0]) / rise
    found: Bools = (crosses & (x < meets)).sum(axis=1) % 2 == 1
    return found


def holds(room: Room, x_cm: float, y_cm: float) -> bool:
    """Return whether one point seen from above lies inside the outline, or on the glass itself."""
    point = np.array([[x_cm, y_cm]], np.float64)
    return bool(within(room, point)[0] or to_glass_cm(room, point)[0] < _AT_GLASS_CM)


def to_glass_cm(room: Room, points_cm: Floats) -> Floats:
    """Return how far points seen from above are from the nearest wall, shape (n,). [cm]

    Examples
    --------
    >>> room = room_of(Glass(length_cm=60.0, width_cm=40.0, height_cm=40.0))
    >>> to_glass_cm(room, np.array([[30.0, 12.0], [5.0, 20.0]])).tolist()
    [12.0, 5.0]
    """
    one, two = room.outline_cm, np.roll(room.outline_cm, -1, axis=0)
    along = two - one
    length = np.maximum((along**2).sum(axis=1), 1e-12)
    from_one = points_cm[:, None, :] - one
    share = np.clip((from_one * along).sum(axis=2) / length, 0.0, 1.0)
    off = from_one - share[:, :, None] * along
    found: Floats = np.sqrt((off**2).sum(axis=2)).min(axis=1)
    return found
