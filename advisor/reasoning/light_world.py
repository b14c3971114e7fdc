"""A tank as light meets it: which lamps, rocks, colonies and readings count, and where a place is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from advisor.fields.footholds import nearest_foothold_cm
from advisor.fields.rock_shapes import Body, rock_body
from advisor.fields.shadows import Occluder, shadows
from advisor.language.library import Library
from advisor.model.lighting import RockBody, RockShape
from advisor.model.tank import Animal, Box, Phase, Statement, Tank
from advisor.model.vocabulary import Measure
from advisor.reasoning.light_field import LightField, LightReading
from advisor.reasoning.light_numbers import LightNumbers, light_numbers
from advisor.reasoning.survey_facts import Facts, collect, together
from advisor.reasoning.survey_rows import place_of

LIGHT = "light"
SAND = "sand"
SNAP_CM = 6.0
"""How far a place told by hand may lie from the rock it stands on and still be set onto it. [cm]"""
LOOSE_CM = 8.0
"""A place known less well than this does not say where a reading was taken. [cm]"""
_OVER_CM = 1.0
"""A sensor, and the top of a fresh frag, over the surface they are on. [cm]"""
_LOW_COLONY = 0.5
"""Height of a colony by its width, where nothing else is known."""


@dataclass(frozen=True, slots=True)
class Point:
    """Where a place is for light."""

    at_cm: tuple[float, float, float]
    spread_cm: float
    moved_cm: float
    """How far it was set up or down onto the rock; 0 where it was not. [cm]"""


@dataclass(frozen=True, slots=True)
class LightWorld:
    """The light of a tank, or why it cannot be reckoned."""

    field: LightField | None
    missing: tuple[str, ...]
    """What a keeper would have to tell, as short sentences."""
    left_out: tuple[str, ...]
    """Readings that do not count, and why."""
    points: Mapping[str, Point]
    """By the key of a place."""

    def point(self, key: str) -> Point | None:
        """Return where a place is, None where it is not known well enough."""
        return self.points.get(key)


def light_world(tank: Tank, library: Library, on: date) -> LightWorld:
    """Build the light of a tank from all that is told up to a day.

    Parameters
    ----------
    tank
        With glass; without, there is no field.
    library
        Whose named numbers and vocabulary are in force.
    on
        The day asked about; older readings may have grown stale.
    """
    numbers, measure = light_numbers(library), library.vocabulary.measures.get(LIGHT)
    if numbers is None or measure is None:
        return LightWorld(None, ("the rule files in force have no light model",), (), {})
    if tank.glass is None:
        return LightWorld(None, ("how large the glass is: glass: {length, width, height, water}",), (), {})
    bodies = {rock.id: body for rock in tank.rocks if (body := _rock(rock.body)) is not None}
    points = _points(tank, list(bodies.values()))
    facts = collect(tank, library.vocabulary, on)
    hanging = [lamp for lamp in tank.lamps if lamp.body.hangs]
    readings, left_out = _readings(tank, facts, measure, points, on, numbers)
    if not hanging and not readings:
        return LightWorld(None, _missing(tank), left_out, points)
    shade = shadows(
        [*(Occluder(name, body) for name, body in bodies.items()), *_colonies(tank, points, numbers)]
    )
    field = LightField(
        tank.glass, hanging, shade, readings, numbers,
        sand=bool(facts.of(SAND, "tank")), meter_doubt=numbers.meter_doubt,
    )  # fmt: skip
    return LightWorld(field, (), left_out, points)


def _missing(tank: Tank) -> tuple[str, ...]:
    """What would give a field."""
    where = "where a lamp hangs: lamps: {id, at, over water, size, photons or watts}"
    read = "or readings at places whose position is told: spots: {id, at: 20, 35, 28 cm, light: 118 PAR}"
    return (where, read) if tank.lamps else (f"the lamps, and {where}", read)


def _rock(body: RockBody | None) -> Body | None:
    """The surface of a rock that has a shape."""
    if body is None or body.shape is None or body.middle_cm is None or body.size_cm is None:
        return None
    return rock_body(body.shape, body.middle_cm, body.foot_cm, body.size_cm, body.turned_deg)


def _points(tank: Tank, bodies: list[Body]) -> dict[str, Point]:
    """Every place whose position is known well enough, set onto the rock it stands on."""
    assert tank.glass is not None
    standing = {
        animal.spot: animal for animal in tank.animals if animal.spot and animal.phase is not Phase.WAITING
    }
    found = {}
    for spot in tank.spots:
        point = _point(spot.box, bodies, standing.get(spot.id))
        if point is not None:
            found[spot.id] = point
    for animal in tank.animals:
        point = _point(animal.box, bodies, animal)
        if point is not None:
            found[place_of(animal.id)] = point
    return found


def _point(box: Box | None, bodies: list[Body], animal: Animal | None) -> Point | None:
    """The top of what stands at a place, or of a fresh frag there."""
    if box is None or box.by_word:
        return None
    ends = np.array([box.x, box.y, box.z])
    spread = float((ends[:, 1] - ends[:, 0]).max() / 2.0)
    if spread > LOOSE_CM:
        return None
    x, y, z = (float(each) for each in ends.mean(axis=1))
    foot = nearest_foothold_cm(bodies, (x, y, z), SNAP_CM)
    base = z if foot is None else foot
    tall = _height_cm(animal) if animal is not None else 0.0
    return Point((x, y, base + tall + _OVER_CM), spread, 0.0 if foot is None else foot - z)


def _height_cm(animal: Animal) -> float:
    """How high a colony stands over its foot."""
    width = animal.size_cm.best if animal.size_cm is not None and animal.size_cm.best is not None else 0.0
    return _LOW_COLONY * width


def _colonies(tank: Tank, points: Mapping[str, Point], numbers: LightNumbers) -> list[Occluder]:
    """Standing colonies as low domes that let a little light through."""
    found = []
    for animal in tank.animals:
        point = points.get(animal.spot) or points.get(place_of(animal.id))
        tall = _height_cm(animal)
        if point is None or tall <= 0.0 or animal.phase is Phase.WAITING:
            continue
        x, y, top = point.at_cm
        wide = tall / _LOW_COLONY
        body = rock_body(RockShape.BOULDER, (x, y), top - _OVER_CM - tall, (wide, wide, tall))
        found.append(Occluder(animal.id, body, numbers.colony_share))
    return found


def _readings(
    tank: Tank,
    facts: Facts,
    measure: Measure,
    points: Mapping[str, Point],
    on: date,
    numbers: LightNumbers,
) -> tuple[list[LightReading], tuple[str, ...]]:
    """Readings that count, and why others do not."""
    changed = max((lamp.installed_on for lamp in tank.lamps if lamp.installed_on), default=None)
    found, left_out = [], []
    for key in [*(spot.id for spot in tank.spots), *(place_of(animal.id) for animal in tank.animals)]:
        said = [each for each in together(facts.of(LIGHT, key)) if each.best is not None]
        if not said:
            continue
        why = _why_not(said[0], measure, points.get(key), on, changed)
        if why:
            left_out.append(f"{key}: {why}")
            continue
        point = points[key]
        found += [
            LightReading(key, point.at_cm, each.best, _log_sd(each, numbers), point.spread_cm)
            for each in said
            if each.best is not None
        ]
    return found, tuple(left_out)


def _why_not(said: Statement, measure: Measure, point: Point | None, on: date, changed: date | None) -> str:
    """Why a reading does not count; empty where it does."""
    if point is None:
        return "where it was taken is not known to a hand's width"
    if said.on is not None and measure.stale_days is not None and (on - said.on).days > measure.stale_days:
        return f"read {(on - said.on).days} days ago, too old"
    if said.on is not None and changed is not None and said.on < changed:
        return f"read before a lamp was new on {changed.isoformat()}"
    if said.best is not None and said.best <= 0.0:
        return "no light at all was read"
    return ""


def _log_sd(said: Statement, numbers: LightNumbers) -> float:
    """How far one reading may be off beside the meter's common error, as a deviation of its logarithm."""
    if said.error is None or not said.best:
        return numbers.reading_scatter
    return max(numbers.reading_scatter, said.error / said.best / 1.645 - numbers.meter_doubt)
