"""Light that pale sand throws up: straight at a face that looks down, by the surface at one that looks up."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.mirrors import Walls
from advisor.fields.optics import reflectance
from advisor.fields.tank_light import CM_PER_M, Water

Floats: TypeAlias = npt.NDArray[np.float64]

_ZENITHS, _AZIMUTHS = 8, 24


def sand_light(
    points_cm: Floats, water: Water, albedo: float, floor_umol: float, facing: Floats | None = None
) -> Floats:
    """PAR that a face gets from a sand bed.

    Parameters
    ----------
    points_cm
        Shape (n, 3), z up from the sand. [cm]
    albedo
        Share of light that the sand throws back, evenly in all directions. [1]
    floor_umol
        Mean PAR on the sand. [µmol/m²/s]
    facing
        Outward unit normals, shape (n, 3); without, faces are level and look up. [1]

    Returns
    -------
    Shape (n,). [µmol/m²/s]

    Notes
    -----
    The sand is one even Lambertian floor seen directly, in the surface from
    below, and over the walls as often as they throw back. Shadows of rock
    are left out, which errs towards more light.

    References
    ----------
    Fresnel's equations; albedo of coral sand: S. Maritorena, A. Morel and
    B. Gentili, Limnol. Oceanogr. 39 (1994) 1689.
    """
    level = np.tile([0.0, 0.0, 1.0], (len(points_cm), 1))
    normals = level if facing is None else facing
    total = np.zeros(len(points_cm))
    for way, solid in _directions(water.index):
        seen = np.clip(normals @ way, 0.0, None) * solid
        total += seen * _radiance(points_cm, way, water)
    found: Floats = total * albedo * floor_umol / np.pi
    return found


def _directions(index: float) -> list[tuple[Floats, float]]:
    """Directions over the whole sphere, and the solid angle of each. [sr]"""
    critical = float(np.sqrt(1.0 - 1.0 / index**2))
    nodes, weights = np.polynomial.legendre.leggauss(_ZENITHS)
    azimuths = (np.arange(_AZIMUTHS) + 0.5) * 2.0 * np.pi / _AZIMUTHS
    found: list[tuple[Floats, float]] = []
    # cut where the surface begins to throw back all, for there the sum would else miss the step
    for low, high in ((-1.0, 0.0), (0.0, critical), (critical, 1.0)):
        for node, weight in zip(nodes, weights, strict=True):
            cosine = low + (high - low) * (node + 1.0) / 2.0
            sine = np.sqrt(1.0 - cosine**2)
            solid = float(weight) * (high - low) / 2.0 * 2.0 * np.pi / _AZIMUTHS
            found += [(np.array([sine * np.cos(a), sine * np.sin(a), cosine]), solid) for a in azimuths]
    return found


def _radiance(points_cm: Floats, way: Floats, water: Water) -> Floats:
    """Share of the sand's radiance that reaches each point from one direction."""
    up = way[2] > 0.0
    height = 2.0 * water.surface_cm - points_cm[:, 2] if up else points_cm[:, 2]
    path = height / abs(way[2])
    kept: Floats = np.exp(-water.kd_per_m * path / CM_PER_M)
    if up:
        kept = kept * reflectance(way[2:], 1.0 / water.index)
    return kept * _over_walls(points_cm, way, path, water.walls, water.index)


def _over_walls(points_cm: Floats, way: Floats, path_cm: Floats, walls: Walls, index: float) -> Floats:
    """Share that is left after all walls between a point and the sand."""
    left = np.ones(len(points_cm))
    shares = ((walls.left, walls.right, walls.length_cm), (walls.front, walls.back, walls.width_cm))
    for axis, (low, high, side) in enumerate(shares):
        cells = np.floor((points_cm[:, axis] + way[axis] * path_cm) / side)
        hits = np.abs(cells)
        first_low = way[axis] < 0.0
        of_low = np.ceil(hits / 2.0) if first_low else np.floor(hits / 2.0)
        clean = float(reflectance(np.array([abs(way[axis])]), 1.0 / index)[0])
        left = left * (clean if low is None else low) ** of_low
        left = left * (clean if high is None else high) ** (hits - of_low)
    return left
