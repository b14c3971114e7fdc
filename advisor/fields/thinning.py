"""A surface of very many triangles made of fewer, and how far it then lies off at most."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

Floats: TypeAlias = npt.NDArray[np.float64]

_BACK = 1e-6
"""A ray starts so far behind its point, as a share of the extent, that a surface there is met."""
_EXACT = 3000
"""Of how many of the points that seem farthest off the distance is found exactly."""
_AT_ONCE = 250
"""Of so many together, for one at a time takes several times as long."""


@dataclass(frozen=True, slots=True, eq=False)
class Thinned:
    """A surface with fewer faces."""

    body: trimesh.Trimesh
    off: float
    """No corner and no middle of a face of the fine surface lies farther from it, in its own unit."""


def thinned(body: trimesh.Trimesh, most_faces: int) -> Thinned:
    """Return a surface of at most some number of faces, by quadric decimation.

    Parameters
    ----------
    body
        Its corners merged, so that neighbours share them.
    most_faces
        How many may be left; the surface is returned as it is where it has no more.

    Examples
    --------
    >>> ball = trimesh.creation.icosphere(4, 10.0)
    >>> few = thinned(ball, 1000)
    >>> len(ball.faces), len(few.body.faces) <= 1000, few.off < 0.2
    (5120, True, True)
    """
    if len(body.faces) <= most_faces:
        return Thinned(body, 0.0)
    coarse = body.simplify_quadric_decimation(face_count=most_faces)
    return Thinned(coarse, farthest_off(body, coarse))


def farthest_off(fine: trimesh.Trimesh, coarse: trimesh.Trimesh) -> float:
    """Return the largest distance of corners and middles of faces of one surface from another.

    Rays along the normals bound every distance from above; those that seem largest are then found
    exactly, and what is returned is never less than the truth.
    """
    points, normals = _points(fine)
    bound = _along_normals(points, normals, coarse)
    order = np.argsort(-bound)[:_EXACT]
    most = 0.0
    middles = coarse.triangles_center
    reach = np.linalg.norm(coarse.triangles - middles[:, None, :], axis=2).max(axis=1)
    for begin in range(0, len(order), _AT_ONCE):
        rows = order[begin : begin + _AT_ONCE]
        if bound[rows[0]] <= most:
            return most
        most = max(most, float(_distances(points[rows], coarse.triangles, middles, reach).max()))
    rest = np.delete(bound, order)
    return max(most, float(rest.max(initial=0.0)))


def _points(body: trimesh.Trimesh) -> tuple[Floats, Floats]:
    """Corners and middles of faces, each with a normal there."""
    normals = np.asarray(body.face_normals)
    of_corner = np.zeros((len(body.vertices), 3))
    of_corner[body.faces.ravel()] = np.repeat(normals, 3, axis=0)
    used = np.zeros(len(body.vertices), np.bool_)
    used[body.faces.ravel()] = True
    points = np.vstack([np.asarray(body.vertices)[used], body.triangles_center])
    return points, np.vstack([of_corner[used], normals])


def _along_normals(points: Floats, normals: Floats, body: trimesh.Trimesh) -> Floats:
    """A distance to the surface each point is surely within: along its normal, either way."""
    back = _BACK * body.scale
    found = np.full(len(points), np.inf)
    for way in (1.0, -1.0):
        ahead = way * normals
        at, rays, _ = body.ray.intersects_location(points - back * ahead, ahead, multiple_hits=False)
        np.minimum.at(found, rays, np.linalg.norm(at - points[rays], axis=1))
    return found


def _distances(points: Floats, triangles: Floats, middles: Floats, reach: Floats) -> Floats:
    """Distance of some points from the nearest of some triangles each."""
    squared = -2.0 * points @ middles.T
    squared += (points**2).sum(axis=1)[:, None]
    squared += (middles**2).sum(axis=1)
    slack = _BACK * float(np.abs(middles).max(initial=1.0))  # what is lost where squares are subtracted
    nearest = np.sqrt(np.maximum(squared.min(axis=1), 0.0)) + slack
    rows, near = np.nonzero(squared <= ((nearest + reach.max()) ** 2)[:, None])
    apart = np.sqrt(np.maximum(squared[rows, near], 0.0))
    kept = apart - reach[near] <= nearest[rows] + slack
    rows, near = rows[kept], near[kept]
    there = trimesh.triangles.closest_point(triangles[near], points[rows])  # type: ignore[no-untyped-call]  # untyped there
    found = np.full(len(points), np.inf)
    np.minimum.at(found, rows, np.linalg.norm(there - points[rows], axis=1))
    return found
