"""A keeper's tank as facts: what stands where, and everything that was said or measured.

The structural things that Python reckons with (positions, spots, stages) are
fields; everything else a keeper says is a `Fact` about a measure or relation
of the vocabulary, so a new measure needs no new field.
"""

from __future__ import annotations

import math
from datetime import date
from enum import StrEnum

from pydantic import BaseModel, ConfigDict, Field

from advisor.errors import Span
from advisor.model.lighting import LampBody, RockBody, Walls
from advisor.model.vocabulary import EventKind as EventKind


class Model(BaseModel):
    """Base of every frozen model of this package."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)


class Said(StrEnum):
    """Who says it; a keeper's own word without a meter is wider than a seller's."""

    KEEPER = "keeper"
    SELLER = "seller"
    SHOP = "shop"
    INSTRUMENT = "instrument"


class Immersion(Model):
    """What is told of the factor that a light meter made for air needs under water.

    Such a sensor shows too little there; what it shows is multiplied.
    """

    factor: float | None
    """1 where the number was multiplied already, None where a keeper says that it is not known. [1]"""


class Statement(Model):
    """One thing somebody said or read, in base units.

    Exactly one form is filled: `best` (with or without `error`), `low` and
    `high` (a stated range), `words`, `truth`, or nothing at all (the keeper
    says it is not known).
    """

    best: float | None = None
    error: float | None = None
    """Stated absolute error of `best`, 90 % two-sided. [base unit]"""
    low: float | None = None
    high: float | None = None
    words: tuple[str, ...] = ()
    none: bool = False
    """The keeper says there is none: no neighbour up-flow, nothing above."""
    truth: bool | None = None
    on: date | None = None
    since: date | None = None
    """Since when it has been so: ``doing: well since 2026-03-01``."""
    by: Said = Said.KEEPER
    how: str = ""
    """Instrument or method in words: ``meter, corrected``, ``tape``, ``crumb timed 5 times``."""
    written: str = ""
    """The text as the keeper wrote it, for answers."""
    span: Span | None = None
    event: str = ""
    """Id of the journal event or reading this came from, if any."""
    output_percent: float | None = None
    """Of a reading of light: what all lamps were set to then, None for what they are set to now. [%]"""
    lux: bool = False
    """Whether these are lux, which only the readers of tank files ever see."""
    immersion: Immersion | None = None
    """Of a reading of light: the factor under water of what it was read with, None where nobody told."""
    reckoned: tuple[str, ...] = ()
    """How what was read became what counts, step by step: ``94 shown × 1.25 under water = 118 PAR``."""

    @property
    def unknown(self) -> bool:
        """Whether this statement says that nothing is known."""
        return (
            self.best is None
            and self.low is None
            and self.high is None
            and not self.words
            and self.truth is None
            and not self.none
        )


ANYTHING = "*"
"""Stands for every other thing in a pair fact that says there is none."""


class Fact(Model):
    """A statement about one measure or relation of one or two things.

    `subjects` are ids of spots, animals, rocks, or ``tank``. A pair fact may
    name a spot and an animal: it is then about whatever stands on the spot.
    A stated none of a relation has `ANYTHING` in the open place and `said.none`:
    ``up-flow("*", "ledge")`` says that nothing lies up-flow of the ledge beyond
    what other facts name, ``above("ledge", "*")`` that it stands over nothing.
    A measure of a place may be said of an animal: it is then about where it stands.
    """

    measure: str
    subjects: tuple[str, ...]
    said: Statement


class Box(Model):
    """Where something is: ranges on the tank's axes, equal ends where exact. [cm]"""

    x: tuple[float, float]
    y: tuple[float, float]
    z: tuple[float, float]
    by_word: bool = False
    """True where it stands for a place word such as ``left, back, high``."""


class Section(Model):
    """A tank cut level at one height."""

    height_cm: float
    """Over the bare glass."""
    outline_cm: tuple[tuple[float, float], ...]
    """Corners seen from above, in order."""


class Glass(Model):
    """Inside measures of the tank; origin front-left-bottom. [cm]"""

    length_cm: float
    width_cm: float
    height_cm: float
    water_cm: float | None = None
    """Water above the bare glass."""
    walls: Walls = Walls()
    outline_cm: tuple[tuple[float, float], ...] = ()
    """Corners seen from above, in order, of a tank that is no box; empty for a box. Of a scanned one
    those of its floor."""
    sections: tuple[Section, ...] = Field(default=(), repr=False, exclude=True)
    """A scanned tank from its floor up to the water or the rim, two or more; empty for upright walls."""

    @property
    def floor_cm2(self) -> float:
        """The area of its floor."""
        return _area(self.outline_cm) if self.outline_cm else self.length_cm * self.width_cm

    def volume_cm3(self, depth_cm: float) -> float:
        """Return what it holds up to some height over its floor, each part a frustum. [cm³]"""
        total = low = 0.0
        side = math.sqrt(self.floor_cm2)
        for each in self.sections:
            high = min(each.height_cm, depth_cm)
            share = (high - low) / (each.height_cm - low) if each.height_cm > low else 0.0
            top = side + (math.sqrt(_area(each.outline_cm)) - side) * share
            total += (high - low) * (side**2 + side * top + top**2) / 3.0
            low, side = high, top
        return total + (depth_cm - low) * side**2


