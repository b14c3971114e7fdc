"""The one ray from a lamp over the water to a point below it, and how thin its bundle has spread."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]

_STEPS = 30
_CLOSE = 1e-4
"""After a last step so small about its square is missing, for Newton squares the error at each step."""


@dataclass(frozen=True, slots=True, eq=False)
class Rays:
    """Rays that bend at a flat surface, all of one shape.

    `air_cos` and `water_cos` are cosines of the angle to the vertical in
    air and in water, `entry_share` is how far along the way, seen from
    above, the ray enters the water, `per_m2` the share of one unit of
    intensity that falls on a level square metre, losses left out [sr/m²].
    """

    air_cos: Floats
    water_cos: Floats
    water_sin: Floats
    entry_share: Floats
    per_m2: Floats


def rays(height_m: Floats, depth_m: Floats, apart_m: Floats, index: float) -> Rays:
    """Rays from points in the air to points in the water.

    Parameters
    ----------
    height_m
        Lamp over the surface, above 0. [m]
    depth_m
        Point below the surface, 0 or more. [m]
    apart_m
        Distance between both, seen from above. [m]
    index
        Refractive index of the water. [1]

    Notes
    -----
    With t the tangent in air, the distance ``h t + z t / sqrt(n² + (n² - 1) t²)``
    is a rising concave function of t. Newton's steps from the tangent of
    the straightened path therefore climb to the root and never pass it.

    The bundle is thinned by ``r dr/da / sin a``, with the cosine of a level
    sensor already in it.

    Examples
    --------
    >>> one = rays(np.array([0.25]), np.array([0.5]), np.array([0.3]), 1.339)
    >>> round(float(np.degrees(np.arccos(one.air_cos))[0]), 2)
    26.39
    """
    bend = index**2 - 1.0
    tangent = apart_m / (height_m + depth_m / index)
    for _ in range(_STEPS):
        root = np.sqrt(index**2 + bend * tangent**2)
        miss = apart_m - height_m * tangent - depth_m * tangent / root
        step = miss / (height_m + depth_m * index**2 / root**3)
        tangent = tangent + step
        if np.all(step <= _CLOSE * (1.0 + tangent)):
            break
    air_cos = 1.0 / np.sqrt(1.0 + tangent**2)
    water_sin = tangent * air_cos / index
    water_cos = np.sqrt(1.0 - water_sin**2)
    ring = height_m / air_cos + depth_m / (index * water_cos)
    spread = height_m / air_cos**2 + depth_m * air_cos / (index * water_cos**3)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(apart_m > 0.0, height_m * tangent / apart_m, 0.0)
    return Rays(air_cos, water_cos, water_sin, share, 1.0 / (ring * spread))
