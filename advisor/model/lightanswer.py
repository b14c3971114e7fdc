"""What is known of the light at one point, and what the readings say of the lamps."""

from __future__ import annotations

from typing import Literal

from advisor.model.results import ANSWER_EDITION
from advisor.model.tank import Model


class LampShare(Model):
    """One lamp's part in the light of a point."""

    lamp: str
    percent: float


class Shading(Model):
    """What a rock or colony keeps off, of the light that would be there without it."""

    body: str
    percent: float


class NearReading(Model):
    """A reading the light of a point rests on."""

    place: str
    par_umol: float
    apart_cm: float
    odd: bool = False
    """Whether all others contradict it, so that values cover both, with it and without."""


class OwnReading(Model):
    """What the keeper read at the very place, as it counts, with its error. [µmol/m²/s]"""

    low: float
    best: float
    high: float
    reckoned: tuple[str, ...] = ()
    """How what was read became what counts, step by step."""
    at_face: bool = False
    """Whether the sensor was turned to the surface of the rock."""


class FaceLight(Model):
    """The light on the surface of a place that is not level, as a 90 % interval."""

    slope_deg: float
    """0 looks up, 90 to a side, 180 straight down."""
    side: Literal["right", "back", "left", "front", ""] = ""
    """To which side it looks, empty where it looks to none or that is not known."""
    low: float
    best: float | None = None
    """None where it is not known to which side it looks."""
    high: float
    """PAR. [µmol/m²/s]"""
    sand_percent: float
    """How much of it the sand throws there."""
    set_onto: Literal["side", "underside", ""] = ""
    """Onto what of the rock the place was set, empty where it is on ground."""
    counts: bool
    """Whether rules go by this value and not by that of a level sensor: so on an underside."""


class LightAnswer(Model):
    """The light at one point: value, 90 % interval, daily dose, and what it rests on."""

    edition: int = ANSWER_EDITION
    question: Literal["light"] = "light"
    place: str
    at_cm: tuple[float, float, float] | None = None
    low: float | None = None
    best: float | None = None
    high: float | None = None
    """PAR on a level sensor as a 90 % interval. [µmol/m²/s]"""
    face: FaceLight | None = None
    """What the surface itself gets, where it is known to be tilted."""
    model: float | None = None
    """What lamps, walls and rock alone lead to expect, before any reading. [µmol/m²/s]"""
    before: float | None = None
    """Without what was asked to be changed of a lamp. [µmol/m²/s]"""
    dose_low: float | None = None
    dose_high: float | None = None
    """Light of a day, on the surface that the rules go by. [mol/m²/d]"""
    hours: str = ""
    """How long the lamps shine, in words."""
    by_lamp: tuple[LampShare, ...] = ()
    over_walls_percent: float = 0.0
    shaded: tuple[Shading, ...] = ()
    at_most: bool = False
    """Whether the place is darker than reckoned, by something told only in words."""
    cautions: tuple[str, ...] = ()
    """What a person must mind before a lamp is touched, where one is asked to be changed."""
    readings: int = 0
    near: tuple[NearReading, ...] = ()
    own: OwnReading | None = None
    agrees: bool | None = None
    """Whether that and the field agree within their errors; None where only one is there."""
    moved_cm: float = 0.0
    """How far the place was set up or down onto the rock. [cm]"""
    changed: tuple[str, ...] = ()
    """What was asked to be changed of a lamp."""
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


class LampFit(Model):
    """How strong the readings say a lamp is, against what was told of it."""

    lamp: str
    photons_umol_per_s: float
    times_low: float
    times: float
    times_high: float


class ReadingFit(Model):
    """How one reading agrees with all others and the lamps."""

    place: str
    par_umol: float
    expected_umol: float
    deviations: float
    odd: bool
    set_aside: bool = False
    """Whether the other readings are fitted without it."""


class LightFitAnswer(Model):
    """What the readings say of lamps, water and each other."""

    edition: int = ANSWER_EDITION
    question: Literal["light fit"] = "light fit"
    lamps: tuple[LampFit, ...] = ()
    kd_low: float | None = None
    kd: float | None = None
    kd_high: float | None = None
    """Attenuation along a path. [1/m]"""
    readings: tuple[ReadingFit, ...] = ()
    rms_percent: float | None = None
    """Error at each reading when it is left out, as one number. [%]"""
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
