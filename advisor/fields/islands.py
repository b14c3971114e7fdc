"""Which rocks touch, and how wide the bare floor is between those that do not."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.fields.upward import inside

Floats: TypeAlias = npt.NDArray[np.float64]

_EVERY_CM = 1.0
"""Points on a surface lie about this far apart."""
_CLOSEST = 40
"""So many of the nearest points are followed to the very surface."""
_AT_FOOT_CM = 3.0
"""What of a rock is lower than this stands on the floor."""
_ROWS = 512


def near_cm(bodies: Mapping[str, trimesh.Trimesh], within_cm: float) -> dict[tuple[str, str], float]:
    """Return the shortest way between the surfaces of two rocks, 0 where they reach into each other.

    Parameters
    ----------
    bodies
        Rocks by their ids. [cm]
    within_cm
        Pairs that are farther apart are left out. [cm]

    Returns
    -------
    By the two ids in the order given; to about a tenth of a centimetre. [cm]
    """
    points = {name: _points(body) for name, body in bodies.items()}
    found: dict[tuple[str, str], float] = {}
    for one, two in combinations(bodies, 2):
        of_one = _around(points[one], bodies[two], within_cm)
        of_two = _around(points[two], bodies[one], within_cm)
        if len(of_one) and len(of_two):
            far = _apart(bodies[one], of_one, bodies[two], of_two)
            found |= {(one, two): far} if far <= within_cm else {}
    return found


def _around(points: Floats, body: trimesh.Trimesh, within_cm: float) -> Floats:
    """Those of some points that lie in or near the box around a body."""
    low, high = np.asarray(body.bounds)
    wide = within_cm + 2.0 * _EVERY_CM
    found: Floats = points[((points >= low - wide) & (points <= high + wide)).all(axis=1)]
    return found


def moats_cm(bodies: Mapping[str, trimesh.Trimesh]) -> dict[tuple[str, str], float]:
    """Return how wide the floor is between every two rocks that stand on it, to about a centimetre. [cm]"""
    feet = {name: _foot(body) for name, body in bodies.items()}
    found = {}
    for one, two in combinations(bodies, 2):
        if len(feet[one]) and len(feet[two]):
            found[one, two] = float(_nearest(feet[one], feet[two]).min())
    return found


def _points(body: trimesh.Trimesh) -> Floats:
    """Points all over a surface, its corners among them."""
    corners = trimesh.remesh.subdivide_to_size(  # type: ignore[no-untyped-call]  # untyped there
        np.asarray(body.vertices), body.faces, 2.0 * _EVERY_CM
    )[0]
    _, once = np.unique(np.floor(corners / _EVERY_CM).astype(np.int64), axis=0, return_index=True)
    found: Floats = np.vstack([corners[once], np.asarray(body.vertices)])
    return found


def _foot(body: trimesh.Trimesh) -> Floats:
    """Points of a rock on or just over the floor, seen from above."""
    points = _points(body)
    found: Floats = points[points[:, 2] <= _AT_FOOT_CM][:, :2]
    return found


def _apart(one: trimesh.Trimesh, of_one: Floats, two: trimesh.Trimesh, of_two: Floats) -> float:
    """The shortest way between two surfaces."""
    if inside(two, of_one).any() or inside(one, of_two).any():
        return 0.0
    return min(_to_surface(of_one, of_two, two), _to_surface(of_two, of_one, one))


def _to_surface(points: Floats, others: Floats, body: trimesh.Trimesh) -> float:
    """The shortest way from some points to a surface, the likeliest of them followed exactly."""
    near = _nearest(points, others)
    first = np.argsort(near)[:_CLOSEST]
    triangles = np.asarray(body.triangles)
    middles = triangles.mean(axis=1)
    reach = np.linalg.norm(triangles - middles[:, None, :], axis=2).max(axis=1)
    best = float(near.min())
    for point in points[first]:
        close = np.linalg.norm(middles - point, axis=1) - reach <= best
        candidates = triangles[close]
        if not len(candidates):
            continue
        same = np.tile(point, (len(candidates), 1))
        there = trimesh.triangles.closest_point(candidates, same)  # type: ignore[no-untyped-call]  # untyped there
        best = min(best, float(np.linalg.norm(there - point, axis=1).min()))
    return best


def _nearest(points: Floats, others: Floats) -> Floats:
    """Distance from each point to the nearest of some others, a few rows at a time to save memory."""
    found = [
        np.sqrt(((points[at : at + _ROWS, None] - others) ** 2).sum(axis=2).min(axis=1))
        for at in range(0, len(points), _ROWS)
    ]
    return np.concatenate(found)
