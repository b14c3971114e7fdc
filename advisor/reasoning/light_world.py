"""A tank as light meets it: which lamps, rocks, colonies and readings count, and where a place is."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from advisor.language.library import Library
from advisor.model.lighting import WaterLook
from advisor.model.tank import Statement, Tank
from advisor.model.vocabulary import Measure
from advisor.reasoning.light_age import Z90, LampAges, Since, lamp_ages, lamp_notes, since_read
from advisor.reasoning.light_field import LightField, LightHere, LightReading, Misfit, Unread
from advisor.reasoning.light_numbers import LightNumbers, light_numbers
from advisor.reasoning.light_odd import parted
from advisor.reasoning.light_places import Places, Point, colonies, places_of, rock_bodies
from advisor.reasoning.survey_facts import Facts, collect, together, under_cover
from advisor.reasoning.survey_meter import LIGHT, FactorDoubt, factor_doubt
from advisor.reasoning.survey_rows import place_of

if TYPE_CHECKING:
    from advisor.fields.rock_shapes import Body
    from advisor.fields.shadows import Shadows

SAND = "sand"
YELLOWED, CLOUDY = "yellowed-water", "cloudy-water"
"""The relations that say how the water looks; untold, it is taken for clear."""
AT_THE_FACE = "read-at-the-face"
"""The relation that says that a sensor did not look up."""
_AGE = "since it was read"
"""What all readings may be off together: lamps fade and film grows for all of them alike."""
_SHADED = 0.1
"""A place under cover gets at least so much less light than in the open. [1]"""


@dataclass(frozen=True, slots=True)
class LightWorld:
    """The light of a tank, or why it cannot be reckoned."""

    field: LightField | None
    missing: tuple[str, ...]
    """What a keeper would have to tell, as short sentences."""
    notes: tuple[str, ...]
    """Readings that do not count, and why; what is taken as told."""
    points: Mapping[str, Point]
    """By the key of a place."""
    buried: Mapping[str, str]
    """Places that would lie inside a rock, and which one."""
    since: Mapping[str, Since]
    """What became of each dated reading since that day, by the key of its place."""
    reach_cm: float = math.inf
    """How far from a reading anything is known; without end where lamps are. [cm]"""
    covered: frozenset[str] = frozenset()
    """Places told to be under cover that nothing told here keeps light off; they are darker than reckoned."""

    set_aside: frozenset[str] = frozenset()
    """Places whose reading is not folded in, but held against the rest: by its value, day, or all others."""
    odd: tuple[Misfit, ...] = ()
    """Readings that all others contradict, against what these lead to expect."""

    def rest_at(self, key: str) -> Unread | None:
        """Return what all but the reading at a place lead to expect there; None where no lamp tells."""
        if self.field is None or not self.field.lamps:
            return None
        if key not in self.set_aside or key in self.covered:
            return self.field.unread(key)
        (here,) = self.field.at(np.array([self.points[key].at_cm]))
        return Unread(here.low, here.best, here.high)

    def point(self, key: str) -> Point | None:
        """Return where a place is, None where it is not known well enough."""
        return self.points.get(key)

    def everywhere(self) -> dict[str, LightHere]:
        """Return the light at every place that has any, by its key."""
        if self.field is None:
            return {}
        keys = [
            key
            for key, point in self.points.items()
            if self._reached(self.field, point) and (self.field.lamps or key not in self.covered)
        ]
        if not keys:
            return {}
        found = self.field.at(np.array([self.points[key].at_cm for key in keys]))
        return dict(zip(keys, found, strict=True))

    def _reached(self, field: LightField, point: Point) -> bool:
        """Whether a place is near enough to something that tells of its light."""
        if self.reach_cm == math.inf:
            return True
        return any(math.dist(each.at_cm, point.at_cm) <= self.reach_cm for each in field.readings)


NOWHERE = Places({}, {})


def light_world(tank: Tank, library: Library, on: date, facts: Facts | None = None) -> LightWorld:
    """Build the light of a tank from all that is told up to a day.

    Parameters
    ----------
    tank
        With glass; without, there is no field.
    library
        Whose named numbers and vocabulary are in force.
    on
        The day asked about; older readings may have grown stale.
    facts
        All that is said, where that is collected already.
    """
    numbers, measure = light_numbers(library), library.vocabulary.measures.get(LIGHT)
    if numbers is None or measure is None:
        return _none("the rule files in force have no light model", {})
    told = collect(tank, library.vocabulary, on) if facts is None else facts
    ages = lamp_ages(tank, told, numbers, on)
    if tank.glass is None:
        missing = "how large the glass is: glass: {length, width, height, water}"
        return _none(missing, since_read(told, ages, {}))
    bodies = rock_bodies(tank)
    places = places_of(tank, bodies)
    hanging = [lamp for lamp in tank.lamps if lamp.body.hangs]
    shade = _shade(tank, bodies, places, numbers) if hanging else None
    look = _look(told)
    bare = LightField(
        tank.glass, hanging, shade, (), numbers, sand=bool(told.of(SAND, "tank")), look=look,
        meter_doubt=numbers.meter_doubt, ages=ages,
    )  # fmt: skip
    covered, since = _covered(places, told, bare), since_read(told, ages, _shares(places, told, bare))
    counting = _Counting(tank, told, measure, places, on, numbers, covered, bool(hanging), ages, since,
                         factor_doubt(library, told))  # fmt: skip
    readings, notes = counting.readings()
    if not hanging and not readings:
        return LightWorld(None, _missing(tank), notes, places.points, places.buried, since)
    notes = (*notes, *lamp_notes(hanging, ages))
    if hanging and tank.glass.outline_cm:
        notes = (*notes, "the glass is no box: what its walls throw back is left out, and the error is wider")
    if hanging and tank.glass.water_cm is None:
        notes = (*notes, "the water is taken to stand at the rim: tell it with glass: {water: 55 cm}")
    if hanging and look is not WaterLook.CLEAR:
        notes = (*notes, f"the water is told to look {look.value}, and takes more light than clear water")
    reach = math.inf if hanging else numbers.read_only_reach_cm
    field, odd = parted(bare.with_readings(readings), numbers.odd_from)
    aside = counting.set_aside() | {each.reading.label for each in odd}
    notes = (
        *notes,
        *(f"the reading {_at(each.reading.label)} is set aside: {_told_odd(each)}" for each in odd),
    )
    return LightWorld(field, (), notes, places.points, places.buried, since, reach, covered, aside, odd)


def _told_odd(misfit: Misfit) -> str:
    """What is odd about a reading, in words."""
    read, expected = round(misfit.reading.par_umol), round(misfit.expected)
    again = "read again, or look what moved"
    return f"{read} PAR was read where all others lead to expect about {expected}; {again}"


def _look(facts: Facts) -> WaterLook:
    """How clear the water is told to be; of two faults the one that takes more light."""
    for relation, look in ((CLOUDY, WaterLook.CLOUDY), (YELLOWED, WaterLook.YELLOWED)):
        said = together(facts.of(relation, "tank"))
        if said and said[0].truth is True:
            return look
    return WaterLook.CLEAR


def _covered(places: Places, facts: Facts, bare: LightField) -> frozenset[str]:
    """Places told to be under cover which nothing told here keeps light off."""
    told = [key for key in places.points if under_cover(facts, key)]
    if not told or not bare.lamps:
        return frozenset(told)
    off = bare.kept_off(np.array([places.points[key].at_cm for key in told]))
    return frozenset(key for key, share in zip(told, off, strict=True) if share < _SHADED)


def _shares(places: Places, facts: Facts, bare: LightField) -> dict[str, dict[str, float]]:
    """Part of each lamp in the light of every place where it was read on a known day."""
    read = facts.single.get(LIGHT, {})
    keys = [key for key in places.points if any(said.on is not None for said in read.get(key, ()))]
    if not keys or not bare.lamps:
        return {}
    return dict(
        zip(keys, bare.told_shares(np.array([places.points[key].at_cm for key in keys])), strict=True)
    )


def _none(missing: str, since: Mapping[str, Since]) -> LightWorld:
    """No light, for one reason."""
    return LightWorld(None, (missing,), (), NOWHERE.points, NOWHERE.buried, since)


def _missing(tank: Tank) -> tuple[str, ...]:
    """What would give a field."""
    where = "where a lamp hangs: lamps: {id, at, over water, size, photons or watts}"
    read = "or readings at places whose position is told: spots: {id, at: 20, 35, 28 cm, light: 118 PAR}"
    return (where, read) if tank.lamps else (f"the lamps, and {where}", read)


def _shade(tank: Tank, bodies: Mapping[str, Body], places: Places, numbers: LightNumbers) -> Shadows | None:
    """All that stands in the way of light, None where nothing does."""
    if not bodies and not tank.animals:
        return None
    from advisor.fields.shadows import Occluder, shadows  # brings a mesh library

    rocks = [Occluder(name, body) for name, body in bodies.items()]
    return shadows([*rocks, *colonies(tank, places.points, numbers.colony_share)])


# --- readings


@dataclass(frozen=True, slots=True)
class _Counting:
    """Sorts readings into those that count and those that do not."""

    tank: Tank
    facts: Facts
    measure: Measure
    places: Places
    on: date
    numbers: LightNumbers
    covered: frozenset[str]
    lamps: bool
    ages: LampAges
    since: Mapping[str, Since]
    factors: FactorDoubt

    def readings(self) -> tuple[list[LightReading], tuple[str, ...]]:
        """Return readings that count, one a place, and why others do not."""
        found: list[LightReading] = []
        notes = [note for note in self.facts.notes if note.startswith(f"{LIGHT} of ")]
        for key in [
            *(spot.id for spot in self.tank.spots),
            *(place_of(animal.id) for animal in self.tank.animals),
        ]:
            said = [each for each in together(self.facts.of(LIGHT, key)) if each.best is not None]
            if not said:
                continue
            why = self._why_not(key, said[0])
            if why:
                notes.append(f"the reading {_at(key)} is left out: {why}")
                continue
            reading, note = self._joined(key, said)
            found.append(reading)
            notes += [note] if note else []
        return found, tuple(notes)

    def set_aside(self) -> frozenset[str]:
        """Return the places whose reading is left out for its value or its day alone."""
        return frozenset(
            key
            for key in self.places.points
            for said in together(self.facts.of(LIGHT, key))[:1]
            if said.best is not None and not self._elsewhere(key) and self._unfit(said)
        )

    def _why_not(self, key: str, said: Statement) -> str:
        """Why a reading does not count; empty where it does."""
        return self._elsewhere(key) or self._unfit(said)

    def _elsewhere(self, key: str) -> str:
        """Why a reading says nothing of a level face in the open water; empty where it does."""
        turned = together(self.facts.of(AT_THE_FACE, key))
        if key in self.places.buried:
            return f"it would lie inside {self.places.buried[key]}"
        if key not in self.places.points:
            return "where it was taken is not known to a hand's width"
        if turned and turned[0].truth is True:
            return "the sensor was turned to the face of the rock"
        if key in self.covered:
            untold = "no rock told here keeps light off it" if self.lamps else "no lamp is known"
            return f"it is under cover, and {untold}"
        return ""

    def _unfit(self, said: Statement) -> str:
        """Why the day or the value of a reading rules it out; empty where they do not."""
        stale, changed = self.measure.stale_days, self.ages.last_new
        if said.on is not None and stale is not None and (self.on - said.on).days > stale:
            return f"read {(self.on - said.on).days} days ago, too old"
        if said.on is not None and changed is not None and said.on < changed:
            return f"read before a lamp was new on {changed.isoformat()}"
        return "" if said.best else "no light at all was read"

    def _joined(self, key: str, said: Sequence[Statement]) -> tuple[LightReading, str]:
        """One reading for a place; of several of one day the middle, with an error that covers them all."""
        point = self.places.points[key]
        logs = [math.log(each.best) for each in said if each.best]
        middle = sum(logs) / len(logs)
        spread = (max(logs) - min(logs)) / 2.0
        own = max(self._log_sd(each) for each in said)
        note = ""
        if spread > Z90 * own:
            low, high = (round(math.exp(end)) for end in (min(logs), max(logs)))
            note = f"{_at(key)} both {low} and {high} PAR were read on one day: the error there covers both"
        sd = max(own, spread)
        since = self.since.get(key)
        times = since.times if since is not None else 1.0
        shared = dict(one for each in said for one in self.factors.shared(self.measure, each, key))
        if since is not None:
            shared[_AGE] = since.log_sd
        reading = LightReading(
            key, point.at_cm, math.exp(middle) * times, sd, point.spread_cm, tuple(shared.items())
        )
        return reading, note

    def _log_sd(self, said: Statement) -> float:
        """How far one reading may be off beside the meter's common error, as a deviation of its logarithm."""
        if said.error is None or not said.best:
            return self.numbers.reading_scatter
        return max(self.numbers.reading_scatter, said.error / said.best / Z90 - self.numbers.meter_doubt)


def _at(key: str) -> str:
    """A place in a sentence."""
    return key if key.startswith("at ") else f"at {key}"
