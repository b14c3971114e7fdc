"""A scanned surface out of the bytes of a file: read, mended where it can be, thinned where too fine."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.errors import QuantityError
from advisor.fields.scan_files import MOST_READ, ScanKind, breaks_off, kind_of
from advisor.fields.thinning import thinned

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]

MOST_KEPT = 20_000
"""A surface with more faces than that is thinned."""
_LEAST_FACES = 4
"""Fewer enclose nothing."""
_FOOT = 0.1
"""A hole whose rim lies within this share of the height from the lowest point is open at the foot."""


class ScanFault(StrEnum):
    """Why no body can be made of a file."""

    NO_MESH = "no mesh"
    CUT_OFF = "cut off"
    OTHER_KIND = "another kind"
    EMPTY = "empty"
    NOT_FINITE = "not finite"
    TOO_MANY = "too many"


class ScanError(QuantityError):
    """A file of which no body can be made."""

    def __init__(self, fault: ScanFault, message: str) -> None:
        super().__init__(message)
        self.fault = fault


@dataclass(frozen=True, slots=True, eq=False)
class Scan:
    """A surface in its own unit and axes, and what had to be done to it."""

    body: trimesh.Trimesh
    faces_read: int
    off: float | None
    """How far thinning moved it at most, None where it was not thinned; in its own unit."""
    turned_percent: float
    """Share of its faces that were inside out and are turned. [%]"""
    filled: int
    """Holes of three or four edges, now closed."""
    holes: int
    """Holes that are left."""
    widest_hole: float
    """Across the widest of them, 0 where there is none; in its own unit."""


def read_scan(data: bytes, kind: ScanKind) -> Scan:
    """Return the surface in the bytes of a file.

    Corners are merged, faces without area and twins dropped, faces turned
    outward, small holes closed. What cannot be mended is counted and left.

    Raises
    ------
    ScanError
        If the bytes are no mesh, or one without faces, without positions, or with far too many faces.

    Examples
    --------
    >>> block = trimesh.creation.box((3.0, 2.0, 1.0))
    >>> scan = read_scan(block.export(file_type="stl"), ScanKind.STL)
    >>> len(scan.body.faces), scan.holes, round(float(scan.body.volume), 6)
    (12, 0, 6.0)
    """
    body = _loaded(data, kind)
    read = len(body.faces)
    whole = _tidy(body)
    few = thinned(whole, MOST_KEPT)
    body = few.body
    filled = _close_small(body)
    turned = _turn_outward(body)
    widest, holes = _holes(body)
    off = None if body is whole else few.off
    return Scan(body, read, off, 100.0 * turned / len(body.faces), filled, holes, widest)


def open_at_foot(body: trimesh.Trimesh) -> bool:
    """Return whether a body that stands upright has holes, and all their rims lie at its foot."""
    height = np.asarray(body.vertices)[:, 2]
    rim = height[np.unique(_rim(body))]
    low, high = height.min(), height.max()
    return bool(len(rim)) and bool((rim <= low + _FOOT * (high - low)).all())


def _loaded(data: bytes, kind: ScanKind) -> trimesh.Trimesh:
    """The mesh as it is in the file, all of its parts joined."""
    try:
        with np.errstate(all="ignore"):
            scene = trimesh.load_scene(
                trimesh.util.wrap_as_stream(data), file_type=kind.value, process=False, skip_materials=True
            )
            counts = [len(getattr(scene.geometry[name], "faces", ())) for _, name in _parts(scene)]
            if sum(counts) > MOST_READ:
                raise ScanError(ScanFault.TOO_MANY, f"it has {sum(counts):,} faces".replace(",", " "))
            points = sum(len(getattr(each, "vertices", ())) for each in scene.geometry.values())
            body = scene.to_mesh()
    except ScanError:
        raise
    except Exception as fault:  # what a reader of foreign bytes raises is not to be foreseen
        raise _unreadable(data, kind) from fault
    if not len(body.faces):
        raise _faceless(points, data, kind)
    _require_sound(body)
    return trimesh.Trimesh(np.array(body.vertices, np.float64), np.array(body.faces), process=False)


def _parts(scene: trimesh.Scene) -> list[tuple[str, str]]:
    """Every part of a scene where it stands: its node and its geometry, as often as it is used."""
    return [(str(node), str(scene.graph[node][1])) for node in scene.graph.nodes_geometry]


def _faceless(points: int, data: bytes, kind: ScanKind) -> ScanError:
    """What is wrong with a file without faces."""
    if points:
        return ScanError(ScanFault.EMPTY, f"it has {points} points and no face")
    if not data.strip():
        return ScanError(ScanFault.EMPTY, "there is nothing in it")
    return _unreadable(data, kind)


def _unreadable(data: bytes, kind: ScanKind) -> ScanError:
    """Why the bytes cannot be read as what the name says."""
    there, found = breaks_off(data, kind), kind_of(data)
    if there:
        return ScanError(ScanFault.CUT_OFF, f"it breaks off, {there} are there")
    if found is kind:
        return ScanError(
            ScanFault.CUT_OFF, f"it begins as {kind.value.upper()} and cannot be read to its end"
        )
    if found is not None:
        what = f"by what is in it it is {found.value.upper()}, not {kind.value.upper()}"
        return ScanError(ScanFault.OTHER_KIND, what)
    return ScanError(ScanFault.NO_MESH, f"it cannot be read as {kind.value.upper()}")


def _require_sound(body: trimesh.Trimesh) -> None:
    """Raise where numbers are none or faces name corners that are not there."""
    faces = np.asarray(body.faces)
    if faces.min() < 0 or faces.max() >= len(body.vertices):
        raise ScanError(ScanFault.NO_MESH, "its faces name corners that are not in it")
    bad = ~np.isfinite(np.asarray(body.vertices)).all(axis=1)
    if bad.any():
        raise ScanError(ScanFault.NOT_FINITE, f"points without a position: {bad.sum()} of {len(bad)}")


def _tidy(body: trimesh.Trimesh) -> trimesh.Trimesh:
    """The same surface with shared corners, without twins and faces of no area."""
    body.merge_vertices(merge_tex=True, merge_norm=True)
    body.update_faces(body.nondegenerate_faces(height=1e-9 * max(float(body.scale), 1e-12)))
    body.update_faces(body.unique_faces())
    body.remove_unreferenced_vertices()
    if len(body.faces) < _LEAST_FACES:
        raise ScanError(ScanFault.EMPTY, f"it has {len(body.faces)} faces that have an area")
    if float(min(body.extents)) <= 1e-6 * float(max(body.extents)):
        raise ScanError(ScanFault.EMPTY, "it is as flat as a sheet")
    return body


def _close_small(body: trimesh.Trimesh) -> int:
    """Close holes of three or four edges; return how many."""
    before = _hole_rims(body)
    if before:
        trimesh.repair.fill_holes(body)
    return len(before) - len(_hole_rims(body)) if before else 0


def _turn_outward(body: trimesh.Trimesh) -> int:
    """Turn faces so that neighbours agree and every piece encloses what is inside; return how many."""
    before = np.array(body.face_normals)
    if not body.is_winding_consistent:
        trimesh.repair.fix_winding(body)  # type: ignore[no-untyped-call]  # untyped there
    rim = _rim(body)
    for piece in _pieces(body):
        if _encloses(body, piece, rim) < 0.0:
            faces = np.array(body.faces)
            faces[piece] = faces[piece][:, ::-1]
            body.faces = faces
    return int((np.einsum("ij,ij->i", before, body.face_normals) < 0.0).sum())


def _pieces(body: trimesh.Trimesh) -> list[Ints]:
    """Faces of each connected piece."""
    found = trimesh.graph.connected_components(
        body.face_adjacency, min_len=1, nodes=np.arange(len(body.faces)), engine="networkx"
    )
    return [np.asarray(each, np.int64) for each in found]


def _encloses(body: trimesh.Trimesh, piece: Ints, rim: Ints) -> float:
    """The volume a piece encloses, an open one closed over its rim; below 0 where it is inside out."""
    faces = np.asarray(body.faces)[piece]
    own = np.intersect1d(rim, faces)
    corners = np.asarray(body.vertices)
    middle = corners[own].mean(axis=0) if len(own) else corners[faces.ravel()].mean(axis=0)
    one, two, three = (corners[faces[:, at]] - middle for at in range(3))
    return float(np.einsum("ij,ij->i", one, np.cross(two, three)).sum()) / 6.0


def _rim(body: trimesh.Trimesh) -> Ints:
    """Ends of the edges that only one face has, in pairs."""
    edges = np.asarray(body.edges_sorted)
    alone = trimesh.grouping.group_rows(edges, require_count=1)  # type: ignore[no-untyped-call]  # untyped there
    found: Ints = edges[alone].astype(np.int64)
    return found


def _hole_rims(body: trimesh.Trimesh) -> list[Ints]:
    """Corners around each hole."""
    rim = _rim(body)
    if not len(rim):
        return []
    found = trimesh.graph.connected_components(rim, min_len=1, engine="networkx")
    return [np.asarray(each, np.int64) for each in found if len(each) > 1]


def _holes(body: trimesh.Trimesh) -> tuple[float, int]:
    """Across the widest hole, and how many there are."""
    rims = [np.asarray(body.vertices)[each] for each in _hole_rims(body)]
    across = [float(np.linalg.norm(rim.max(axis=0) - rim.min(axis=0))) for rim in rims]
    return max(across, default=0.0), len(rims)
