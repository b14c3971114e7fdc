"""Light as colour: what water takes of it on its way, and the lux that belong to a PAR."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.errors import QuantityError

Floats: TypeAlias = npt.NDArray[np.float64]

PLANCK_J_S, LIGHT_M_PER_S, AVOGADRO_PER_MOL = 6.62607015e-34, 299792458.0, 6.02214076e23
LUMEN_PER_WATT = 683.002
PAR_NM = (400.0, 700.0)
_NM = np.arange(360.0, 831.0)
"""Every colour an eye sees."""
_PAR = np.where((PAR_NM[0] <= _NM) & (PAR_NM[1] >= _NM), 1.0, 0.0) - np.isin(_NM, PAR_NM) / 2.0
"""Weights of a sum over PAR by the rule of trapezoids."""
_PATHS_M = np.concatenate([np.linspace(0.0, 4.0, 81), np.geomspace(4.2, 200.0, 40)])
"""Ways through water at which the loss is worked out, straight in between; nothing in a tank is longer."""


@dataclass(frozen=True, slots=True, eq=False)
class Fading:
    """How much of the light of one lamp is left after a way through water."""

    path_m: Floats
    """Rising from 0. [m]"""
    log_left: Floats
    """Natural logarithm of the share that is left."""

    def left(self, path_m: Floats) -> Floats:
        """Share of PAR that is left after some ways, in the shape of `path_m`. [m]"""
        found: Floats = np.exp(np.interp(path_m, self.path_m, self.log_left))
        return found


@dataclass(frozen=True, eq=False)
class Spectrum:
    """How much a light sends of each colour; only its shape counts."""

    power: Floats
    """Radiant power at each nanometre from 360 to 830 nm, in any one unit, shape (471,)."""

    @cached_property
    def photons(self) -> Floats:
        """Share of the photons of PAR at each nanometre, shape (471,); 0 outside 400 to 700 nm. [1]"""
        each = self.power * _NM * _PAR
        found: Floats = each / each.sum()
        return found

    def lux_per_umol(self) -> float:
        """Lux of this light where it has 1 µmol/m²/s of PAR: tens for white light, a few for blue.

        References
        ----------
        Luminous efficacy 683 lm/W (BIPM, SI brochure 2019) times the CIE 1931 function y (ISO/CIE 11664-1),
        read through the jerlov package.
        """
        umol_per_s = (self.power * umol_per_joule(_NM) * _PAR).sum()
        return float(LUMEN_PER_WATT * (self.power * _eye()).sum() / umol_per_s)

    def fading_in(self, kd_per_m: Floats) -> Fading:
        """How the PAR of this light is lost in water, red first, so that it is no one exponential.

        Parameters
        ----------
        kd_per_m
            Attenuation at each nanometre from 360 to 830 nm, see `kd_of`. [1/m]
        """
        kept = np.exp(-kd_per_m[None, :] * _PATHS_M[:, None]) @ self.photons
        return Fading(_PATHS_M, np.log(np.maximum(kept, np.finfo(np.float64).tiny)))


def spectrum_of(table: Sequence[tuple[float, float]]) -> Spectrum:
    """A light told by a table, straight between its rows and dark outside them.

    Parameters
    ----------
    table
        Wavelength [nm], rising, and radiant power there in any one unit.

    Raises
    ------
    QuantityError
        If no light falls between 400 and 700 nm.

    Examples
    --------
    >>> round(spectrum_of([(440.0, 0.0), (450.0, 1.0), (460.0, 0.0)]).lux_per_umol(), 1)
    7.0
    """
    nm, power = np.array(table, np.float64).reshape(-1, 2).T
    found = np.interp(_NM, nm, power, left=0.0, right=0.0)
    if not (found * _PAR).any():
        raise QuantityError("no light between 400 and 700 nm is told")
    return Spectrum(found)


@lru_cache(maxsize=1)
def daylight() -> Spectrum:
    """Light of the day.

    References
    ----------
    CIE standard illuminant D65 (ISO/CIE 11664-2), read through the jerlov package.
    """
    import jerlov  # tables of the sea, only where light is reckoned

    nm, power = jerlov.d65()
    return Spectrum(np.interp(_NM, nm, power, left=0.0, right=0.0))


@lru_cache(maxsize=8)
def kd_of(kind: str) -> Floats:
    """Attenuation of sea water of one Jerlov type at each nanometre from 360 to 830 nm, shape (471,). [1/m]

    What is shorter or longer than PAR has the value of its end.

    References
    ----------
    N. G. Jerlov, Marine Optics, Elsevier 1976, table XXVII, read through the jerlov package.
    """
    import jerlov

    water = jerlov.water(kind, "jerlov1976")
    within = np.clip(_NM, *PAR_NM)
    return np.array([water.kd(float(nm)) for nm in within], np.float64)  # type: ignore[no-untyped-call]


def steady(kd_per_m: float) -> Fading:
    """Light that is lost alike on every metre, for a lamp whose colours nobody told. [1/m]"""
    return Fading(_PATHS_M, -kd_per_m * _PATHS_M)


def umol_per_joule(wavelength_nm: Floats) -> Floats:
    """Photons in one joule of light of one colour. [µmol/J]

    Examples
    --------
    >>> round(float(umol_per_joule(np.array(450.0))), 4)
    3.7617

    References
    ----------
    E = h c / wavelength, with the exact constants of the SI (BIPM 2019).
    """
    metres = wavelength_nm * 1e-9
    found: Floats = metres / (PLANCK_J_S * LIGHT_M_PER_S * AVOGADRO_PER_MOL) * 1e6
    return found


@lru_cache(maxsize=1)
def _eye() -> Floats:
    """How strongly an eye answers each nanometre, 1 at its best."""
    import jerlov

    nm, matching = jerlov.cie_1931_cmf()
    found: Floats = np.interp(_NM, nm, matching[:, 1])
    return found
