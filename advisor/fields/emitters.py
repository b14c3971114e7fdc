"""Lamps as points that shine: where they hang, how much each sends, and in which directions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.lobes import Lobe
from advisor.fields.spectra import Fading

Floats: TypeAlias = npt.NDArray[np.float64]

PANEL_STEP_CM = 5.0
"""Emitters of a panel or a tube stand at most this far apart; finer changes a field by under one per cent."""
MOST_POINTS = 2000
"""No lamp is made of many more points: one of absurd size is parted coarser and takes no minutes."""


@dataclass(frozen=True, slots=True, eq=False)
class Emitters:
    """The points of one lamp, all of one flux and one lobe."""

    at_cm: Floats
    """Shape (n, 3), z up from the bare glass. [cm]"""
    flux_umol_per_s: float
    """Of each point. [µmol/s]"""
    lobe: Lobe | None
    """None for a bare tube, which shines all around."""
    axis: tuple[float, float] = (1.0, 0.0)
    """Unit direction in which a tube lies, x and y. [1]"""
    fading: Fading | None = None
    """How water takes of its light; None for as much on each metre as the water is told to take."""

    def per_sr(self, down_cos: Floats, level: Floats) -> Floats:
        """Intensity of one point in some directions.

        Parameters
        ----------
        down_cos
            Cosine of each direction to straight down. [1]
        level
            Its parts along x and y, shape of `down_cos` and one axis more. [1]

        Returns
        -------
        Shape of `down_cos`. [µmol/s/sr]

        Notes
        -----
        A piece of a bare tube is a Lambertian cylinder: flux / pi² times the
        sine of the angle to its axis.
        """
        if self.lobe is not None:
            return self.flux_umol_per_s * self.lobe.at(down_cos)
        along = level[..., 0] * self.axis[0] + level[..., 1] * self.axis[1]
        found: Floats = self.flux_umol_per_s / np.pi**2 * np.sqrt(np.clip(1.0 - along**2, 0.0, None))
        return found


def panel(
    middle_cm: tuple[float, float, float],
    length_cm: float,
    width_cm: float,
    flux_umol_per_s: float,
    lobe: Lobe,
    turned_deg: float = 0.0,
) -> Emitters:
    """A flat lamp as a grid of points.

    Parameters
    ----------
    middle_cm
        Middle of its lower face: x, y and height over the bare glass. [cm]
    length_cm, width_cm
        Its sides along x and y before it is turned; both 0 for a lamp that is one point. [cm]
    flux_umol_per_s
        Photons from 400 to 700 nm it sends in all. [µmol/s]
    turned_deg
        How far it is turned about the vertical. [degrees]

    Examples
    --------
    >>> from advisor.fields.lobes import cosine_lobe
    >>> panel((60.0, 30.0, 70.0), 30.0, 20.0, 350.0, cosine_lobe(90.0)).at_cm.shape
    (24, 3)
    """
    step = _step_cm(length_cm, width_cm)
    along, across = _middles(length_cm, step), _middles(width_cm, step)
    x, y = (grid.ravel() for grid in np.meshgrid(along, across, indexing="ij"))
    cos, sin = _turn(turned_deg)
    at = np.stack([x * cos - y * sin, x * sin + y * cos, np.zeros(len(x))], axis=1) + np.array(middle_cm)
    return Emitters(at, flux_umol_per_s / len(at), lobe)


def tube(
    middle_cm: tuple[float, float, float], length_cm: float, flux_umol_per_s: float, turned_deg: float = 0.0
) -> Emitters:
    """A bare fluorescent tube; what a reflector adds is for readings to tell.

    Parameters
    ----------
    middle_cm
        Its middle: x, y and height over the bare glass. [cm]
    length_cm
        Its length along x before it is turned. [cm]
    flux_umol_per_s
        Photons from 400 to 700 nm it sends in all, upward too. [µmol/s]
    turned_deg
        How far it is turned about the vertical. [degrees]

    Examples
    --------
    >>> len(tube((60.0, 30.0, 70.0), 80.0, 60.0).at_cm)
    16
    """
    along = _middles(length_cm, _step_cm(length_cm, 0.0))
    cos, sin = _turn(turned_deg)
    at = np.stack([along * cos, along * sin, np.zeros(len(along))], axis=1) + np.array(middle_cm)
    return Emitters(at, flux_umol_per_s / len(at), None, (cos, sin))


def _turn(turned_deg: float) -> tuple[float, float]:
    """Cosine and sine of a turn."""
    return float(np.cos(np.radians(turned_deg))), float(np.sin(np.radians(turned_deg)))


def _step_cm(length_cm: float, width_cm: float) -> float:
    """How far apart the points of a lamp may stand. [cm]"""
    fewer = max(np.sqrt(length_cm * width_cm / MOST_POINTS), max(length_cm, width_cm) / MOST_POINTS)
    return max(PANEL_STEP_CM, float(fewer))


def _middles(side_cm: float, step_cm: float) -> Floats:
    """Middles of the equal parts of a side, each at most a step long."""
    parts = max(int(np.ceil(side_cm / step_cm - 1e-9)), 1)
    middles: Floats = (np.arange(parts) + 0.5) * side_cm / parts - side_cm / 2.0
    return middles
