"""Where a point that was measured by hand meets the surface of the rock it stands on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

Floats: TypeAlias = npt.NDArray[np.float64]

_ABOVE_ALL_CM = 1e3
_APART_CM = 1e-3


def upward_faces_cm(bodies: Sequence[trimesh.Trimesh], x: float, y: float) -> list[float]:
    """Heights at which rock looks up on one vertical line, the highest first. [cm]

    Examples
    --------
    >>> from advisor.fields.rock_shapes import rock_body
    >>> from advisor.model.lighting import RockShape
    >>> block = rock_body(RockShape.BLOCK, (10.0, 10.0), 0.0, (8.0, 8.0, 5.0))
    >>> [round(height, 3) for height in upward_faces_cm([block], 10.5, 10.2)]
    [5.0]
    """
    start, down = np.array([[x, y, _ABOVE_ALL_CM]]), np.array([[0.0, 0.0, -1.0]])
    found: list[float] = []
    for body in bodies:
        _, _, faces = body.ray.intersects_location(start, down, multiple_hits=True)
        looking_up = [face for face in faces if body.face_normals[face][2] > 0.0]
        found += [_height(body, face, x, y) for face in looking_up]
    heights = sorted(found, reverse=True)
    return [each for at, each in enumerate(heights) if at == 0 or heights[at - 1] - each > _APART_CM]


def holds(body: trimesh.Trimesh, point_cm: tuple[float, float, float]) -> bool:
    """Return whether a point lies inside a closed body. [cm]

    Examples
    --------
    >>> from advisor.fields.rock_shapes import rock_body
    >>> from advisor.model.lighting import RockShape
    >>> block = rock_body(RockShape.BLOCK, (10.0, 10.0), 0.0, (8.0, 8.0, 5.0))
    >>> holds(block, (10.5, 10.2, 2.0)), holds(block, (10.5, 10.2, 6.0))
    (True, False)
    """
    start, up = np.array([point_cm]), np.array([[0.0, 0.0, 1.0]])
    _, _, faces = body.ray.intersects_location(start, up, multiple_hits=True)
    leaves = sum(1 if body.face_normals[face][2] > 0.0 else -1 for face in faces)
    return leaves > 0


def _height(body: trimesh.Trimesh, face: int, x: float, y: float) -> float:
    """Height of the plane of a face at a point seen from above."""
    normal, corner = body.face_normals[face], body.triangles[face][0]
    return float(corner[2] - (normal[0] * (x - corner[0]) + normal[1] * (y - corner[1])) / normal[2])


def nearest_foothold_cm(
    bodies: Sequence[trimesh.Trimesh], point_cm: tuple[float, float, float], reach_cm: float
) -> float | None:
    """Height of the upward face nearest to a point on its vertical line, None where none is within reach.

    Parameters
    ----------
    bodies
        Rocks. [cm]
    point_cm
        As told. [cm]
    reach_cm
        How far up or down is looked. [cm]
    """
    faces = upward_faces_cm(bodies, point_cm[0], point_cm[1])
    near = [each for each in faces if abs(each - point_cm[2]) <= reach_cm]
    return min(near, key=lambda height: abs(height - point_cm[2]), default=None)
