"""Where places are for light: set onto the rock they stand on, at the top of what stands there."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.model.lighting import RockShape
from advisor.model.tank import Animal, Box, Phase, Tank
from advisor.reasoning.place_lies import LOOSE_CM, SNAP_CM
from advisor.reasoning.survey_rows import place_of

if TYPE_CHECKING:
    from advisor.fields.places import Lie
    from advisor.fields.rock_shapes import Body
    from advisor.fields.shadows import Occluder

_OVER_CM = 1.0
"""A sensor, and the top of a fresh frag, over the surface they are on. [cm]"""
UP = (0.0, 0.0, 1.0)
"""Away from level ground."""
_ALMOST = 0.9
"""Of the room before a face a colony fills no more than this."""
CLOSE_CM = 0.5
"""No sensor comes nearer to a face. [cm]"""
_LOW_COLONY = 0.5
"""Height of a colony by its width, where nothing else is known."""


@dataclass(frozen=True, slots=True)
class Point:
    """Where a place is for light."""

    at_cm: tuple[float, float, float]
    spread_cm: float
    moved_cm: float
    """How far it was set up or down onto the rock, or onto its side; 0 where it was not. [cm]"""
    outward: tuple[float, float, float] = UP
    """Away from the rock it is on, of length 1."""


@dataclass(frozen=True, slots=True)
class Places:
    """The places of a tank whose position is known well enough, by their keys."""

    points: Mapping[str, Point]
    buried: Mapping[str, str]
    """Those that would lie inside a rock, and which one."""


def rock_bodies(tank: Tank) -> dict[str, Body]:
    """Return the surface of every rock whose shape or scan is told, by its id."""
    if all(rock.body is None for rock in tank.rocks):
        return {}
    from advisor.fields.rock_bodies import body_of  # brings a mesh library, which most tanks never need

    return {rock.id: body for rock in tank.rocks if (body := body_of(rock.body)) is not None}


def places_of(tank: Tank, bodies: Mapping[str, Body], steep: Mapping[str, Lie]) -> Places:
    """Return where every spot, and every animal that stands on none, is for light.

    Parameters
    ----------
    bodies
        Rocks by their ids; a place told by hand is set onto the nearest face that looks up.
    steep
        How places on sides and undersides lie, by their keys; they are set onto those.
    """
    points: dict[str, Point] = {}
    buried: dict[str, str] = {}
    for key, box, animal in _told(tank):
        lie = steep.get(key)
        point = _point(box, bodies, animal) if lie is None else _off_a_face(box, lie, animal)
        if point is None:
            continue
        rock = _around(point, bodies)
        if rock:
            buried[key] = rock
        else:
            points[key] = point
    return Places(points, buried)


def _told(tank: Tank) -> Iterator[tuple[str, Box, Animal | None]]:
    """Every place with a position in numbers, and who stands there."""
    standing = {
        animal.spot: animal for animal in tank.animals if animal.spot and animal.phase is not Phase.WAITING
    }
    for spot in tank.spots:
        if spot.box is not None and not spot.box.by_word:
            yield spot.id, spot.box, standing.get(spot.id)
    for animal in tank.animals:
        if animal.box is not None and not animal.box.by_word:
            yield place_of(animal.id), animal.box, animal


def _point(box: Box, bodies: Mapping[str, Body], animal: Animal | None) -> Point | None:
    """The top of what stands at a place, or of a fresh frag there."""
    ends = (box.x, box.y, box.z)
    spread = max(high - low for low, high in ends) / 2.0
    if spread > LOOSE_CM:
        return None
    x, y, z = ((low + high) / 2.0 for low, high in ends)
    foot = _foothold(bodies, (x, y, z))
    base = z if foot is None else foot
    tall = height_cm(animal) if animal is not None else 0.0
    return Point((x, y, base + tall + _OVER_CM), spread, 0.0 if foot is None else foot - z)


def _off_a_face(box: Box, lie: Lie, animal: Animal | None) -> Point | None:
    """The top of what grows off a side or an underside, or of a fresh frag there."""
    ends = (box.x, box.y, box.z)
    spread = max(high - low for low, high in ends) / 2.0
    if spread > LOOSE_CM:
        return None
    tall = height_cm(animal) if animal is not None else 0.0
    far = min(tall + _OVER_CM, max(_ALMOST * (lie.front_cm or 0.0), CLOSE_CM))
    top = tuple(at + far * way for at, way in zip(lie.at_cm, lie.outward, strict=True))
    moved = math.dist(lie.at_cm, [sum(each) / 2.0 for each in ends])
    return Point((top[0], top[1], top[2]), spread, moved, lie.outward)


def _foothold(bodies: Mapping[str, Body], at_cm: tuple[float, float, float]) -> float | None:
    """Height of the rock a place stands on, None where none is near."""
    if not bodies:
        return None
    from advisor.fields.footholds import nearest_foothold_cm

    return nearest_foothold_cm(list(bodies.values()), at_cm, SNAP_CM)


def _around(point: Point, bodies: Mapping[str, Body]) -> str:
    """The rock that a point lies inside of, empty where none does."""
    if not bodies:
        return ""
    from advisor.fields.footholds import holds

    return next((name for name, body in bodies.items() if holds(body, point.at_cm)), "")


def height_cm(animal: Animal) -> float:
    """Return how high a colony stands over its foot, by its width. [cm]"""
    width = animal.size_cm.best if animal.size_cm is not None and animal.size_cm.best is not None else 0.0
    return _LOW_COLONY * width


def colonies(tank: Tank, points: Mapping[str, Point], passes: float) -> list[Occluder]:
    """Return standing colonies as low domes that let a little light through.

    Parameters
    ----------
    passes
        Share of light they let through. [1]
    """
    from advisor.fields.rock_shapes import rock_body
    from advisor.fields.shadows import Occluder

    found = []
    for animal in tank.animals:
        point = points.get(animal.spot) or points.get(place_of(animal.id))
        tall = height_cm(animal)
        if point is None or tall <= 0.0 or animal.phase is Phase.WAITING:
            continue
        wide = tall / _LOW_COLONY
        x, y, z = (
            at - (_OVER_CM + tall / 2.0) * way for at, way in zip(point.at_cm, point.outward, strict=True)
        )
        upright = abs(point.outward[2]) > math.hypot(*point.outward[:2])
        size = (wide, wide, tall) if upright else (tall, wide, wide)
        turned = 0.0 if upright else math.degrees(math.atan2(point.outward[1], point.outward[0]))
        body = rock_body(RockShape.BOULDER, (x, y), z - size[2] / 2.0, size, turned)
        found.append(Occluder(animal.id, body, passes))
    return found
