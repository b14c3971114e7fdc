"""A scanned rock set into the tank: by its size and place, or by points known in both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.errors import QuantityError
from advisor.model.lighting import Pin, Surface, Upward

Floats: TypeAlias = npt.NDArray[np.float64]

CM_PER_UNIT = {"centimetres": 1.0, "metres": 100.0, "millimetres": 0.1, "inches": 2.54}
"""Units a scan may be in, the likeliest first."""
_LEAST_CM = 3.0
"""Nobody scans a rock that is smaller."""
_THIN = 0.05
"""Three points whose triangle is flatter than this share of its longest side say nothing of a turn."""

_TO_Z: dict[Upward, tuple[tuple[int, int, int], ...]] = {
    Upward.Z: ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    Upward.MINUS_Z: ((1, 0, 0), (0, -1, 0), (0, 0, -1)),
    Upward.Y: ((1, 0, 0), (0, 0, -1), (0, 1, 0)),
    Upward.MINUS_Y: ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    Upward.X: ((0, 1, 0), (0, 0, 1), (1, 0, 0)),
    Upward.MINUS_X: ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
}
"""Turns that bring an axis up, none of them a mirror."""


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """A body in the tank."""

    body: trimesh.Trimesh
    """[cm]"""
    cm_per_unit: float
    """The largest of its scales."""
    stretched: float = 1.0
    """Its largest scale by its smallest."""
    residual_cm: float = 0.0
    """How far the farthest of the points misses where it was measured."""


def upright(body: trimesh.Trimesh, up: Upward) -> trimesh.Trimesh:
    """Return a scan with its way up along z, in its own unit."""
    corners = np.asarray(body.vertices) @ np.array(_TO_Z[up], np.float64).T
    return trimesh.Trimesh(corners, body.faces, process=False)


def likely_unit(extent: Sequence[float], room_cm: Sequence[float] | None) -> str:
    """Return the unit in which a scan of some extent is a rock that has room in the tank, empty for none.

    Examples
    --------
    >>> likely_unit((0.3, 0.2, 0.15), (90.0, 60.0, 50.0))
    'metres'
    >>> likely_unit((300.0, 200.0, 150.0), (90.0, 60.0, 50.0))
    'millimetres'
    """
    sides = np.sort(np.asarray(extent, np.float64))
    room = np.sort(np.asarray(room_cm, np.float64)) if room_cm is not None else np.full(3, 300.0)
    for name, scale in CM_PER_UNIT.items():
        if (sides * scale <= room).all() and sides[-1] * scale >= _LEAST_CM:
            return name
    return ""


def set_down(
    body: trimesh.Trimesh,
    size_cm: Sequence[float],
    middle_cm: tuple[float, float],
    foot_cm: float,
    turned_deg: float,
) -> Standing:
    """Return an upright scan stretched, turned and set into the tank.

    Parameters
    ----------
    body
        Upright, in its own unit; none of its extents is 0.
    size_cm
        Extent along x, y and z before it is turned. [cm]
    middle_cm
        Middle of its outline, seen from above. [cm]
    foot_cm
        Height of its lowest point over the bare glass. [cm]
    turned_deg
        Against the clock seen from above. [degrees]
    """
    low, high = np.asarray(body.bounds)
    scale = np.asarray(size_cm, np.float64) / (high - low)
    cos, sin = np.cos(np.radians(turned_deg)), np.sin(np.radians(turned_deg))
    turn = np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
    foot = np.array([*(low[:2] + high[:2]) / 2.0, low[2]])
    corners = ((np.asarray(body.vertices) - foot) * scale) @ turn.T + np.array([*middle_cm, foot_cm])
    found = trimesh.Trimesh(corners, body.faces, process=False)
    return Standing(found, float(scale.max()), float(scale.max() / scale.min()))


def pinned(body: trimesh.Trimesh, pins: Sequence[Pin]) -> Standing:
    """Return a scan moved, turned and scaled alike in all directions so that its points lie best.

    Raises
    ------
    QuantityError
        If there are fewer than three points, or they lie on one line.

    References
    ----------
    S. Umeyama, Least-squares estimation of transformation parameters between two point patterns,
    IEEE Trans. Pattern Anal. Mach. Intell. 13(4), 1991, 376-380. doi:10.1109/34.88573
    """
    scan = np.array([each.scan for each in pins], np.float64).reshape(-1, 3)
    tank = np.array([each.tank_cm for each in pins], np.float64).reshape(-1, 3)
    if len(pins) < 3:
        raise QuantityError(f"{len(pins)} points cannot tell how it is turned")
    if _on_a_line(scan) or _on_a_line(tank):
        raise QuantityError("they lie on one line, so it could be turned about that in any way")
    moved, there, _ = trimesh.registration.procrustes(scan, tank, reflection=False)
    corners = trimesh.transformations.transform_points(np.asarray(body.vertices), moved)
    scale = float(np.cbrt(np.linalg.det(moved[:3, :3])))
    residual = float(np.linalg.norm(there - tank, axis=1).max())
    return Standing(trimesh.Trimesh(corners, body.faces, process=False), scale, 1.0, residual)


def _on_a_line(points: Floats) -> bool:
    """Whether some points are nearly on one line."""
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    return bool(spread[0] <= 0.0 or spread[1] <= _THIN * spread[0])


def beyond_glass_cm(body: trimesh.Trimesh, room_cm: Sequence[float]) -> dict[str, float]:
    """Return how far a body reaches out of a box on each side, the sides it keeps within left out. [cm]"""
    low, high = np.asarray(body.bounds)
    length, width, height = room_cm
    over = {
        "left": -low[0], "right": high[0] - length, "front": -low[1], "back": high[1] - width,
        "top": high[2] - height, "bottom": -low[2],
    }  # fmt: skip
    return {side: float(far) for side, far in over.items() if far > 0.0}


def packed(standing: Standing, off: float) -> Surface:
    """Return a body as plain bytes.

    Parameters
    ----------
    off
        How far its surface may lie from the scan, in the unit of the scan.
    """
    corners = np.ascontiguousarray(standing.body.vertices, "<f8")
    faces = np.ascontiguousarray(standing.body.faces, "<u4")
    return Surface(corners.tobytes(), faces.tobytes(), off * standing.cm_per_unit)


def unpacked(surface: Surface) -> trimesh.Trimesh:
    """Return the body that `packed` made bytes of. [cm]"""
    corners = np.frombuffer(surface.corners_cm, "<f8").reshape(-1, 3)
    faces = np.frombuffer(surface.faces, "<u4").reshape(-1, 3).astype(np.int64)
    return trimesh.Trimesh(corners.copy(), faces, process=False)
