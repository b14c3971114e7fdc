"""Readings folded into a computed field: one Gaussian update in logarithms, without any search."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]

_JITTER = 1e-12


@dataclass(frozen=True, slots=True)
class Spread:
    """Trust in a computed field before any reading: standard deviations, of logarithms where unitless."""

    strength: float
    """Of all lamps together."""
    lamp: float
    """Of each lamp beside the others."""
    kd_per_m: float
    """Of the attenuation. [1/m]"""
    local: float
    """Of what the model misses from place to place."""
    local_length_cm: float
    """How far such a miss reaches. [cm]"""
    reading: float
    """Of one reading against the next at the same point."""


@dataclass(frozen=True, slots=True, eq=False)
class Sites:
    """Points of a field, each array of shape (points,) but the first two."""

    at_cm: Floats
    """Shape (points, 3). [cm]"""
    shares: Floats
    """Share of each lamp in the light there, shape (points, lamps), rows summing to 1. [1]"""
    path_m: Floats
    """Way of that light through water. [m]"""
    log_par: Floats
    """Natural logarithm of the computed PAR. [µmol/m²/s]"""


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """A field after its readings."""

    log_par: Floats
    """At the sites asked for, shape (points,)."""
    log_sd: Floats
    """Its standard deviation, the common error of the meter left out."""
    left_out: Floats
    """For each reading, its logarithm less what all others lead to expect there, shape (readings,)."""
    left_out_sd: Floats
    """Standard deviation of that difference."""
    strength: Floats
    """Logarithm of each lamp's strength against what its data say, shape (lamps,)."""
    strength_sd: Floats
    kd_change_per_m: float
    """Change of the attenuation. [1/m]"""
    kd_change_sd_per_m: float


def matern_three_halves(apart_cm: Floats, length_cm: float) -> Floats:
    """Correlation that falls with distance.

    Examples
    --------
    >>> round(float(matern_three_halves(np.array([20.0]), 20.0)[0]), 6)
    0.483358

    References
    ----------
    C. E. Rasmussen and C. K. I. Williams, Gaussian Processes for Machine Learning, MIT Press 2006, eq. 4.17.
    """
    scaled = np.sqrt(3.0) * apart_cm / length_cm
    found: Floats = (1.0 + scaled) * np.exp(-scaled)
    return found


def fit(sites: Sites, read: Sites, log_read: Floats, placing_sd: Floats, spread: Spread) -> Fit:
    """Fold readings into a field.

    Parameters
    ----------
    sites
        Points asked for.
    read
        Points where readings were taken, none or more.
    log_read
        Natural logarithm of each reading. [µmol/m²/s]
    placing_sd
        How much the logarithm of the field changes where a hand wavers; large at the edge of a shadow.
    spread
        Trust in the field before any reading; fixed, for few readings cannot tell it.

    Notes
    -----
    ``ln y = ln F + b + sum of shares times b_lamp - dK path + g + e``. All of
    it is linear and Gaussian, so one Cholesky factorisation gives mean and
    covariance; with no reading the field stays as it is.

    References
    ----------
    Rasmussen and Williams 2006, eq. 2.25 and 2.26, 5.12 for what is left out.
    """
    _, lamps = read.shares.shape if len(read.shares) else sites.shares.shape
    between = _covariance(read, read, spread) + np.diag(spread.reading**2 + placing_sd**2)
    steady = between + _JITTER * np.eye(len(log_read))
    lower: Floats = np.asarray(np.linalg.cholesky(steady), np.float64)
    residual = log_read - read.log_par
    weights = _solve(lower, residual)
    across = _covariance(sites, read, spread)
    spent = np.linalg.solve(lower, across.T) if len(log_read) else np.zeros((0, len(sites.log_par)))
    variance = _own_variance(sites, spread) - (spent**2).sum(axis=0)
    inverse = np.diag(_solve(lower, np.eye(len(log_read), dtype=np.float64)))
    causes, own = _causes(read, lamps, spread)
    gained = np.linalg.solve(lower, causes.T) if len(log_read) else np.zeros((0, lamps + 1))
    means = causes @ weights
    sds = np.sqrt(np.clip(own - (gained**2).sum(axis=0), 0.0, None))
    return Fit(
        log_par=sites.log_par + across @ weights,
        log_sd=np.sqrt(np.clip(variance, 0.0, None)),
        left_out=weights / inverse,
        left_out_sd=1.0 / np.sqrt(inverse),
        strength=means[:lamps],
        strength_sd=sds[:lamps],
        kd_change_per_m=float(means[lamps]),
        kd_change_sd_per_m=float(sds[lamps]),
    )


def _solve(lower: Floats, right: Floats) -> Floats:
    """Solve ``lower lower^T x = right``."""
    found: Floats = np.linalg.solve(lower.T, np.linalg.solve(lower, right)) if len(lower) else right
    return found


def _covariance(one: Sites, other: Sites, spread: Spread) -> Floats:
    """Covariance of the logarithms of the field at two sets of points."""
    apart = np.sqrt(((one.at_cm[:, None, :] - other.at_cm[None, :, :]) ** 2).sum(axis=2))
    found: Floats = (
        spread.strength**2
        + spread.lamp**2 * (one.shares @ other.shares.T)
        + spread.kd_per_m**2 * np.outer(one.path_m, other.path_m)
        + spread.local**2 * matern_three_halves(apart, spread.local_length_cm)
    )
    return found


def _own_variance(sites: Sites, spread: Spread) -> Floats:
    """Variance of the logarithm at each point before any reading."""
    found: Floats = (
        spread.strength**2
        + spread.lamp**2 * (sites.shares**2).sum(axis=1)
        + (spread.kd_per_m * sites.path_m) ** 2
        + spread.local**2
    )
    return found


def _causes(read: Sites, lamps: int, spread: Spread) -> tuple[Floats, Floats]:
    """Covariance of each lamp and of the attenuation with the readings, and their own variances."""
    of_lamps = spread.strength**2 + spread.lamp**2 * read.shares.reshape(-1, lamps).T
    of_water = -(spread.kd_per_m**2) * read.path_m
    own = np.append(np.full(lamps, spread.strength**2 + spread.lamp**2), spread.kd_per_m**2)
    return np.vstack([of_lamps, of_water]), own
