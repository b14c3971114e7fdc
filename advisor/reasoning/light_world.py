"""A tank as light meets it: which lamps, rocks, colonies and readings count, and where a place is."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from advisor.language.library import Library
from advisor.model.tank import Statement, Tank
from advisor.model.vocabulary import Measure
from advisor.reasoning.light_field import Z90, LightField, LightHere, LightReading, Unread
from advisor.reasoning.light_hanging import hanging as hanging_lamps
from advisor.reasoning.light_hanging import strain, untold
from advisor.reasoning.light_numbers import LightNumbers, light_numbers
from advisor.reasoning.light_places import Places, Point, colonies, places_of, rock_bodies
from advisor.reasoning.survey_facts import Facts, collect, together, under_cover
from advisor.reasoning.survey_meter import LIGHT, factor_doubt
from advisor.reasoning.survey_rows import place_of

if TYPE_CHECKING:
    from advisor.fields.rock_shapes import Body
    from advisor.fields.shadows import Shadows

SAND = "sand"
AT_THE_FACE = "read-at-the-face"
"""The relation that says that a sensor did not look up."""
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
    reach_cm: float = math.inf
    """How far from a reading anything is known; without end where lamps are. [cm]"""
    covered: frozenset[str] = frozenset()
    """Places told to be under cover that nothing told here keeps light off; they are darker than reckoned."""

    set_aside: frozenset[str] = frozenset()
    """Places whose reading cannot be folded in, by its value or its day, yet is held against the lamps."""

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
        return _none("the rule files in force have no light model")
    if tank.glass is None:
        return _none(
            "how large the glass is: glass: {length: 120 cm, width: 60 cm, height: 50 cm, water: 46 cm}"
        )
    bodies = rock_bodies(tank)
    places = places_of(tank, bodies)
    told = collect(tank, library.vocabulary, on) if facts is None else facts
    over = hanging_lamps(tank.lamps)
    if over.dark:
        return LightWorld(None, (over.dark,), (), places.points, places.buried)
    hanging = over.lamps
    shade = _shade(tank, bodies, places, numbers) if hanging else None
    doubt = math.hypot(numbers.meter_doubt, factor_doubt(library, told))
    bare = LightField(
        tank.glass, hanging, shade, (), numbers, sand=bool(told.of(SAND, "tank")), meter_doubt=doubt
    )
    covered = _covered(places, told, bare)
    counting = _Counting(tank, told, measure, places, on, numbers, covered, bool(hanging))
    readings, notes = counting.readings()
    if not hanging and not readings:
        return LightWorld(None, untold(tank.lamps), notes, places.points, places.buried)
    if hanging and tank.glass.outline_cm:
        notes = (*notes, "the glass is no box: what its walls throw back is left out, and the error is wider")
    if hanging and tank.glass.water_cm is None:
        notes = (*notes, "the water is taken to stand at the rim: tell it with glass: {water: 55 cm}")
    reach, field = math.inf if hanging else numbers.read_only_reach_cm, bare.with_readings(readings)
    notes = (*over.notes, *strain(field.widened), *notes)
    return LightWorld(
        field,
        (),
        notes,
        places.points,
        places.buried,
        reach,
        covered,
        counting.set_aside(),
    )


def _covered(places: Places, facts: Facts, bare: LightField) -> frozenset[str]:
    """Places told to be under cover which nothing told here keeps light off."""
    told = [key for key in places.points if under_cover(facts, key)]
    if not told or not bare.lamps:
        return frozenset(told)
    off = bare.kept_off(np.array([places.points[key].at_cm for key in told]))
    return frozenset(key for key, share in zip(told, off, strict=True) if share < _SHADED)


def _none(missing: str) -> LightWorld:
    """No light, for one reason."""
    return LightWorld(None, (missing,), (), NOWHERE.points, NOWHERE.buried)


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
        stale = self.measure.stale_days
        changed = max((each.installed_on for each in self.tank.lamps if each.installed_on), default=None)
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
        return LightReading(key, point.at_cm, math.exp(middle), sd, point.spread_cm), note

    def _log_sd(self, said: Statement) -> float:
        """How far one reading may be off beside the meter's common error, as a deviation of its logarithm."""
        if said.error is None or not said.best:
            return self.numbers.reading_scatter
        return max(self.numbers.reading_scatter, said.error / said.best / Z90 - self.numbers.meter_doubt)


def _at(key: str) -> str:
    """A place in a sentence."""
    return key if key.startswith("at ") else f"at {key}"
