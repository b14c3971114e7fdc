"""Places on rocks and on the floor: how they lie, what is over them, how far the glass is."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.fields.patches import planes_through
from advisor.fields.rooms import Room, spans_cm, to_glass_cm, within
from advisor.fields.upward import FLOOR, Ground, grounds
from advisor.fields.ways import free_way_cm, level_ways

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]

AROUND = 8
"""Points around a place at the rim of its patch."""
STEEP = 2.7
"""Ground that rises or falls by more than this times the radius of the patch is another ground."""
SIDEWAYS = 16
"""Directions in which is looked for rock beside a place."""
OFF_CM = 1.0
"""So high above the ground is looked from."""
_BESIDE_CM = 0.5
"""A place nearer to a wall of rock has no room for anything; steep ground has none either."""
LEVEL_DEG = 1.0
"""Ground that slopes less faces nowhere, and neither does an underside that is as near to level."""
_SIDES = ("right", "back", "left", "front")


@dataclass(frozen=True, slots=True)
class Lie:
    """How one place lies."""

    at_cm: tuple[float, float, float]
    rock: str
    """Id of the rock it is on, empty on the floor."""
    slope_deg: float
    """Of the plane through a hand's patch around it; 0 is level, 90 upright, 180 looks straight down."""
    facing_deg: float | None
    """Where it looks, and ground falls, seen from above: 0 to the right, 90 to the back; None where level."""
    uneven_cm: float
    """How far the patch departs from its plane."""
    drop_cm: float
    """How deep something could fall at the rim of the patch, 0 where it cannot."""
    rock_over_cm: float | None
    """Height up to rock straight above, None where there is none."""
    water_over_cm: float
    glass_cm: float
    """Distance to the nearest wall."""
    shut_in: float
    """Share of the directions along the ground that rock blocks within reach. [1]"""
    front_cm: float | None = None
    """Room in front of a side or below an underside, None on ground. [cm]"""

    @property
    def outward(self) -> tuple[float, float, float]:
        """Direction away from the surface, of length 1."""
        slope, facing = math.radians(self.slope_deg), math.radians(self.facing_deg or 0.0)
        return math.sin(slope) * math.cos(facing), math.sin(slope) * math.sin(facing), math.cos(slope)


def side_of(facing_deg: float) -> str:
    """Return to which side of the tank a facing looks most.

    >>> [side_of(facing) for facing in (350.0, 90.0, 200.0, 300.0)]
    ['right', 'back', 'left', 'front']
    """
    return _SIDES[round(facing_deg / 90.0) % 4]


@dataclass(frozen=True, slots=True)
class Look:
    """How a place is looked at."""

    patch_cm: float
    """Radius of a hand's patch."""
    reach_cm: float
    """How near rock must be to shut a place in."""
    side_deg: float
    """Rock that slopes less is ground: it is found from above."""
    under_deg: float
    """Rock that hangs over more is an underside, and what slopes less a side."""


def places_every(
    bodies: Mapping[str, trimesh.Trimesh], room: Room, spacing_cm: float, look: Look
) -> tuple[Lie, ...]:
    """Return how places lie in a grid over all rocks and the floor, in the water and a patch off the glass.

    Parameters
    ----------
    bodies
        Rocks by their ids. [cm]
    spacing_cm
        Distance of the places, seen from above. They lie on whole multiples of it, so that another
        rock moves none of them. [cm]
    """
    low, high = spans_cm(room)
    axes = [
        np.arange(np.ceil(a / spacing_cm), b / spacing_cm + 1e-9) * spacing_cm
        for a, b in zip(low, high, strict=True)
    ]
    lines = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 2)
    if not len(lines):
        return ()
    found = grounds(bodies, lines)
    points = np.column_stack([lines[found.line], found.height_cm])
    wet = points[:, 2] <= room.water_cm - look.patch_cm
    wet &= within(room, points) & (to_glass_cm(room, points) >= look.patch_cm)
    points = points[wet]
    clear = _beside(points, bodies) >= _BESIDE_CM
    names = [*bodies]
    rocks = [names[number] if number >= 0 else FLOOR for number in found.rock[wet][clear]]
    return _lies(points[clear], rocks, bodies, room, look)


def _beside(points: Floats, bodies: Mapping[str, trimesh.Trimesh]) -> Floats:
    """How far off the nearest rock beside each point is, just over the ground."""
    ways = np.column_stack([level_ways(AROUND), np.zeros(AROUND)])
    starts = np.repeat(points + np.array([0.0, 0.0, OFF_CM]), AROUND, axis=0)
    found: Floats = (
        free_way_cm(starts, np.tile(ways, (len(points), 1)), bodies).reshape(-1, AROUND).min(axis=1)
    )
    return found


def count_every(room: Room, spacing_cm: float) -> int:
    """Return about how many vertical lines such a grid has, without looking at any rock."""
    low, high = spans_cm(room)
    return int(np.prod(np.floor((high - low) / spacing_cm) + 1.0))


