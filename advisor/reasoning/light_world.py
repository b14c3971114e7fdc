"""A tank as light meets it: which lamps, rocks, colonies and readings count, and where a place is."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.language.library import Library
from advisor.model.lighting import WaterLook
from advisor.model.tank import Tank
from advisor.reasoning.light_age import Since, lamp_ages, lamp_notes, since_read
from advisor.reasoning.light_faces import Face, faces_of
from advisor.reasoning.light_field import LightField
from advisor.reasoning.light_hanging import hanging as hanging_lamps
from advisor.reasoning.light_hanging import strain, untold
from advisor.reasoning.light_lamps import walls_estimated
from advisor.reasoning.light_numbers import LightNumbers, light_numbers
from advisor.reasoning.light_odd import parted
from advisor.reasoning.light_places import Places, Point, colonies, places_of, rock_bodies
from advisor.reasoning.light_readings import Counting, in_words, was_turned
from advisor.reasoning.light_values import LightHere, Misfit, OnFace, Unread
from advisor.reasoning.place_lies import FACES, lies_of
from advisor.reasoning.place_numbers import place_numbers
from advisor.reasoning.survey_facts import LIGHT, Facts, collect, together, under_cover
from advisor.reasoning.survey_lies import SAND_GRAIN
from advisor.reasoning.survey_meter import factor_doubt

if TYPE_CHECKING:
    from advisor.fields.rock_shapes import Body
    from advisor.fields.shadows import Shadows

Floats: TypeAlias = npt.NDArray[np.float64]

YELLOWED, CLOUDY = "yellowed-water", "cloudy-water"
"""The relations that say how the water looks; untold, it is taken for clear."""
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
    faces: Mapping[str, Face]
    """Which way the surface of a place looks, by its key, where that is known."""
    reach_cm: float = math.inf
    """How far from a reading anything is known; without end where lamps are. [cm]"""
    covered: frozenset[str] = frozenset()
    """Places told to be under cover that nothing told here keeps light off; they are darker than reckoned."""
    turned: frozenset[str] = frozenset()
    """Places where the sensor was turned to the surface of the rock."""
    sandy: bool = False
    """Whether there is told to be sand."""
    set_aside: frozenset[str] = frozenset()
    """Places whose reading is not folded in, but held against the rest: by its value, day, or all others."""
    odd: tuple[Misfit, ...] = ()
    """Readings that all others contradict, against what these lead to expect."""
    worded: frozenset[str] = frozenset()
    """Places told to be a side or an underside, while no slope and no rock tells which way they look."""

    @property
    def dark(self) -> frozenset[str]:
        """Those of them on undersides: they get less than a level sensor reads, and no more is known."""
        return self.worded & self.covered

    def is_odd(self, key: str) -> bool:
        """Return whether all others contradict the reading at a place: what they expect is likelier."""
        return any(each.reading.label == key for each in self.odd)

    def rest_at(self, key: str) -> Unread | None:
        """Return what all but the reading at a place lead to expect there; None where nothing tells.

        On an underside, and where the sensor was turned to the rock, that is the light on the face.
        """
        if self.field is None or not self.field.lamps:
            return None
        if key in self.turned or key in self.under:
            face = self.on_faces([key]).get(key)
            return None if face is None else Unread(face.low, face.middle, face.high)
        if key not in self.set_aside or key in self.covered:
            return self.field.unread(key)
        (here,) = self.field.with_readings(self.field.readings).at(np.array([self.points[key].at_cm]))
        return Unread(here.low, here.best, here.high)

    def on_faces(self, keys: Sequence[str], leaning_deg: float = 0.0) -> dict[str, FaceHere]:
        """Return the light on the surface of some places, as far as surface and lamps are known.

        Parameters
        ----------
        leaning_deg
            As if each leaned over by so much more.
        """
        return {} if self.field is None else self._on_ways(self.field.on_faces, keys, leaning_deg)

    def shares_on_faces(self, keys: Sequence[str], leaning_deg: float = 0.0) -> dict[str, FaceHere]:
        """Return what the surface of some places gets of the light that a level sensor reads there. [1]"""
        return {} if self.field is None else self._on_ways(self.field.shares_on_faces, keys, leaning_deg)

    def _on_ways(
        self, ask: Callable[[Floats, Floats], list[OnFace]], keys: Sequence[str], leaning_deg: float
    ) -> dict[str, FaceHere]:
        """What is found on the surface of some places, over all ways in which each may look."""
        known = [key for key in keys if key in self.faces and key in self.points]
        looks = [(key, way) for key in known for way in self.faces[key].ways(leaning_deg)]
        points = np.array([self.points[key].at_cm for key, _ in looks]).reshape(-1, 3)
        lit = ask(points, np.array([way for _, way in looks]).reshape(-1, 3))
        by_key: dict[str, list[OnFace]] = {}
        for (key, _), here in zip(looks, lit, strict=False):  # without a lamp there is none
            by_key.setdefault(key, []).append(here)
        return {key: _whole_range(each) for key, each in by_key.items()}

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
        return {**dict(zip(keys, found, strict=True)), **self._below_rock(keys)}

    def _below_rock(self, keys: Sequence[str]) -> dict[str, LightHere]:
        """The light on undersides, for what grows there gets that and not what a level sensor would read."""
        under = [key for key in keys if key in self.under]
        return {
            key: LightHere(here.low, here.middle, here.high, math.nan, (), 0.0)
            for key, here in self.on_faces(under).items()
        }

    @property
    def sides(self) -> frozenset[str]:
        """Places on sides."""
        return frozenset(key for key, face in self.faces.items() if face.side)

    @property
    def under(self) -> frozenset[str]:
        """Places on undersides."""
        return frozenset(key for key, face in self.faces.items() if face.under)

    def _reached(self, field: LightField, point: Point) -> bool:
        """Whether a place is near enough to something that tells of its light."""
        if self.reach_cm == math.inf:
            return True
        return any(math.dist(each.at_cm, point.at_cm) <= self.reach_cm for each in field.readings)


@dataclass(frozen=True, slots=True)
class FaceHere:
    """The light on the surface of a place, as a 90 % interval. [µmol/m²/s]"""

    low: float
    best: float | None
    """None where it is not known to which side it looks."""
    high: float
    sand: float
    """Share that sand throws there. [1]"""

    @property
    def middle(self) -> float:
        """The best value, or where the side is not known the middle of the range. [µmol/m²/s]"""
        return math.sqrt(self.low * self.high) if self.best is None else self.best


def _whole_range(found: Sequence[OnFace]) -> FaceHere:
    """All that some faces may get, one of which it is."""
    low, high = min(each.low for each in found), max(each.high for each in found)
    best = found[0].best if len(found) == 1 else None
    return FaceHere(low, best, high, sum(each.sand for each in found) / len(found))


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
        missing = "how large the glass is: glass: {length: 120 cm, width: 60 cm, height: 50 cm, water: 46 cm}"
        return _none(missing, since_read(told, ages, {}))
    over = hanging_lamps(tank.lamps)
    if over.dark:
        return _none(over.dark, since_read(told, ages, {}))
    bodies = rock_bodies(tank)
    places, faces = standing(tank, library, told, bodies)
    hanging = over.lamps
    shade = _shade(tank, bodies, places, numbers) if hanging else None
    look = _look(told)
    bare = LightField(
        tank.glass, hanging, shade, (), numbers, sand=_sandy(told), look=look,
        meter_doubt=numbers.meter_doubt, ages=ages,
    )  # fmt: skip
    worded = _worded(places, told, faces)
    dark = frozenset(key for key, words in worded.items() if "under" in words)
    covered, since = _covered(places, told, bare) | dark, since_read(told, ages, _shares(places, told, bare))
    counting = Counting(tank, told, measure, places, on, numbers, covered, bool(hanging), ages, since,
                         factor_doubt(library, told), faces)  # fmt: skip
    readings, notes = counting.readings()
    if not hanging and not readings:
        return LightWorld(None, untold(tank.lamps), notes, places.points, places.buried, since, faces)
    notes = (*over.notes, *notes, *lamp_notes(hanging, ages))
    if hanging:
        notes = (*notes, *walls_estimated(tank.glass))
    if hanging and tank.glass.water_cm is None:
        notes = (*notes, "the water is taken to stand at the rim: tell it with glass: {water: 55 cm}")
    if hanging and look is not WaterLook.CLEAR:
        notes = (*notes, f"the water is told to look {look.value}, and takes more light than clear water")
    reach = math.inf if hanging else numbers.read_only_reach_cm
    field, odd = parted(bare.with_readings(readings), numbers)
    aside = counting.set_aside() | {each.reading.label for each in odd}
    notes = (
        *strain(field.widened),
        *notes,
        *(f"the reading {in_words(each.reading.label)} is set aside: {_told_odd(each)}" for each in odd),
    )
    turned = frozenset(key for key in places.points if was_turned(told, key))
    return LightWorld(
        field, (), notes, places.points, places.buried, since, faces,
        reach, covered, turned, _sandy(told), aside, odd, frozenset(worded),
    )  # fmt: skip


def standing(
    tank: Tank, library: Library, facts: Facts, bodies: Mapping[str, Body]
) -> tuple[Places, dict[str, Face]]:
    """Return where every place of a tank is for light, and which way its surface looks.

    Parameters
    ----------
    bodies
        Rocks by their ids.
    """
    words = place_numbers(library)
    if words is None:
        return places_of(tank, bodies, {}), {}
    lies = lies_of(tank, words, facts)
    steep = {key: each[0] for key, each in lies.items() if each[0].front_cm is not None}
    return places_of(tank, bodies, steep), faces_of(lies, facts, words)


def _told_odd(misfit: Misfit) -> str:
    """What is odd about a reading, in words."""
    read, expected = round(misfit.reading.par_umol), round(misfit.expected)
    again = "read again, or look what moved; until then every value covers both, with it and without"
    return f"{read} PAR was read where all others lead to expect about {expected}; {again}"


def _look(facts: Facts) -> WaterLook:
    """How clear the water is told to be; of two faults the one that takes more light."""
    for relation, look in ((CLOUDY, WaterLook.CLOUDY), (YELLOWED, WaterLook.YELLOWED)):
        said = together(facts.of(relation, "tank"))
        if said and said[0].truth is True:
            return look
    return WaterLook.CLEAR


def _sandy(facts: Facts) -> bool:
    """Whether there is told to be sand on the floor; as nobody tells its colour, it is taken as pale."""
    said = together(facts.of(SAND_GRAIN, "tank"))
    return bool(said) and all("none" not in each.words for each in said)


def _covered(places: Places, facts: Facts, bare: LightField) -> frozenset[str]:
    """Places told to be under cover which nothing told here keeps light off."""
    told = [key for key in places.points if under_cover(facts, key)]
    if not told or not bare.lamps:
        return frozenset(told)
    off = bare.kept_off(np.array([places.points[key].at_cm for key in told]))
    return frozenset(key for key, share in zip(told, off, strict=True) if share < _SHADED)


def _worded(places: Places, facts: Facts, faces: Mapping[str, Face]) -> dict[str, frozenset[str]]:
    """What places are told to face that are no ground, of which nothing else tells which way they look."""
    untold = [key for key in places.points if key not in faces]
    words = {
        key: frozenset(w for each in together(facts.of(FACES, key)) for w in each.words) for key in untold
    }
    return {key: told for key, told in words.items() if told & {"side", "under"}}


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
    return LightWorld(None, (missing,), (), NOWHERE.points, NOWHERE.buried, since, {})


def _shade(tank: Tank, bodies: Mapping[str, Body], places: Places, numbers: LightNumbers) -> Shadows | None:
    """All that stands in the way of light, None where nothing does."""
    if not bodies and not tank.animals:
        return None
    from advisor.fields.shadows import Occluder, shadows  # brings a mesh library

    rocks = [Occluder(name, body) for name, body in bodies.items()]
    return shadows([*rocks, *colonies(tank, places.points, numbers.colony_share)])
