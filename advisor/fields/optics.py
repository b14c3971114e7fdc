"""How light bends and is reflected where water meets air."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]


def refracted_rad(incidence_rad: Floats, index: float) -> Floats:
    """Angle of a ray to the vertical after it has entered the water.

    Parameters
    ----------
    incidence_rad
        Angle of the ray to the vertical in the air. [rad]
    index
        Refractive index of the water against air. [1]

    Returns
    -------
    One angle per ray. [rad]

    Examples
    --------
    >>> round(float(np.degrees(refracted_rad(np.radians([45.0]), 1.34))[0]), 2)
    31.85

    References
    ----------
    Snell's law; e.g. M. Born and E. Wolf, Principles of Optics, ch. 1.5.
    """
    angle: Floats = np.arcsin(np.sin(incidence_rad) / index)
    return angle


def reflectance(incidence_cos: Floats, index_ratio: float) -> Floats:
    """Share of unpolarised light that a plane boundary throws back.

    Parameters
    ----------
    incidence_cos
        Cosine of the angle between the ray and the normal of the boundary, 0 to 1. [1]
    index_ratio
        Index behind the boundary by index before it: 1.34 from air into
        water, 1 / 1.34 from water into air. [1]

    Returns
    -------
    One share per ray, 1 where all is reflected. [1]

    Notes
    -----
    A plane sheet of glass between water and air bends every ray back by as
    much as it bent it, so that the limit of total reflection is that of the
    two media alone; the glass's own reflections are left out.

    Examples
    --------
    >>> [round(float(each), 4) for each in reflectance(np.cos(np.radians([0.0, 60.0])), 1.34)]
    [0.0211, 0.061]

    References
    ----------
    Fresnel's equations; e.g. M. Born and E. Wolf, Principles of Optics, ch. 1.5.
    """
    cos_in = np.clip(incidence_cos, 0.0, 1.0)
    sin_out_squared = (1.0 - cos_in**2) / index_ratio**2
    cos_out = np.sqrt(np.clip(1.0 - sin_out_squared, 0.0, None))
    with np.errstate(divide="ignore", invalid="ignore"):
        across = ((cos_in - index_ratio * cos_out) / (cos_in + index_ratio * cos_out)) ** 2
        along = ((index_ratio * cos_in - cos_out) / (index_ratio * cos_in + cos_out)) ** 2
        mean = (across + along) / 2.0
    share: Floats = np.where((sin_out_squared >= 1.0) | (cos_in == 0.0), 1.0, mean)
    return share
