"""Places on the sides and undersides of rock: where they are, how they lie, how much room is before them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh
from trimesh.triangles import closest_point

from advisor.fields.patches import planes_through
from advisor.fields.places import (
    AROUND,
    LEVEL_DEG,
    OFF_CM,
    SIDEWAYS,
    STEEP,
    Lie,
    Look,
)
from advisor.fields.rooms import Room, spans_cm, to_glass_cm, within
from advisor.fields.upward import inside
from advisor.fields.ways import free_way_cm, glass_ahead_cm, level_ways
from advisor.model.tank import RockPart

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]
Bools: TypeAlias = npt.NDArray[np.bool_]

GRID_SIDE_DEG, GRID_UNDER_DEG = 60.0, 120.0
"""By these a grid parts rock into tops, sides and undersides: a tank file is read before any rules are."""
_CLEAR_CM = 0.01
_OWN_CM = 0.2
"""So far before a face the way off it begins, that rough rock beside it does not end it at once."""
_WHOLE = 6
"""Of the points at the rim of a patch so many must lie on it: on an edge nothing can be set."""
_FAR_CM = 1e3
_HANGS_OVER = -0.1
"""Downward part of a normal from which on ways along a face lead anywhere but up and down."""


def part_of(slope_deg: float, look: Look) -> RockPart:
    """Return the part of a rock that slopes so.

    >>> look = Look(2.0, 8.0, GRID_SIDE_DEG, GRID_UNDER_DEG)
    >>> [part_of(slope, look).value for slope in (20.0, 90.0, 170.0)]
    ['top', 'side', 'underside']
    """
    if slope_deg < look.side_deg:
        return RockPart.TOP
    return RockPart.SIDE if slope_deg < look.under_deg else RockPart.UNDERSIDE


@dataclass(frozen=True, slots=True, eq=False)
class _Faces:
    """Points on rock, each with the outward normal of the face it is on and the number of its rock."""

    at_cm: Floats
    normal: Floats
    rock: Ints

    def only(self, rows: Bools | Ints) -> _Faces:
        """Some of them."""
        return _Faces(self.at_cm[rows], self.normal[rows], self.rock[rows])


def steep_places_every(
    bodies: Mapping[str, trimesh.Trimesh],
    room: Room,
    spacing_cm: float,
    look: Look,
    parts: Sequence[RockPart],
) -> tuple[Lie, ...]:
    """Return how places lie in a grid over steep rock, in the water, a patch off glass, floor and surface.

    Parameters
    ----------
    bodies
        Rocks by their ids. [cm]
    spacing_cm
        Distance of the lines on which they are found: upright ones for undersides, level ones along
        the glass for sides. All lie on whole multiples of it, so that another rock moves no place. [cm]
    parts
        Which parts of rocks are wanted.

    Notes
    -----
    A face is found on the lines that meet it most squarely, so that none is
    found twice and places are nowhere more than about 1.6 spacings apart.
    """
    found = [
        _meetings(body, number, axis, room, spacing_cm, look)
        for number, body in enumerate(bodies.values())
        for axis in _axes(parts)
    ]
    if not found:
        return ()
    faces = _Faces(
        np.concatenate([each.at_cm for each in found]),
        np.concatenate([each.normal for each in found]),
        np.concatenate([each.rock for each in found]),
    )
    faces = _open_ones(faces, bodies, room, look.patch_cm)
    lies = _lies(faces, bodies, room, look, whole=True)
    return tuple(lie for lie in lies if lie is not None and _wanted(lie, parts, look))


def _axes(parts: Sequence[RockPart]) -> tuple[int, ...]:
    """Along which axes lines are drawn: x and y for sides, z for undersides."""
    sides = (0, 1) if RockPart.SIDE in parts else ()
    return (*sides, 2) if RockPart.UNDERSIDE in parts else sides


def _wanted(lie: Lie, parts: Sequence[RockPart], look: Look) -> bool:
    """Whether a place is on a wanted part, with room for something before it."""
    wanted = part_of(lie.slope_deg, look) in parts
    return wanted and lie.front_cm is not None and lie.front_cm >= look.patch_cm


def _meetings(
    body: trimesh.Trimesh, number: int, axis: int, room: Room, spacing_cm: float, look: Look
) -> _Faces:
    """Where lines along an axis meet the faces of one rock that they meet most squarely."""
    low, high = np.asarray(body.bounds)
    top = np.array([*spans_cm(room)[1], room.water_cm])
    low, high = np.maximum(low, 0.0), np.minimum(high, top)
    others = [each for each in range(3) if each != axis]
    steps = [
        np.arange(np.ceil(low[each] / spacing_cm), high[each] / spacing_cm + 1e-9) * spacing_cm
        for each in others
    ]
    crossing = np.stack(np.meshgrid(*steps, indexing="ij"), axis=-1).reshape(-1, 2)
    if not len(crossing):
        return _Faces(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros(0, np.int64))
    starts, ways = np.full((len(crossing), 3), -_FAR_CM), np.zeros((len(crossing), 3))
    starts[:, others], ways[:, axis] = crossing, 1.0
    at, line, face = body.ray.intersects_location(starts, ways, multiple_hits=True)
    at[:, others] = crossing[line]
    normal = body.face_normals[face]
    mine = _squarely(normal, axis, look)
    at, line, normal = at[mine], line[mine], normal[mine]
    _, once = np.unique(np.column_stack([line, np.round(at[:, axis], 2)]), axis=0, return_index=True)
    return _Faces(at[once], normal[once], np.full(len(once), number, np.int64))


def _squarely(normal: Floats, axis: int, look: Look) -> Bools:
    """Which faces are looked for along an axis."""
    slope = np.degrees(np.arccos(np.clip(normal[:, 2], -1.0, 1.0)))
    if axis == 2:
        under: Bools = slope >= look.under_deg
        return under
    along_x = np.abs(normal[:, 0]) >= np.abs(normal[:, 1])
    side: Bools = (slope >= look.side_deg) & (slope < look.under_deg) & (along_x == (axis == 0))
    return side


def _open_ones(faces: _Faces, bodies: Mapping[str, trimesh.Trimesh], room: Room, patch_cm: float) -> _Faces:
    """Those in the water, off the glass and the surface, and not inside another rock."""
    z = faces.at_cm[:, 2]
    near = (z >= patch_cm) & (z <= room.water_cm - patch_cm)
    faces = faces.only(near)
    faces = faces.only(within(room, faces.at_cm)) if len(faces.rock) else faces
    if len(faces.rock):
        faces = faces.only(to_glass_cm(room, faces.at_cm) >= patch_cm)
    return faces.only(_uncovered(faces, bodies))


def _uncovered(faces: _Faces, bodies: Mapping[str, trimesh.Trimesh]) -> Bools:
    """Which faces no other rock lies against."""
    before = faces.at_cm + _CLEAR_CM * faces.normal
    free = np.ones(len(faces.rock), np.bool_)
    for number, body in enumerate(bodies.values()):
        others = faces.rock != number
        free[others] &= ~inside(body, before[others])
    return free


def steep_lies_at(
    points_cm: Sequence[tuple[float, float, float]],
    parts: Sequence[RockPart],
    bodies: Mapping[str, trimesh.Trimesh],
    room: Room,
    look: Look,
    within_cm: float,
) -> tuple[Lie | None, ...]:
    """Return how the steep rock nearest to each point lies, None where there is none near.

    Parameters
    ----------
    parts
        For each point the part of a rock that is looked for.
    within_cm
        How far around each point is looked. [cm]
    """
    points = np.array(points_cm, np.float64).reshape(-1, 3)
    best = np.full(len(points), within_cm)
    at, normal = points.copy(), np.zeros((len(points), 3))
    rock = np.full(len(points), -1, np.int64)
    for number, body in enumerate(bodies.values()):
        slope = np.degrees(np.arccos(np.clip(body.face_normals[:, 2], -1.0, 1.0)))
        under, side = slope >= look.under_deg, (slope >= look.side_deg) & (slope < look.under_deg)
        low, high = body.triangles.min(axis=1), body.triangles.max(axis=1)
        for row, point in enumerate(points):
            around = ((point >= low - best[row]) & (point <= high + best[row])).all(axis=1)
            wanted = under if parts[row] is RockPart.UNDERSIDE else side
            near = _nearest(body, np.flatnonzero(around & wanted), point, best[row])
            if near is None:
                continue
            of_face = body.face_normals[near.face][None, :]
            found = _Faces(near.at_cm[None, :], of_face, np.array([number]))
            if _uncovered(found, bodies)[0]:
                best[row], rock[row], at[row], normal[row] = near.off_cm, number, near.at_cm, of_face[0]
    there = np.flatnonzero(rock >= 0)
    lies = _lies(_Faces(at[there], normal[there], rock[there]), bodies, room, look, whole=False)
    by_row = dict(zip(there.tolist(), lies, strict=True))
    return tuple(by_row.get(row) for row in range(len(points)))


@dataclass(frozen=True, slots=True, eq=False)
class _Near:
    """The point of a rock nearest to another."""

    at_cm: Floats
    off_cm: float
    face: int


def _nearest(body: trimesh.Trimesh, faces: Ints, point: Floats, within_cm: float) -> _Near | None:
    """The nearest point on some faces of a rock, None where none is near enough."""
    if not len(faces):
        return None
    found = closest_point(body.triangles[faces], np.tile(point, (len(faces), 1)))  # type: ignore[no-untyped-call]  # untyped there
    off = np.linalg.norm(found - point, axis=1)
    best = int(off.argmin())
    return _Near(found[best], float(off[best]), int(faces[best])) if off[best] <= within_cm else None


# --- how they lie


def _lies(
    faces: _Faces, bodies: Mapping[str, trimesh.Trimesh], room: Room, look: Look, *, whole: bool
) -> list[Lie | None]:
    """How points on steep rock lie; with `whole`, None where the patch around one is cut off by an edge."""
    if not len(faces.rock):
        return []
    normal, uneven, on_patch = _patches(faces, bodies, look.patch_cm)
    slope = np.degrees(np.arccos(np.clip(normal[:, 2], -1.0, 1.0)))
    facing = np.degrees(np.arctan2(normal[:, 1], normal[:, 0])) % 360.0
    turned = (slope >= LEVEL_DEG) & (slope <= 180.0 - LEVEL_DEG)
    up = np.tile([0.0, 0.0, 1.0], (len(slope), 1))
    off = faces.at_cm + OFF_CM * normal
    raised = OFF_CM * normal[:, 2]
    over = free_way_cm(off, up, bodies) + raised
    below = np.minimum(free_way_cm(off, -up, bodies), off[:, 2]) - raised
    start = faces.at_cm + _OWN_CM * normal
    front = np.minimum(free_way_cm(start, normal, bodies), glass_ahead_cm(start, normal, room)) + _OWN_CM
    glass = to_glass_cm(room, faces.at_cm)
    shut = _shut_in(off, normal, bodies, look)
    names = [*bodies]
    return [
        Lie(
            at_cm=(float(x), float(y), float(z)),
            rock=names[faces.rock[row]],
            slope_deg=float(slope[row]),
            facing_deg=float(facing[row]) if turned[row] else None,
            uneven_cm=float(uneven[row]),
            drop_cm=float(below[row]),
            rock_over_cm=float(over[row]) if np.isfinite(over[row]) else None,
            water_over_cm=float(room.water_cm - z),
            glass_cm=float(glass[row]),
            shut_in=float(shut[row]),
            front_cm=float(front[row]),
        )
        if on_patch[row] >= _WHOLE or not whole
        else None
        for row, (x, y, z) in enumerate(faces.at_cm)
    ]


def _patches(
    faces: _Faces, bodies: Mapping[str, trimesh.Trimesh], radius: float
) -> tuple[Floats, Floats, Ints]:
    """Direction off the plane through each patch, how uneven it is, and how much of its rim is on it."""
    along, across = _axes_on(faces.normal)
    ring, count, shape = radius * level_ways(AROUND), len(faces.rock), (len(faces.rock), AROUND)
    deep = STEEP * radius
    beside = ring[:, 0, None] * along[:, None, :] + ring[:, 1, None] * across[:, None, :]
    starts = (faces.at_cm[:, None, :] + beside + deep * faces.normal[:, None, :]).reshape(-1, 3)
    ways = np.repeat(-faces.normal, AROUND, axis=0)
    rise = np.full(count * AROUND, np.inf)
    for body in bodies.values():
        at, ray, face = body.ray.intersects_location(starts, ways, multiple_hits=True)
        outer = (body.face_normals[face] * ways[ray]).sum(axis=1) < 0.0
        height = deep - ((at - starts[ray]) * ways[ray]).sum(axis=1)
        order = np.flatnonzero(outer)[np.argsort(-np.abs(height[outer]), kind="stable")]
        nearest = np.full(count * AROUND, np.inf)
        nearest[ray[order]] = height[order]  # of several on one line the last counts, which is the nearest
        rise = np.where(np.abs(nearest) < np.abs(rise), nearest, rise)
    rise = rise.reshape(shape)
    near = np.abs(rise) <= deep
    tilt, uneven = planes_through(ring, np.where(near, rise, 0.0), near)
    normal = faces.normal - tilt[:, :1] * along - tilt[:, 1:] * across
    return normal / np.linalg.norm(normal, axis=1)[:, None], uneven, near.sum(axis=1)


def _axes_on(normal: Floats) -> tuple[Floats, Floats]:
    """Two directions along each face, at right angles; the first is level."""
    along = np.column_stack([-normal[:, 1], normal[:, 0], np.zeros(len(normal))])
    length = np.linalg.norm(along, axis=1)
    flat = length < 1e-9
    along[flat], length[flat] = (1.0, 0.0, 0.0), 1.0
    along /= length[:, None]
    return along, np.cross(normal, along)


def _shut_in(off_cm: Floats, normal: Floats, bodies: Mapping[str, trimesh.Trimesh], look: Look) -> Floats:
    """Share of the ways past a place that rock blocks: level ones at a side, those along an underside."""
    flat = np.column_stack([level_ways(SIDEWAYS), np.zeros(SIDEWAYS)])
    ways = np.tile(flat, (len(normal), 1, 1))
    under = normal[:, 2] <= min(float(np.cos(np.radians(look.under_deg))), _HANGS_OVER)
    up = -(ways[..., :2] * normal[:, None, :2]).sum(axis=2) / np.where(under, normal[:, 2], 1.0)[:, None]
    ways[..., 2] = np.where(under[:, None], up, 0.0)
    ways /= np.linalg.norm(ways, axis=2)[..., None]
    starts = np.repeat(off_cm, SIDEWAYS, axis=0)
    blocked = free_way_cm(starts, ways.reshape(-1, 3), bodies) <= look.reach_cm
    found: Floats = blocked.reshape(-1, SIDEWAYS).mean(axis=1)
    return found
