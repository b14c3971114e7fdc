"""Where rocks and the floor look up, on many vertical lines at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]
Bools: TypeAlias = npt.NDArray[np.bool_]

FLOOR = ""
"""Stands for the floor where a rock could be named."""
_FAR_CM = 1e3
_LEAST_UP = 0.02
"""A face steeper than 89 degrees is a wall, not ground."""
_CLEAR_CM = 0.01


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """Every face that looks up, where some vertical lines meet it; one entry a meeting."""

    line: Ints
    height_cm: Floats
    slope_deg: Floats
    rock: Ints
    """Number of the rock in the order given, -1 for the floor."""


def grounds(bodies: Mapping[str, trimesh.Trimesh], lines_cm: Floats) -> Ground:
    """Return where vertical lines meet ground that is not inside another rock.

    Parameters
    ----------
    bodies
        Rocks by their ids. [cm]
    lines_cm
        x and y of each line, shape (n, 2). [cm]

    Returns
    -------
    The meetings, by line and then from the highest down; the floor counts as ground.
    """
    every = np.arange(len(lines_cm), dtype=np.int64)
    parts = [(every, np.zeros(len(lines_cm)), np.zeros(len(lines_cm)), np.full(len(lines_cm), -1, np.int64))]
    for number, body in enumerate(bodies.values()):
        parts.append(_of_rock(body, number, lines_cm))
    line, height, slope, rock = (np.concatenate(part) for part in zip(*parts, strict=True))
    points = np.column_stack([lines_cm[line], height + _CLEAR_CM])
    free = np.ones(len(line), np.bool_)
    for number, body in enumerate(bodies.values()):
        others = rock != number
        free[others] &= ~inside(body, points[others])
    order = np.lexsort((-height, line))
    order = order[free[order]]
    return Ground(line[order], height[order], slope[order], rock[order])


def _of_rock(body: trimesh.Trimesh, number: int, lines_cm: Floats) -> tuple[Ints, Floats, Floats, Ints]:
    """Meetings of lines with the faces of one rock that look up, each height once."""
    starts = np.column_stack([lines_cm, np.full(len(lines_cm), _FAR_CM)])
    down = np.tile([0.0, 0.0, -1.0], (len(lines_cm), 1))
    _, line, face = body.ray.intersects_location(starts, down, multiple_hits=True)
    normal, corner = body.face_normals[face], body.triangles[face][:, 0]
    up = normal[:, 2] > _LEAST_UP
    line, normal, corner = line[up].astype(np.int64), normal[up], corner[up]
    off = ((lines_cm[line] - corner[:, :2]) * normal[:, :2]).sum(axis=1)
    height = corner[:, 2] - off / normal[:, 2]
    slope = np.degrees(np.arccos(np.clip(normal[:, 2], -1.0, 1.0)))
    _, once = np.unique(np.column_stack([line, np.round(height, 2)]), axis=0, return_index=True)
    return line[once], height[once], slope[once], np.full(len(once), number, np.int64)


def inside(body: trimesh.Trimesh, points_cm: Floats) -> Bools:
    """Return whether points lie inside a rock, by how often a line upward leaves it, shape (n,)."""
    out = np.zeros(len(points_cm), np.bool_)
    if not len(points_cm):
        return out
    low, high = np.asarray(body.bounds)
    near = np.flatnonzero(((points_cm >= low) & (points_cm <= high)).all(axis=1))
    if not len(near):
        return out
    up = np.tile([0.0, 0.0, 1.0], (len(near), 1))
    at, ray, _ = body.ray.intersects_location(points_cm[near], up, multiple_hits=True)
    meetings = np.unique(np.column_stack([ray, np.round(at[:, 2], 3)]), axis=0)[:, 0].astype(np.int64)
    out[near] = np.bincount(meetings, minlength=len(near)) % 2 == 1
    return out
