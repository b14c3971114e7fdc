"""How much light a lamp sends in each direction."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.errors import QuantityError

Floats: TypeAlias = npt.NDArray[np.float64]


def cosine_power(beam_deg: float) -> float:
    """Power m of a lobe ``cos^m`` that has half its strength at half the beam angle.

    Parameters
    ----------
    beam_deg
        Full angle between the directions of half intensity, above 0 and below 180. [degrees]

    Returns
    -------
    The power, 1 for 120 degrees, larger for a narrower beam. [1]

    Raises
    ------
    QuantityError
        If the angle is not between 0 and 180 degrees.

    Examples
    --------
    >>> round(cosine_power(60.0), 2)
    4.82

    References
    ----------
    I. Moreno and C.-C. Sun, Modeling the radiation pattern of LEDs, Opt. Express 16 (2008) 1808.
    """
    if not 0.0 < beam_deg < 180.0:
        raise QuantityError(f"beam_deg is {beam_deg:g}; a beam is wider than 0 and narrower than 180 degrees")
    return float(-np.log(2.0) / np.log(np.cos(np.radians(beam_deg) / 2.0)))


@dataclass(frozen=True, slots=True, eq=False)
class Lobe:
    """Intensity by angle from straight down, for a whole flux of 1.

    `angles_rad` rise from 0; `per_sr` is the intensity there [1/sr],
    straight between them and 0 beyond the last.
    """

    angles_rad: Floats
    per_sr: Floats
    power: float | None = None
    """Power of the cosine where the lobe is one; then the table is not used."""

    def at(self, cosine: Floats) -> Floats:
        """Return the intensity in directions whose angle from straight down has this cosine. [1/sr]"""
        upper = np.clip(cosine, 0.0, 1.0)
        if self.power is not None:
            found: Floats = (self.power + 1.0) / (2.0 * np.pi) * upper**self.power
            return found
        table: Floats = np.interp(np.arccos(upper), self.angles_rad, self.per_sr, right=0.0)
        return table


def cosine_lobe(beam_deg: float) -> Lobe:
    """Return the lobe ``cos^m`` of a beam angle. [degrees]

    Examples
    --------
    >>> round(float(cosine_lobe(90.0).at(np.array([1.0]))[0]) * 100.0, 4)
    47.7465
    """
    empty = np.zeros(0)
    return Lobe(empty, empty, cosine_power(beam_deg))


def tabled_lobe(angles_deg: Floats, relative: Floats) -> Lobe:
    """Return a lobe given as a table, scaled to a whole flux of 1 into the lower half of space.

    Parameters
    ----------
    angles_deg
        Angles from straight down, rising, from 0 to at most 90. [degrees]
    relative
        Intensity at each, in any one unit, none negative and not all 0.

    Raises
    ------
    QuantityError
        If the table is shorter than two, out of order or out of range.

    Examples
    --------
    >>> flat = tabled_lobe(np.array([0.0, 90.0]), np.array([1.0, 1.0]))
    >>> round(float(flat.at(np.array([0.5]))[0] * 2 * np.pi), 4)
    1.0
    """
    angles, shares = np.asarray(angles_deg, np.float64), np.asarray(relative, np.float64)
    if len(angles) < 2 or len(angles) != len(shares):
        raise QuantityError("a table of a lobe needs two angles or more, and one intensity for each")
    if angles[0] != 0.0 or angles[-1] > 90.0 or (np.diff(angles) <= 0.0).any():
        raise QuantityError("the angles of a lobe rise from 0 to at most 90 degrees")
    if (shares < 0.0).any() or not (shares > 0.0).any() or not np.isfinite(shares).all():
        raise QuantityError("the intensities of a lobe are 0 or more, and not all 0")
    radians = np.radians(angles)
    fine = np.linspace(0.0, radians[-1], 2001)
    flux = 2.0 * np.pi * np.trapezoid(np.interp(fine, radians, shares) * np.sin(fine), fine)
    return Lobe(radians, shares / flux)
