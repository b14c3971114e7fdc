"""Light in a glass box: lamps through the surface, mirrored in the walls, dimmed by the water, shaded."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.emitters import Emitters
from advisor.fields.mirrors import FOLDS, MEETINGS, Walls, images_cm, legs, thrown_back
from advisor.fields.optics import reflectance
from advisor.fields.spectra import steady
from advisor.fields.surface_rays import Rays, rays

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]
Bools: TypeAlias = npt.NDArray[np.bool_]
Shade: TypeAlias = Callable[[Floats, Floats], Floats]
"""From starts [cm] and directions, shape (n, 3) each, to the share of the light that passes, shape (n,)."""

CM_PER_M = 100.0
_FAINT = 1e-3
"""Rays below this share of a point's light are not looked at for shadow."""
_AT_ONCE = 2000


@dataclass(frozen=True, slots=True)
class Water:
    """The water of a tank as light sees it."""

    walls: Walls
    surface_cm: float
    """Height of the surface over the bare glass. [cm]"""
    index: float
    """Refractive index against air. [1]"""
    kd_per_m: float
    """Attenuation along its path, of light whose lamp has no fading of its own. [1/m]"""


@dataclass(frozen=True, slots=True, eq=False)
class Light:
    """PAR at some points, lamp by lamp."""

    by_lamp: Floats
    """Shape (lamps, points), NaN where a point is not in the water. [µmol/m²/s]"""
    open_by_lamp: Floats
    """The same as if nothing threw a shadow."""
    path_m: Floats
    """Mean way through water of the light that arrives, shape (points,). [m]"""
    by_wall: Floats
    """PAR that came over the left, right, front and back wall, counted once for each meeting,
    shape (4, points). [µmol/m²/s]"""
    over_walls: Floats
    """PAR that came over one wall or more, shape (points,). [µmol/m²/s]"""

    @property
    def par_umol(self) -> Floats:
        """PAR of all lamps together, shape (points,). [µmol/m²/s]"""
        total: Floats = self.by_lamp.sum(axis=0)
        return total


def light_at(
    points_cm: Floats,
    lamps: Sequence[Emitters],
    water: Water,
    facing: Floats | None = None,
    shade: Shade | None = None,
) -> Light:
    """PAR on a small flat face at some points.

    Parameters
    ----------
    points_cm
        Shape (n, 3), z up from the bare glass. [cm]
    lamps
        Every point of each above the surface.
    facing
        Outward unit normals of the faces, shape (n, 3); without, faces are level and look up. [1]
    shade
        What is let through on the way to the lamps; without, everything.

    Notes
    -----
    Valid for a flat surface. Walls are plane mirrors; a ray is followed over
    two of them at most and only if it entered the water inside the box. Light
    that sand and rock throw back is no part of it.

    References
    ----------
    Snell, Fresnel, Beer-Lambert; lobes after I. Moreno and C.-C. Sun, Opt. Express 16 (2008) 1808.
    """
    if not lamps:
        count = len(points_cm)
        none = np.zeros(count)
        return Light(np.zeros((0, count)), np.zeros((0, count)), none, np.zeros((4, count)), none)
    cuts = [slice(low, low + _AT_ONCE) for low in range(0, max(len(points_cm), 1), _AT_ONCE)]
    parts = [
        _some(points_cm[cut], lamps, water, facing if facing is None else facing[cut], shade) for cut in cuts
    ]
    return Light(
        np.concatenate([part.by_lamp for part in parts], axis=1),
        np.concatenate([part.open_by_lamp for part in parts], axis=1),
        np.concatenate([part.path_m for part in parts]),
        np.concatenate([part.by_wall for part in parts], axis=1),
        np.concatenate([part.over_walls for part in parts]),
    )


def more(some: Light, other: Light, times: float) -> Light:
    """Return the light with so many times what another has more of.

    Parameters
    ----------
    some, other
        Of the same lamps at the same points.
    times
        Of the difference; 0 gives `some`, 1 gives `other`. [1]
    """
    pairs = (
        (some.by_lamp, other.by_lamp),
        (some.open_by_lamp, other.open_by_lamp),
        (some.path_m * some.open_by_lamp.sum(axis=0), other.path_m * other.open_by_lamp.sum(axis=0)),
        (some.by_wall, other.by_wall),
        (some.over_walls, other.over_walls),
    )
    lit, unshaded, ways, by_wall, over_walls = (one + times * (two - one) for one, two in pairs)
    total = unshaded.sum(axis=0)
    path = np.divide(ways, total, out=ways * 0.0, where=total > 0.0)  # NaN where not in the water
    return Light(lit, unshaded, path, by_wall, over_walls)


