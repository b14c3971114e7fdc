"""Light as colour: photons in a joule, and the lux that belong to a PAR under a stated spectrum."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.errors import QuantityError

Floats: TypeAlias = npt.NDArray[np.float64]

PLANCK_J_S, LIGHT_M_PER_S, AVOGADRO_PER_MOL = 6.62607015e-34, 299792458.0, 6.02214076e23
LUMEN_PER_WATT = 683.002
PAR_NM = (400.0, 700.0)

_EYE_NM = np.arange(380.0, 721.0, 5.0)
_EYE = np.array(
    [
        0.000039, 0.000064, 0.00012, 0.000217, 0.000396, 0.00064, 0.00121, 0.00218, 0.004, 0.0073, 0.0116,
        0.01684, 0.023, 0.0298, 0.038, 0.048, 0.06, 0.0739, 0.09098, 0.1126, 0.13902, 0.1693,
        0.20802, 0.2586, 0.323, 0.4073, 0.503, 0.6082, 0.71, 0.7932, 0.862, 0.9149, 0.954,
        0.9803, 0.99495, 1.0, 0.995, 0.9786, 0.952, 0.9154, 0.87, 0.8163, 0.757, 0.6949,
        0.631, 0.5668, 0.503, 0.4412, 0.381, 0.321, 0.265, 0.217, 0.175, 0.1382, 0.107,
        0.0816, 0.061, 0.04458, 0.032, 0.0232, 0.017, 0.01192, 0.00821, 0.005723, 0.004102, 0.002929,
        0.002091, 0.001484, 0.001047,
    ]
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Peak:
    """One hump of a spectrum: its middle, its full width at half height, its share of the energy."""

    middle_nm: float
    width_nm: float
    share: float


def umol_per_joule(wavelength_nm: float) -> float:
    """Photons in one joule of light of one colour. [µmol/J]

    Examples
    --------
    >>> round(umol_per_joule(450.0), 4)
    3.7617

    References
    ----------
    E = h c / wavelength, with the exact constants of the SI (BIPM 2019).
    """
    metres = wavelength_nm * 1e-9
    return metres / (PLANCK_J_S * LIGHT_M_PER_S * AVOGADRO_PER_MOL) * 1e6


def eye_response(wavelength_nm: Floats) -> Floats:
    """How strongly an eye answers a colour, 1 at its best; straight in logarithms between the table's steps.

    References
    ----------
    CIE 1931 colour-matching function y, every 5 nm (ISO/CIE 11664-1).
    """
    found: Floats = np.exp(np.interp(wavelength_nm, _EYE_NM, np.log(_EYE)))
    return found


def lux_per_umol(peaks: Sequence[Peak]) -> float:
    """Lux of a light that has 1 µmol/m²/s of PAR.

    Parameters
    ----------
    peaks
        Its spectrum as humps of energy, one or more.

    Returns
    -------
    Tens for white light, a few for blue: the reason why lux say little under a blue lamp. [lux s m²/µmol]

    Raises
    ------
    QuantityError
        If there is no hump, or a width or share is not above 0.

    Examples
    --------
    >>> round(lux_per_umol([Peak(450.0, 20.0, 1.0)]), 1)
    7.3
    """
    if not peaks or any(peak.width_nm <= 0.0 or peak.share <= 0.0 for peak in peaks):
        raise QuantityError("a spectrum needs one hump or more, each with a width and a share above 0")
    nm = np.arange(_EYE_NM[0], _EYE_NM[-1], 0.5)
    energy = np.zeros_like(nm)
    for peak in peaks:
        deviation = peak.width_nm / np.sqrt(8.0 * np.log(2.0))
        energy += peak.share / deviation * np.exp(-(((nm - peak.middle_nm) / deviation) ** 2) / 2.0)
    within = (nm >= PAR_NM[0]) & (nm <= PAR_NM[1])
    photons = (energy * nm)[within].sum() * umol_per_joule(1.0)
    return float(LUMEN_PER_WATT * (energy * eye_response(nm)).sum() / photons)
