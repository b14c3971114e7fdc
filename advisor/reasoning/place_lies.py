"""How every place of a tank lies, by the shapes and scans of its rocks; worked out once for a tank."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from advisor.model.tank import Box, Glass, Rock, RockPart, Tank
from advisor.reasoning.place_numbers import PlaceNumbers
from advisor.reasoning.survey_facts import Facts, together
from advisor.reasoning.survey_rows import place_of

if TYPE_CHECKING:
    from advisor.fields.places import Lie, Look
    from advisor.fields.rock_shapes import Body
    from advisor.fields.rooms import Room

SNAP_CM = 6.0
"""A place told by hand may be so far above or below the ground it stands on, and is set onto it. [cm]"""
LOOSE_CM = 8.0
"""A place known less well than this may lie in any way, and does not tell where light was read. [cm]"""
_BY_HAND_CM = 2.0
"""No hand tells a place better than this, whatever the tape says. [cm]"""
FACES = "faces"
SLOPE = "slope"
"""The measures by which a keeper tells that a place is no ground."""
_WORDS = {"side": RockPart.SIDE, "under": RockPart.UNDERSIDE}

Point = tuple[float, float, float]
Lies = tuple["Lie", ...]
"""How a place may lie, its middle first: as many ways as its position leaves open."""
_recent: deque[tuple[Tank, Facts, PlaceNumbers, Mapping[str, Lies]]] = deque(maxlen=4)
"""Every cell of a table of places asks; a survey asks about one tank."""


def lies_of(tank: Tank, numbers: PlaceNumbers, facts: Facts) -> Mapping[str, Lies]:
    """Return how places lie, by their keys; those without a position, or far from any ground, left out.

    A place that is told to be a side or an underside, by word or by slope, is
    looked for there, every other one on the ground. Where no rock has a shape
    nothing is said of any place: rock nobody described may be anywhere.
    """
    for of_tank, of_facts, by, found in _recent:
        if of_tank is tank and of_facts is facts and by == numbers:
            return found
    found = _all_lies(tank, numbers, facts)
    _recent.append((tank, facts, numbers, found))
    return found


def _all_lies(tank: Tank, numbers: PlaceNumbers, facts: Facts) -> Mapping[str, Lies]:
    """How places lie, worked out anew where another tank or other rocks are asked about."""
    bodies = tuple(rock for rock in tank.rocks if rock.body is not None)
    if tank.glass is None or not bodies:
        return {}
    told = [
        (spot.id, spot.box, spot.sampled, spot.part if spot.sampled else _told_part(facts, spot.id, numbers))
        for spot in tank.spots
    ]
    keys = [(place_of(animal.id), animal.box) for animal in tank.animals]
    told += [(key, box, False, _told_part(facts, key, numbers)) for key, box in keys]
    known = tuple(
        (key, box, exact, part) for key, box, exact, part in told if box is not None and not box.by_word
    )
    return _lies(bodies, tank.glass, known, numbers)


def _told_part(facts: Facts, key: str, numbers: PlaceNumbers) -> RockPart:
    """The part of a rock a place is told to be on."""
    words = {word for said in together(facts.of(FACES, key)) for word in said.words}
    if words:
        return _WORDS.get(next(iter(words)), RockPart.TOP) if len(words) == 1 else RockPart.TOP
    slope = next((said.best for said in together(facts.of(SLOPE, key)) if said.best is not None), 0.0)
    if slope < numbers.side_deg:
        return RockPart.TOP
    return RockPart.SIDE if slope < numbers.under_deg else RockPart.UNDERSIDE


@lru_cache(maxsize=4)
def _lies(
    rocks: tuple[Rock, ...],
    glass: Glass,
    told: tuple[tuple[str, Box, bool, RockPart], ...],
    numbers: PlaceNumbers,
) -> Mapping[str, Lies]:
    """How places lie."""
    from advisor.fields.places import Look  # brings a mesh library, which most tanks never need
    from advisor.fields.rock_bodies import body_of
    from advisor.fields.rooms import room_of
    from advisor.fields.steep import GRID_SIDE_DEG, GRID_UNDER_DEG

    bodies = {rock.id: body for rock in rocks if (body := body_of(rock.body)) is not None}
    look = Look(numbers.patch_cm, numbers.reach_cm, numbers.side_deg, numbers.under_deg)
    of_grid = replace(look, side_deg=GRID_SIDE_DEG, under_deg=GRID_UNDER_DEG)
    by_key: dict[str, list[Lie | None]] = {}
    for parted_by, sampled in ((look, False), (of_grid, True)):
        points = [
            (key, point, part)
            for key, box, exact, part in told
            for point in _points(box, exact)
            if exact is sampled
        ]
        where, parts = [point for _, point, _ in points], [part for *_, part in points]
        found = _found(where, parts, bodies, room_of(glass), parted_by)
        for (key, *_), lie in zip(points, found, strict=True):
            by_key.setdefault(key, []).append(lie)
    return {
        key: tuple(lie for lie in lies if lie is not None)
        for key, lies in by_key.items()
        if lies[0] is not None
    }


def _found(
    points: Sequence[Point], parts: Sequence[RockPart], bodies: Mapping[str, Body], room: Room, look: Look
) -> list[Lie | None]:
    """How the rock or floor nearest to each point lies, of the part that is looked for."""
    from advisor.fields.places import lies_near

    level = [row for row, part in enumerate(parts) if part is RockPart.TOP]
    steep = [row for row, part in enumerate(parts) if part is not RockPart.TOP]
    found: list[Lie | None] = [None] * len(points)
    near = lies_near([points[row] for row in level], bodies, room, look, SNAP_CM)
    for row, lie in zip(level, near, strict=True):
        found[row] = lie
    if steep:
        from advisor.fields.steep import steep_lies_at

        wanted = [parts[row] for row in steep]
        beside = steep_lies_at([points[row] for row in steep], wanted, bodies, room, look, SNAP_CM)
        for row, lie in zip(steep, beside, strict=True):
            found[row] = lie
    return found


def _points(box: Box, exact: bool) -> list[Point]:
    """The middle of a position, and points as far off as it leaves open; none where it is too loose."""
    ends = (box.x, box.y, box.z)
    x, y, z = ((low + high) / 2.0 for low, high in ends)
    wide = max(high - low for low, high in ends) / 2.0
    if wide > LOOSE_CM:
        return []
    if exact:
        return [(x, y, z)]
    wide = max(wide, _BY_HAND_CM)
    return [(x, y, z), (x + wide, y, z), (x - wide, y, z), (x, y + wide, z), (x, y - wide, z)]
