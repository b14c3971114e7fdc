"""Places on rocks and on the floor: how they lie, what is over them, how far the glass is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.fields.rooms import Room, spans_cm, to_glass_cm, within
from advisor.fields.upward import FLOOR, Ground, grounds

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]

_AROUND = 8
"""Points around a place at the rim of its patch."""
_STEEP = 2.7
"""Ground that rises or falls by more than this times the radius of the patch is another ground."""
_SIDEWAYS = 16
"""Directions in which is looked for rock beside a place."""
_OFF_CM = 1.0
"""So high above the ground is looked from."""
_BESIDE_CM = 0.5
"""A place nearer to a wall of rock has no room for anything; steep ground has none either."""
_LEVEL_DEG = 1.0
"""Ground that slopes less faces nowhere."""


@dataclass(frozen=True, slots=True)
class Lie:
    """How one place lies."""

    at_cm: tuple[float, float, float]
    rock: str
    """Id of the rock it is on, empty on the floor."""
    slope_deg: float
    """Of the plane through a hand's patch around it; 0 is level."""
    facing_deg: float | None
    """Where the ground falls, on the ground plan: 0 to the right, 90 to the back; None where level."""
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


@dataclass(frozen=True, slots=True)
class Look:
    """How a place is looked at."""

    patch_cm: float
    """Radius of a hand's patch."""
    reach_cm: float
    """How near rock must be to shut a place in."""


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
    ways = np.column_stack([_level(_AROUND), np.zeros(_AROUND)])
    starts = np.repeat(points + np.array([0.0, 0.0, _OFF_CM]), _AROUND, axis=0)
    found: Floats = (
        _free_way(starts, np.tile(ways, (len(points), 1)), bodies).reshape(-1, _AROUND).min(axis=1)
    )
    return found


def _level(count: int) -> Floats:
    """Directions all around, seen from above, shape (count, 2)."""
    angle = np.arange(count) * 2.0 * np.pi / count
    return np.column_stack([np.cos(angle), np.sin(angle)])


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
    over = _free_way(points + _OFF_CM * up, up, bodies) + _OFF_CM
    glass = to_glass_cm(room, points)
    shut = _shut_in(points, tilt, bodies, look.reach_cm)
    return tuple(
        Lie(
            at_cm=(float(x), float(y), float(z)),
            rock=rocks[row],
            slope_deg=float(slope[row]),
            facing_deg=float(facing[row]) if slope[row] >= _LEVEL_DEG else None,
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
    ring = radius * _level(_AROUND)
    lines = (points[:, None, :2] + ring).reshape(-1, 2)
    start = np.repeat(points[:, 2], _AROUND)
    rise, fall = _next_ground(grounds(bodies, lines), start, len(lines))
    near = np.abs(rise) <= _STEEP * radius
    shape = (len(points), _AROUND)
    rise, near = rise.reshape(shape), near.reshape(shape)
    tilt = np.zeros((len(points), 2))
    uneven = np.zeros(len(points))
    for row in range(len(points)):  # the points of the rim that count differ from place to place
        there = near[row]
        known = np.vstack([[0.0, 0.0], ring[there]])
        heights = np.concatenate([[0.0], rise[row][there]])
        wide = np.column_stack([known, np.ones(len(known))])
        plane, *_ = np.linalg.lstsq(wide, heights, rcond=None)
        tilt[row] = plane[:2]
        uneven[row] = np.abs(wide @ plane - heights).max()
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


def _free_way(starts: Floats, ways: Floats, bodies: Mapping[str, trimesh.Trimesh]) -> Floats:
    """How far each ray goes before it meets rock; infinite where it meets none."""
    found = np.full(len(starts), np.inf)
    for body in bodies.values():
        at, ray, _ = body.ray.intersects_location(starts, ways, multiple_hits=False)
        np.minimum.at(found, ray, np.linalg.norm(at - starts[ray], axis=1))
    return found


def _shut_in(points: Floats, tilt: Floats, bodies: Mapping[str, trimesh.Trimesh], reach: float) -> Floats:
    """Share of the directions along the ground that meet rock within reach."""
    if not bodies:
        return np.zeros(len(points))
    normal = np.column_stack([-tilt, np.ones(len(points))])
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    flat = _level(_SIDEWAYS)
    up = tilt @ flat.T
    ways = np.dstack([np.broadcast_to(flat, (len(points), _SIDEWAYS, 2)), up[:, :, None]])
    ways = (ways / np.linalg.norm(ways, axis=2)[:, :, None]).reshape(-1, 3)
    starts = np.repeat(points + _OFF_CM * normal, _SIDEWAYS, axis=0)
    blocked = _free_way(starts, ways, bodies) <= reach
    found: Floats = blocked.reshape(-1, _SIDEWAYS).mean(axis=1)
    return found
