"""The inside of a scanned tank: whether it is one, and its outline at some heights."""

from __future__ import annotations

from enum import StrEnum
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.errors import QuantityError
from advisor.units import format_number

Floats: TypeAlias = npt.NDArray[np.float64]
Outline: TypeAlias = tuple[tuple[float, float], ...]

_OFF_ENDS_CM = 0.5
"""The lowest and the highest cut lie so far within: at floor and rim themselves there is no outline."""
_NEXT_TO_CM = 1e-9
_APART_CM = 3.0
_MOST_CUTS = 24
_FLATTER = 0.85
"""The upright part of the direction that a face of the floor looks to: one flatter than 32 degrees."""
_RIM = 0.9
"""A surface that is open only above this share of its height is open at the top, as a tank is."""
_STRAY = 0.1
"""The share of the floor at either end of its heights that may be pebbles and stray corners."""
_BUMP = 0.05
"""An outline with less than that share of the largest one's area is a bump, not a second room."""
_LEVEL = 0.02
"""A floor that rises by no more than this share of its longer side is level enough, ..."""
_LEVEL_CM = 2.0
"""... and one that rises by less than this."""


class RoomFault(StrEnum):
    """Why a surface is not the inside of a tank."""

    OPEN = "open"
    NOT_LEVEL = "not level"
    NOT_ONE = "not one"


class RoomError(QuantityError):
    """A surface that is not the inside of a tank."""

    def __init__(self, fault: RoomFault, message: str) -> None:
        super().__init__(message)
        self.fault = fault


def cuts(body: trimesh.Trimesh, water_cm: float | None) -> tuple[tuple[float, Outline], ...]:
    """Return the outline of a tank at some heights, from its floor up to the water or the rim.

    Parameters
    ----------
    body
        The surface around the water, upright, its floor at height 0; it may be open at the top. [cm]
    water_cm
        Height of the water over the floor; None where it is full to the rim.

    Raises
    ------
    RoomError
        If its floor is not level, if it is open below the water, or if a cut gives not one outline.

    Examples
    --------
    >>> block = trimesh.creation.box((60.0, 40.0, 30.0))
    >>> block.apply_translation((30.0, 20.0, 15.0))
    <trimesh.Trimesh(vertices.shape=(8, 3), faces.shape=(12, 3))>
    >>> found = cuts(block, None)
    >>> [height for height, _ in found][::5], len(found)
    ([0.5, 15.0, 29.5], 11)
    """
    rim = float(np.asarray(body.bounds)[1, 2])
    open_at = _lowest_hole(body)
    top = min(rim, open_at)
    if top < (_RIM * rim if water_cm is None else min(water_cm, _RIM * rim)):
        what = f"it is open {_cm(open_at)} above its floor, below the water"
        raise RoomError(RoomFault.OPEN, what)
    _outline(body, top / 2.0)  # first, for a shell has two floors
    low = _floor(body) + _OFF_ENDS_CM
    high = min(top, rim if water_cm is None else water_cm) - _OFF_ENDS_CM
    count = int(np.clip(np.ceil((high - low) / _APART_CM) + 1, 2, _MOST_CUTS))
    heights = [float(each) for each in np.linspace(low, max(high, low + _OFF_ENDS_CM), count)]
    return tuple((height, _outline(body, height)) for height in heights)


def _lowest_hole(body: trimesh.Trimesh) -> float:
    """Height of the lowest edge that only one face has, infinite for a closed surface. [cm]"""
    edges = np.asarray(body.edges_sorted)
    alone = trimesh.grouping.group_rows(edges, require_count=1)  # type: ignore[no-untyped-call]  # untyped there
    heights = np.asarray(body.vertices)[np.unique(edges[alone]), 2]
    return float(heights.min()) if len(heights) else float("inf")


def _floor(body: trimesh.Trimesh) -> float:
    """How high the floor reaches; raises where the faces that look down do not lie at one height. [cm]"""
    down = -np.asarray(body.face_normals)[:, 2]
    floor = down > _FLATTER
    if not floor.any():
        raise RoomError(RoomFault.NOT_LEVEL, "it has no floor")
    heights = np.asarray(body.triangles)[floor][:, :, 2].ravel()
    weight = np.repeat(np.asarray(body.area_faces)[floor] * down[floor], 3)
    order = np.argsort(heights)
    share = np.cumsum(weight[order]) / weight.sum()
    low, high = (float(heights[order][np.searchsorted(share, each)]) for each in (_STRAY, 1.0 - _STRAY))
    longest = float(max(body.extents[:2]))
    if high - low > max(_LEVEL_CM, _LEVEL * longest):
        what = f"its floor is not level: it rises by {_cm(high - low)}"
        raise RoomError(RoomFault.NOT_LEVEL, what)
    return high


def _outline(body: trimesh.Trimesh, height_cm: float) -> Outline:
    """The one outline at a height, its corners at the left of and before the origin brought onto it."""
    rings = _rings(body, height_cm)
    areas = np.array([_area(ring) for ring in rings])
    large = [ring for ring, area in zip(rings, areas, strict=True) if area > _BUMP * areas.max()]
    if len(large) != 1:
        what = f"cut {_cm(height_cm)} above its floor it has {len(large)} outlines, where water has one"
        raise RoomError(RoomFault.NOT_ONE, what)
    return tuple((float(x), float(y)) for x, y in np.clip(large[0], 0.0, None))


def _rings(body: trimesh.Trimesh, height_cm: float) -> list[Floats]:
    """The closed ways that a level plane makes with a surface, from edge to edge, seen from above."""
    corners, edges = np.asarray(body.vertices), np.asarray(body.edges_unique)
    over = corners[:, 2] - height_cm
    over[over == 0.0] = _NEXT_TO_CM  # a corner in the plane itself counts as above it
    low, high = over[edges[:, 0]], over[edges[:, 1]]
    cut = (low > 0.0) != (high > 0.0)
    share = np.where(cut, low / np.where(cut, low - high, 1.0), 0.0)[:, None]
    met = corners[edges[:, 0], :2] * (1.0 - share) + corners[edges[:, 1], :2] * share
    of_face = np.asarray(body.faces_unique_edges)
    pairs = of_face[cut[of_face].sum(axis=1) == 2]
    beside: dict[int, set[int]] = {}
    for one, two in pairs[cut[pairs]].reshape(-1, 2).tolist():
        beside.setdefault(one, set()).add(two)
        beside.setdefault(two, set()).add(one)
    return [met[way] for way in _closed_ways(beside)]


def _closed_ways(beside: dict[int, set[int]]) -> list[list[int]]:
    """Every way from neighbour to neighbour that comes back to where it began; empties what it is given."""
    found = []
    while beside:
        way = [min(beside)]
        while beside.get(way[-1]):
            after = min(beside[way[-1]])
            for one, two in ((way[-1], after), (after, way[-1])):
                beside[one].discard(two)
                if not beside[one]:
                    del beside[one]
            way.append(after)
        if len(way) > 3 and way[0] == way[-1]:
            found.append(way[:-1])
    return found


def _area(ring: Floats) -> float:
    """The area within a ring. [cm²]"""
    after = np.roll(ring, -1, axis=0)
    return float(abs((ring[:, 0] * after[:, 1] - after[:, 0] * ring[:, 1]).sum()) / 2.0)


def _cm(value: float) -> str:
    return f"{format_number(round(value, 1))} cm"