def lies_near(
    points_cm: Sequence[tuple[float, float, float]],
    bodies: Mapping[str, trimesh.Trimesh],
    room: Room,
    look: Look,
    within_cm: float,
) -> tuple[Lie | None, ...]:
    """Return how the ground nearest above or below each point lies, None where there is none near.

    Parameters
    ----------
    within_cm
        How far up or down is looked. [cm]
    """
    points = np.array(points_cm, np.float64).reshape(-1, 3)
    found = grounds(bodies, points[:, :2])
    step = np.abs(found.height_cm - points[found.line, 2])
    order = np.lexsort((step, found.line))
    line, first = np.unique(found.line[order], return_index=True)
    nearest = order[first]
    at = np.column_stack([points[line, :2], found.height_cm[nearest]])
    near = (step[nearest] <= within_cm) & within(room, at)
    line, nearest, at = line[near], nearest[near], at[near]
    names = [*bodies]
    rocks = [names[number] if number >= 0 else FLOOR for number in found.rock[nearest]]
    lies = dict(zip(line.tolist(), _lies(at, rocks, bodies, room, look), strict=True))
    return tuple(lies.get(row) for row in range(len(points)))


def _lies(
    points: Floats, rocks: list[str], bodies: Mapping[str, trimesh.Trimesh], room: Room, look: Look
) -> tuple[Lie, ...]:
    """How some points on the ground lie."""
    if not len(points):
        return ()
    tilt, uneven, drop = _patches(points, bodies, look.patch_cm)
    steep = np.hypot(tilt[:, 0], tilt[:, 1])
    slope = np.degrees(np.arctan(steep))
    facing = np.degrees(np.arctan2(-tilt[:, 1], -tilt[:, 0])) % 360.0
    up = np.tile([0.0, 0.0, 1.0], (len(points), 1))
    over = free_way_cm(points + OFF_CM * up, up, bodies) + OFF_CM
    glass = to_glass_cm(room, points)
    shut = _shut_in(points, tilt, bodies, look.reach_cm)
    return tuple(
        Lie(
            at_cm=(float(x), float(y), float(z)),
            rock=rocks[row],
            slope_deg=float(slope[row]),
            facing_deg=float(facing[row]) if slope[row] >= LEVEL_DEG else None,
            uneven_cm=float(uneven[row]),
            drop_cm=float(drop[row]),
            rock_over_cm=float(over[row]) if np.isfinite(over[row]) else None,
            water_over_cm=float(room.water_cm - z),
            glass_cm=float(glass[row]),
            shut_in=float(shut[row]),
        )
        for row, (x, y, z) in enumerate(points)
    )


def _patches(
    points: Floats, bodies: Mapping[str, trimesh.Trimesh], radius: float
) -> tuple[Floats, Floats, Floats]:
    """Tilt of the plane through each patch, how uneven it is, and how deep it falls at its rim."""
    ring = radius * level_ways(AROUND)
    lines = (points[:, None, :2] + ring).reshape(-1, 2)
    start = np.repeat(points[:, 2], AROUND)
    rise, fall = _next_ground(grounds(bodies, lines), start, len(lines))
    near = np.abs(rise) <= STEEP * radius
    shape = (len(points), AROUND)
    rise, near = rise.reshape(shape), near.reshape(shape)
    tilt, uneven = planes_through(ring, rise, near)
    drop = np.where(near, 0.0, np.maximum(fall.reshape(shape), 0.0)).max(axis=1)
    return tilt, uneven, drop


def _next_ground(found: Ground, start: Floats, count: int) -> tuple[Floats, Floats]:
    """On each line the rise to the ground nearest in height, and the fall to the first ground below."""
    rise, fall = np.full(count, np.inf), np.zeros(count)
    step = found.height_cm - start[found.line]
    order = np.lexsort((np.abs(step), found.line))
    line, first = np.unique(found.line[order], return_index=True)
    rise[line] = step[order][first]
    below = np.flatnonzero(step <= 0.0)
    line, first = np.unique(found.line[below], return_index=True)
    fall[line] = -step[below][first]  # from the highest down on each line
    return rise, fall


def _shut_in(points: Floats, tilt: Floats, bodies: Mapping[str, trimesh.Trimesh], reach: float) -> Floats:
    """Share of the directions along the ground that meet rock within reach."""
    if not bodies:
        return np.zeros(len(points))
    normal = np.column_stack([-tilt, np.ones(len(points))])
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    flat = level_ways(SIDEWAYS)
    up = tilt @ flat.T
    ways = np.dstack([np.broadcast_to(flat, (len(points), SIDEWAYS, 2)), up[:, :, None]])
    ways = (ways / np.linalg.norm(ways, axis=2)[:, :, None]).reshape(-1, 3)
    starts = np.repeat(points + OFF_CM * normal, SIDEWAYS, axis=0)
    blocked = free_way_cm(starts, ways, bodies) <= reach
    found: Floats = blocked.reshape(-1, SIDEWAYS).mean(axis=1)
    return found