def _some(
    points_cm: Floats, lamps: Sequence[Emitters], water: Water, facing: Floats | None, shade: Shade | None
) -> Light:
    """Light at so many points that the work fits into memory."""
    wet = (points_cm[:, 2] >= 0.0) & (points_cm[:, 2] < water.surface_cm)
    images = images_cm(points_cm[:, :2], water.walls)
    depth = np.where(wet, water.surface_cm - points_cm[:, 2], 0.0) / CM_PER_M
    of_lamp = np.repeat(np.arange(len(lamps)), [len(lamp.at_cm) for lamp in lamps])
    at = np.concatenate([lamp.at_cm for lamp in lamps])
    arriving = np.zeros((len(at), len(FOLDS), len(points_cm)))
    entries = np.zeros_like(arriving) if shade is not None else None
    ways = np.zeros(len(points_cm))
    for row in range(len(at)):
        one = _from_one(at[row], images, depth, water)
        found = one.weight(lamps[of_lamp[row]], water, facing)
        arriving[row] = found
        ways += (found * one.path_m).sum(axis=0)
        if entries is not None:
            entries[row] = one.bent.entry_share
    unshaded = np.stack([arriving[of_lamp == lamp].sum(axis=(0, 1)) for lamp in range(len(lamps))])
    total = unshaded.sum(axis=0)
    path = np.divide(ways, total, out=np.zeros_like(ways), where=total > 0.0)
    if shade is not None and entries is not None:
        rows = np.nonzero(arriving > _FAINT * total)
        arriving[rows] *= _passed(rows, entries[rows], at, points_cm, images, water, shade)
    lit = np.stack([arriving[of_lamp == lamp].sum(axis=(0, 1)) for lamp in range(len(lamps))])
    by_wall = MEETINGS.T @ arriving.sum(axis=0)
    over_walls = arriving[:, FOLDS.any(axis=1)].sum(axis=(0, 1))
    return Light(*(np.where(wet, each, np.nan) for each in (lit, unshaded, path, by_wall, over_walls)))


@dataclass(frozen=True, slots=True, eq=False)
class _Bundle:
    """All ways from one point of a lamp to every image of every point; arrays of shape (folds, points)."""

    bent: Rays
    along: Floats
    """Direction from the image to the lamp in water, x and y, shape (folds, points, 2)."""
    enters: Bools
    path_m: Floats

    def weight(self, lamp: Emitters, water: Water, facing: Floats | None) -> Floats:
        """PAR that each way brings, shadow left out."""
        sent = lamp.per_sr(self.bent.air_cos, -self.along * water.index)
        sent = sent * (1.0 - reflectance(self.bent.air_cos, water.index))
        folds = np.repeat(np.arange(len(FOLDS)), self.path_m.shape[1])
        kept = thrown_back(self.along.reshape(-1, 2), folds, water.walls, water.index).reshape(
            self.path_m.shape
        )
        fading = steady(water.kd_per_m) if lamp.fading is None else lamp.fading
        level = sent * kept * fading.left(self.path_m) * self.bent.per_m2 * self.enters
        return level if facing is None else level * self._turned(facing)

    def _turned(self, facing: Floats) -> Floats:
        """What a face gets of it by what a level one gets."""
        mirrored = np.where(FOLDS % 2 == 1, -1.0, 1.0)[:, None, :]
        cosine = (self.along * mirrored * facing[:, :2]).sum(axis=2) + self.bent.water_cos * facing[:, 2]
        turned: Floats = np.clip(cosine, 0.0, None) / self.bent.water_cos
        return turned


def _from_one(lamp_cm: Floats, images: Floats, depth_m: Floats, water: Water) -> _Bundle:
    """Every way from one point of a lamp."""
    away = lamp_cm[:2] - images
    apart = np.sqrt((away**2).sum(axis=2))
    height = np.full_like(apart, (lamp_cm[2] - water.surface_cm) / CM_PER_M)
    depths = np.broadcast_to(depth_m, apart.shape)
    bent = rays(height, depths, apart / CM_PER_M, water.index)
    entry = lamp_cm[:2] - bent.entry_share[..., None] * away
    sides = np.array([water.walls.length_cm, water.walls.width_cm])
    enters: Bools = np.all((entry >= 0.0) & (entry <= sides), axis=2)
    with np.errstate(divide="ignore", invalid="ignore"):
        unit = np.where(apart[..., None] > 0.0, away / apart[..., None], 0.0)
    return _Bundle(bent, unit * bent.water_sin[..., None], enters, depths / bent.water_cos)


def _passed(
    rows: tuple[Ints, ...],
    entry_share: Floats,
    lamp_cm: Floats,
    points_cm: Floats,
    images: Floats,
    water: Water,
    shade: Shade,
) -> Floats:
    """Share of each chosen ray that rock and colonies let through, over all its parts between walls."""
    lamp, fold, point = rows
    here = images[fold, point]
    entry = lamp_cm[lamp, :2] - entry_share[:, None] * (lamp_cm[lamp, :2] - here)
    start = np.column_stack([here, points_cm[point, 2]])
    end = np.column_stack([entry, np.full(len(fold), water.surface_cm)])
    passed = np.ones(len(fold))
    straight = ~FOLDS[fold].any(axis=1)
    passed[straight] = shade(start[straight], end[straight] - start[straight])
    folded = np.flatnonzero(~straight)
    starts, directions, has = legs(start[folded], end[folded], fold[folded], water.walls)
    for part in range(len(has)):
        on = has[part] & (passed[folded] > 0.0)
        passed[folded[on]] *= shade(starts[part][on], directions[part][on])
    return passed
