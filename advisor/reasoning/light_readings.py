"""Which readings of light say something of the open water, and which are left out and why."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from advisor.model.tank import Statement, Tank
from advisor.model.vocabulary import Measure
from advisor.reasoning.light_age import LampAges, Since, named
from advisor.reasoning.light_faces import Face
from advisor.reasoning.light_numbers import Z90, LightNumbers
from advisor.reasoning.light_places import Places
from advisor.reasoning.light_values import LightReading
from advisor.reasoning.survey_facts import LIGHT, Facts, together
from advisor.reasoning.survey_meter import FactorDoubt
from advisor.reasoning.survey_rows import place_of

AT_THE_FACE = "read-at-the-face"
"""The relation that says that a sensor did not look up."""
_AGE = "since it was read"
"""What all readings may be off together: lamps fade and film grows for all of them alike."""


@dataclass(frozen=True, slots=True)
class Counting:
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
    faces: Mapping[str, Face]

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
                notes.append(f"the reading {in_words(key)} is left out: {why}")
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
        if key in self.places.buried:
            return f"it would lie inside {self.places.buried[key]}"
        if key not in self.places.points:
            return "where it was taken is not known to a hand's width"
        if was_turned(self.facts, key):
            return "the sensor was turned to the face of the rock"
        if key in self.faces and self.faces[key].under:
            return "below rock no sensor looks up"
        if key in self.covered:
            untold = "no rock told here keeps light off it" if self.lamps else "no lamp is known"
            return f"it is under cover, and {untold}"
        return ""

    def _unfit(self, said: Statement) -> str:
        """Why the day or the value of a reading rules it out; empty where they do not."""
        stale = self.measure.stale_days
        if said.on is not None and stale is not None and (self.on - said.on).days > stale:
            return f"read {(self.on - said.on).days} days ago, too old"
        if said.on is not None and (newer := self.ages.newer(said.on)):
            return self._before(newer)
        return "" if said.best else "no light at all was read"

    def _before(self, newer: Mapping[str, date]) -> str:
        """That some lamps were new after a reading, and what a keeper can do about it."""
        alike: dict[date, list[str]] = {}
        for lamp, day in sorted(newer.items(), key=lambda each: each[1]):
            alike.setdefault(day, []).append(lamp)
        new = [
            f"{named(names)} {'was' if len(names) == 1 else 'were'} new on {day.isoformat()}"
            for day, names in alike.items()
        ]
        hang = {lamp.id: lamp.body.hangs for lamp in self.tank.lamps}
        nowhere = [name for name in newer if not hang.get(name, False)]
        dark = f", or tell output: 0 % of {named(nowhere)} if dark by day" if nowhere else ""
        return f"read before {' and '.join(new)}: read it again{dark}"

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
            note = (
                f"{in_words(key)} both {low} and {high} PAR were read on one day: the error there covers both"
            )
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


def in_words(key: str) -> str:
    """Return a place as it stands in a sentence."""
    return key if key.startswith("at ") else f"at {key}"


def was_turned(facts: Facts, key: str) -> bool:
    """Return whether a sensor is told to have been turned to the surface of a place."""
    said = together(facts.of(AT_THE_FACE, key))
    return bool(said) and said[0].truth is True
