"""What the light of a tank is made of and found to be: readings, values at a point, causes and misfits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar


@dataclass(frozen=True, slots=True)
class LightReading:
    """One reading that counts: where, what, and how far it may be off beside the meter's common error."""

    label: str
    at_cm: tuple[float, float, float]
    par_umol: float
    log_sd: float
    spread_cm: float
    """How far from there the meter may have been held. [cm]"""
    shared: tuple[tuple[str, float], ...] = ()
    """What it may be off together with other readings: a cause, and the deviation of the logarithm by it."""


@dataclass(frozen=True, slots=True)
class LightHere:
    """Light at one point."""

    low: float
    """Ends of the 90 % interval. [µmol/m²/s]"""
    best: float
    high: float
    model: float
    """What lamps, walls and rocks alone lead to expect, NaN where no lamp is known. [µmol/m²/s]"""
    by_lamp: tuple[tuple[str, float], ...]
    """Share of each lamp. [1]"""
    over_walls: float
    """Share that comes over the walls. [1]"""


@dataclass(frozen=True, slots=True)
class OnFace:
    """Light on a face that is not level, as a 90 % interval. [µmol/m²/s]"""

    low: float
    best: float
    high: float
    sand: float
    """Share of it that sand throws there. [1]"""


@dataclass(frozen=True, slots=True)
class Unread:
    """What all but the reading at a point lead to expect there, as a 90 % interval. [µmol/m²/s]"""

    low: float
    best: float
    high: float


@dataclass(frozen=True, slots=True)
class Misfit:
    """How a reading agrees with what all others and the lamps lead to expect there."""

    reading: LightReading
    expected: float
    """[µmol/m²/s]"""
    deviations: float
    """How many standard deviations it is off, above 0 where it is brighter."""


@dataclass(frozen=True, slots=True)
class Cause:
    """Something told of the tank that the readings correct."""

    name: str
    change: float
    """Against what was told: a logarithm for strengths, in its own unit else."""
    sd: float


Here = TypeVar("Here", LightHere, OnFace)


def spanning(here: Sequence[Here], other: Sequence[Here]) -> list[Here]:
    """Return light with intervals that take in those of another field at the same points."""
    return [
        replace(one, low=min(one.low, two.low), high=max(one.high, two.high))
        for one, two in zip(here, other, strict=True)
    ]
