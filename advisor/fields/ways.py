"""How far one comes from a point before rock or glass is in the way."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.fields.rooms import Room

Floats: TypeAlias = npt.NDArray[np.float64]


def level_ways(count: int) -> Floats:
    """Return so many directions all around, seen from above, shape (count, 2)."""
    angle = np.arange(count) * 2.0 * np.pi / count
    return np.column_stack([np.cos(angle), np.sin(angle)])


def free_way_cm(starts_cm: Floats, ways: Floats, bodies: Mapping[str, trimesh.Trimesh]) -> Floats:
    """Return how far each ray goes before it meets rock; infinite where it meets none, shape (n,). [cm]

    Parameters
    ----------
    starts_cm, ways
        Where each ray starts, and its direction of length 1; shape (n, 3) each. [cm, 1]
    """
    found = np.full(len(starts_cm), np.inf)
    if not len(starts_cm):
        return found
    for body in bodies.values():
        at, ray, _ = body.ray.intersects_location(starts_cm, ways, multiple_hits=False)
        np.minimum.at(found, ray, np.linalg.norm(at - starts_cm[ray], axis=1))
    return found


def glass_ahead_cm(starts_cm: Floats, ways: Floats, room: Room) -> Floats:
    """Return how far each ray goes to a wall, the floor or the surface, shape (n,). [cm]

    Leaning walls count as upright where they stand just below and just above each start, the nearer one.

    Parameters
    ----------
    starts_cm, ways
        As for `free_way_cm`; starts lie in the water.

    Examples
    --------
    >>> from advisor.fields.rooms import room_of
    >>> from advisor.model.tank import Glass
    >>> room = room_of(Glass(length_cm=60.0, width_cm=40.0, height_cm=40.0, water_cm=36.0))
    >>> starts = np.array([[10.0, 20.0, 30.0]] * 3)
    >>> ways = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 0.6, 0.8]])
    >>> [round(each, 6) for each in glass_ahead_cm(starts, ways, room).tolist()]
    [10.0, 30.0, 7.5]
    """
    level = np.where(ways[:, 2] < 0.0, 0.0, room.water_cm)
    with np.errstate(divide="ignore", invalid="ignore"):
        found: Floats = np.where(ways[:, 2] == 0.0, np.inf, (level - starts_cm[:, 2]) / ways[:, 2])
    last = len(room.heights_cm) - 1
    over = np.searchsorted(room.heights_cm, starts_cm[:, 2], side="right")
    for at, outline in enumerate(room.outlines_cm):
        rows = np.flatnonzero((np.clip(over - 1, 0, last) == at) | (np.clip(over, 0, last) == at))
        found[rows] = np.minimum(found[rows], _to_outline(starts_cm[rows], ways[rows], outline))
    return found


def _to_outline(starts_cm: Floats, ways: Floats, outline: Floats) -> Floats:
    """How far each ray goes to upright walls around an outline. [cm]"""
    along = np.roll(outline, -1, axis=0) - outline
    from_start = outline - starts_cm[:, None, :2]
    with np.errstate(divide="ignore", invalid="ignore"):
        cross = ways[:, None, 0] * along[:, 1] - ways[:, None, 1] * along[:, 0]
        far = (from_start[..., 0] * along[:, 1] - from_start[..., 1] * along[:, 0]) / cross
        share = (from_start[..., 0] * ways[:, None, 1] - from_start[..., 1] * ways[:, None, 0]) / cross
    meets = (far > 0.0) & (share >= 0.0) & (share <= 1.0) & np.isfinite(far)
    found: Floats = np.where(meets, far, np.inf).min(axis=1)
    return found
