"""Readings folded into a computed field: one Gaussian update in logarithms, without any search."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]

_JITTER = 1e-12


@dataclass(frozen=True, slots=True)
class Trust:
    """How far a computed field is trusted from place to place; standard deviations of logarithms."""

    local: float
    """Of what the model misses here and there."""
    local_length_cm: float
    """How far such a miss reaches. [cm]"""
    reading: float
    """Of one reading against the next at the same point."""


@dataclass(frozen=True, slots=True, eq=False)
class Sites:
    """Points of a field."""

    at_cm: Floats
    """Shape (points, 3). [cm]"""
    log_par: Floats
    """Natural logarithm of the computed PAR, shape (points,). [µmol/m²/s]"""
    effects: Floats
    """How much that logarithm changes by one unit of each cause, shape (points, causes)."""


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
    causes: Floats
    """How far each cause is from what was believed, in its own unit, shape (causes,)."""
    causes_sd: Floats
    surprise: float
    """How far the readings lie from what was expected of them all together, squared, in expected deviations:
    about as much as there are readings, where field and doubts are right."""


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


def fit(
    sites: Sites, read: Sites, log_read: Floats, placing_sd: Floats, cause_sd: Floats, trust: Trust
) -> Fit:
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
    cause_sd
        How far each cause (strength of a lamp, attenuation, film on a wall ...) may be from what is
        believed, as a standard deviation in its own unit, shape (causes,).
    trust
        Trust in the field before any reading; fixed, for few readings cannot tell it.

    Notes
    -----
    ``ln y = ln F + effects times causes + g + e``. All of it is linear and
    Gaussian, so one Cholesky factorisation gives mean and covariance; with
    no reading the field stays as it is.

    References
    ----------
    Rasmussen and Williams 2006, eq. 2.25 and 2.26; 5.12 for what is left out.
    """
    known = len(log_read)
    noise = np.diag(trust.reading**2 + placing_sd**2 + _JITTER)
    lower = _root(_covariance(read, read, cause_sd, trust) + noise)
    off = log_read - read.log_par
    weights = _solve(lower, off)
    across = _covariance(sites, read, cause_sd, trust)
    variance = (sites.effects**2) @ cause_sd**2 + trust.local**2
    inverse = np.diag(_solve(lower, np.eye(known, dtype=np.float64)))
    of_causes = (cause_sd**2)[:, None] * read.effects.T
    return Fit(
        log_par=sites.log_par + across @ weights,
        log_sd=np.sqrt(np.clip(variance - _gained(lower, across), 0.0, None)),
        left_out=weights / inverse,
        left_out_sd=1.0 / np.sqrt(inverse),
        causes=of_causes @ weights,
        causes_sd=np.sqrt(np.clip(cause_sd**2 - _gained(lower, of_causes), 0.0, None)),
        surprise=float(off @ weights),
    )


def widened(surprise: float, readings: int, trust_in_doubts: float) -> float:
    """Return how many times as wide errors are, once readings have shown how right the doubts were.

    Parameters
    ----------
    surprise
        Of `Fit`.
    readings
        How many there are.
    trust_in_doubts
        How many readings it takes to outweigh the doubts as told, above 2.

    Returns
    -------
    1 or more: readings that agree better than expected narrow nothing. [1]

    Examples
    --------
    >>> round(widened(4.0, 4, 5.0), 3), round(widened(60.0, 4, 5.0), 3)
    (1.0, 3.0)

    References
    ----------
    A. Shah, A. G. Wilson and Z. Ghahramani, Student-t processes as alternatives to Gaussian processes,
    AISTATS 2014, PMLR 33, 877-885, eq. 7: the covariance after readings is scaled by
    (nu + surprise - 2) / (nu + readings - 2).
    """
    return float(np.sqrt(max((trust_in_doubts + surprise - 2.0) / (trust_in_doubts + readings - 2.0), 1.0)))


def _root(matrix: Floats) -> Floats:
    """Lower Cholesky factor."""
    found: Floats = np.asarray(np.linalg.cholesky(matrix), np.float64)
    return found


def _solve(lower: Floats, right: Floats) -> Floats:
    """Solve ``lower lower^T x = right``."""
    found: Floats = np.linalg.solve(lower.T, np.linalg.solve(lower, right)) if len(lower) else right
    return found


def _gained(lower: Floats, across: Floats) -> Floats:
    """How much of each variance the readings take away."""
    if not len(lower):
        return np.zeros(len(across))
    found: Floats = (np.linalg.solve(lower, across.T) ** 2).sum(axis=0)
    return found


def _covariance(one: Sites, other: Sites, cause_sd: Floats, trust: Trust) -> Floats:
    """Covariance of the logarithms of the field at two sets of points."""
    apart = np.sqrt(((one.at_cm[:, None, :] - other.at_cm[None, :, :]) ** 2).sum(axis=2))
    found: Floats = (one.effects * cause_sd**2) @ other.effects.T + trust.local**2 * matern_three_halves(
        apart, trust.local_length_cm
    )
    return found
