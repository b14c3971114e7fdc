"""Light that pale sand throws up: straight at a face that looks down, by the surface at one that looks up."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.mirrors import Walls
from advisor.fields.optics import reflectance
from advisor.fields.tank_light import CM_PER_M, Shade, Water

Floats: TypeAlias = npt.NDArray[np.float64]

_ZENITHS, _AZIMUTHS = 12, 48


def sand_light(
    points_cm: Floats,
    water: Water,
    albedo: float,
    floor_umol: float,
    facing: Floats | None = None,
    shade: Shade | None = None,
) -> Floats:
    """PAR that a face gets from a sand bed that is lit evenly, shape (n,); see `sand_by_source`."""
    even = np.full((1, 1, 1), floor_umol)
    found: Floats = sand_by_source(points_cm, water, albedo, even, facing, shade)[0]
    return found


def sand_by_source(
    points_cm: Floats,
    water: Water,
    albedo: float,
    floor_umol: Floats,
    facing: Floats | None = None,
    shade: Shade | None = None,
    *,
    zeniths: int = _ZENITHS,
) -> Floats:
    """PAR that a face gets from a sand bed, by each source that lights the sand.

    Parameters
    ----------
    points_cm
        Shape (n, 3), z up from the sand. [cm]
    albedo
        Share of light that the sand throws back, evenly in all directions. [1]
    floor_umol
        PAR that each source sends to the cells of an even grid over the floor, shape (sources, along
        the length, along the width). [µmol/m²/s]
    facing
        Outward unit normals, shape (n, 3); without, faces are level and look up. [1]
    shade
        What is let through on the way from the sand; without, everything.
    zeniths
        How many rings of one height are looked along below, below the surface's mirror and within it.

    Returns
    -------
    Shape (sources, n). [µmol/m²/s]

    Notes
    -----
    The sand is a Lambertian floor seen directly, in the surface from below,
    and over the walls as often as they throw back. What is in the way is
    looked for up to the first wall or the surface, and throws back nothing.

    References
    ----------
    Fresnel's equations; albedo of coral sand: S. Maritorena, A. Morel and
    B. Gentili, Limnol. Oceanogr. 39 (1994) 1689.
    """
    level = np.tile([0.0, 0.0, 1.0], (len(points_cm), 1))
    normals = level if facing is None else facing
    total = np.zeros((len(floor_umol), len(points_cm)))
    for ways, solid in _rings(water.index, zeniths):
        seen = np.clip(normals @ ways.T, 0.0, None) * solid
        point, way = np.nonzero(seen)
        if not len(point):
            continue
        starts, along = points_cm[point], ways[way]
        sent = seen[point, way] * _radiance(starts, along, water)
        if shade is not None:
            sent = sent * shade(starts, along)
        for source, met in enumerate(_met(starts, along, water, floor_umol)):
            total[source] += np.bincount(point, sent * met, len(points_cm))
    found: Floats = total * albedo / np.pi
    return found


def _met(points_cm: Floats, ways: Floats, water: Water, floor_umol: Floats) -> Floats:
    """PAR on the sand where each line of sight ends, folded at the walls, shape (sources, n)."""
    path = _path_cm(points_cm, ways, water)
    cells = []
    for axis, side in enumerate((water.walls.length_cm, water.walls.width_cm)):
        along = np.mod(points_cm[:, axis] + ways[:, axis] * path, 2.0 * side)
        folded = np.minimum(along, 2.0 * side - along) / side
        count = floor_umol.shape[1 + axis]
        cells.append(np.minimum((folded * count).astype(np.int64), count - 1))
    found: Floats = floor_umol[:, cells[0], cells[1]]
    return found


def _path_cm(points_cm: Floats, ways: Floats, water: Water) -> Floats:
    """How far a line of sight goes before it meets the sand; upward ones by the surface."""
    height = np.where(ways[:, 2] > 0.0, 2.0 * water.surface_cm - points_cm[:, 2], points_cm[:, 2])
    found: Floats = height / np.abs(ways[:, 2])
    return found


def _rings(index: float, zeniths: int) -> list[tuple[Floats, float]]:
    """Directions over the whole sphere by rings of one height, and the solid angle of each. [sr]"""
    critical = float(np.sqrt(1.0 - 1.0 / index**2))
    nodes, weights = np.polynomial.legendre.leggauss(zeniths)
    azimuths = (np.arange(_AZIMUTHS) + 0.5) * 2.0 * np.pi / _AZIMUTHS
    found: list[tuple[Floats, float]] = []
    # cut where the surface begins to throw back all, for there the sum would else miss the step
    for low, high in ((-1.0, 0.0), (0.0, critical), (critical, 1.0)):
        for node, weight in zip(nodes, weights, strict=True):
            cosine = low + (high - low) * (node + 1.0) / 2.0
            sine = np.sqrt(1.0 - cosine**2)
            solid = float(weight) * (high - low) / 2.0 * 2.0 * np.pi / _AZIMUTHS
            ring = [sine * np.cos(azimuths), sine * np.sin(azimuths), np.full(_AZIMUTHS, cosine)]
            found.append((np.column_stack(ring), solid))
    return found


def _radiance(points_cm: Floats, ways: Floats, water: Water) -> Floats:
    """Share of the sand's radiance that reaches each point from its direction."""
    path = _path_cm(points_cm, ways, water)
    kept: Floats = np.exp(-water.kd_per_m * path / CM_PER_M)
    up = ways[:, 2] > 0.0
    kept[up] *= reflectance(ways[up, 2], 1.0 / water.index)
    return kept * _over_walls(points_cm, ways, path, water.walls, water.index)


def _over_walls(points_cm: Floats, ways: Floats, path_cm: Floats, walls: Walls, index: float) -> Floats:
    """Share that is left after all walls between a point and the sand."""
    left = np.ones(len(points_cm))
    shares = ((walls.left, walls.right, walls.length_cm), (walls.front, walls.back, walls.width_cm))
    for axis, (low, high, side) in enumerate(shares):
        way = ways[:, axis]
        hits = np.abs(np.floor((points_cm[:, axis] + way * path_cm) / side))
        of_low = np.where(way < 0.0, np.ceil(hits / 2.0), np.floor(hits / 2.0))
        clean = reflectance(np.abs(way), 1.0 / index)
        left = left * (clean if low is None else low) ** of_low
        left = left * (clean if high is None else high) ** (hits - of_low)
    return left