def _area(corners: tuple[tuple[float, float], ...]) -> float:
    """The area within an outline. [cm²]"""
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2.0


class RockPart(StrEnum):
    """The part of a rock a place is on."""

    TOP = "top"
    SIDE = "side"
    UNDERSIDE = "underside"


class Spot(Model):
    """A named place that can hold an animal (or several)."""

    id: str
    name: str = ""
    box: Box | None = None
    extent_cm: float | None = None
    """Largest distance across the spot; animals stand anywhere within it."""
    holds: int = 1
    rock: str = ""
    temporary: bool = False
    sampled: bool = False
    """Whether nobody named it: one of a grid over rocks and floor that the tank file asks for."""
    part: RockPart = RockPart.TOP
    """What a place of the grid is on; the floor counts as a top. Of a named place it says nothing."""
    nothing_else_within_cm: float | None = None
    gaps_complete: bool = False
    """Every neighbour nearer than the longest reach has a stated gap."""
    closed_on: date | None = None
    """When the two lines above were said; no animal with a later `moved_on` is covered, undated ones none."""
    place: str = ""
    """The position or place words as written."""
    span: Span | None = None


class Rock(Model):
    """A rock or other base that spots and animals stand on."""

    id: str
    name: str = ""
    lifts_out: bool | None = None
    touches: tuple[str, ...] | None = None
    """Ids of other rocks; an empty tuple says none; None says not told."""
    body: RockBody | None = None
    span: Span | None = None


SAID_WHERE_IT_STANDS = frozenset({"doing", "doing-since", "fixing", "turned"})
"""Measures of an animal that hold only where it stands; standing elsewhere they are no longer known."""


class Phase(StrEnum):
    """Where an animal is in its life with us."""

    WAITING = "waiting"
    TRIAL = "trial"
    PLACED = "placed"


class Animal(Model):
    """One animal: a coral, clam or anemone."""

    id: str
    name: str = ""
    taxon: str
    """The card as the keeper named it: a card name, a trade name or a binomial."""
    phase: Phase
    spot: str = ""
    box: Box | None = None
    rock: str = ""
    """The rock it stands on, where it has no spot."""
    size_cm: Statement | None = None
    """Diameter of the living animal."""
    clone: str = ""
    """Clone or mother colony; two animals with one clone are the same clone."""
    placed_on: date | None = None
    """Since when it has stood where it stands."""
    moved_on: date | None = None
    """When a command last put it there; what was said of its surroundings before is left out of the facts."""
    nothing_else_within_cm: float | None = None
    gaps_complete: bool = False
    closed_on: date | None = None
    place: str = ""
    """The position or place words as written."""
    span: Span | None = None


class Fish(Model):
    """A fish or other moving animal."""

    id: str
    kind: str
    span: Span | None = None


class Lamp(Model):
    """A lamp over the tank."""

    id: str
    name: str = ""
    installed_on: date | None = None
    """When it, or what shines in it, was last new."""
    cleaned_on: date | None = None
    """When it or its lens was last cleaned or changed."""
    body: LampBody = LampBody()
    span: Span | None = None


class Pump(Model):
    """A pump that moves water in the tank."""

    id: str
    name: str = ""
    cleaned_on: date | None = None
    span: Span | None = None


class Event(Model):
    """One line of the journal: history, never changed."""

    id: str
    on: date
    at: str = ""
    by: str = ""
    kind: EventKind
    subject: str = ""
    """Id of the animal, spot, lamp or ``tank``."""
    spot: str = ""
    facts: tuple[Fact, ...] = ()
    note: str = ""
    edit: dict[str, str] | None = None
    """The edit of tank.yaml this event stands for, replayed if it is missing there."""
    span: Span | None = None


class Flow(Model):
    """The main stream of the tank."""

    direction_deg: float | None = None
    """Where the water goes, on the ground plan: 0 to the right, 90 to the back."""
    written: str = ""
    drift: str = ""
    """Where what drifts ends up, in the keeper's words."""
    span: Span | None = None


class Tank(Model):
    """Everything a tank folder says. History, with its own facts, is in `events`; the rest is now."""

    id: str
    name: str
    invented: bool = False
    glass: Glass | None = None
    flow: Flow | None = None
    horizon_months: int = 12
    started: date | None = None
    spots: tuple[Spot, ...] = ()
    rocks: tuple[Rock, ...] = ()
    animals: tuple[Animal, ...] = ()
    fish: tuple[Fish, ...] = ()
    lamps: tuple[Lamp, ...] = ()
    pumps: tuple[Pump, ...] = ()
    told: tuple[str, ...] = ()
    """Kinds of things of which all are listed: ``rock``, ``lamp``, ``pump``, ``fish``."""
    facts: tuple[Fact, ...] = ()
    events: tuple[Event, ...] = ()
    last_event: str = ""
    house_files: tuple[str, ...] = ()
    """House files named in tank.yaml or found beside it, as paths inside the folder."""
