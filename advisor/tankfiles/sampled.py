"""Places a keeper did not name: a grid over all rocks and the floor, where the tank file asks for one."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from advisor.fields.places import Lie, Look, count_every, places_every, side_of
from advisor.fields.rock_bodies import body_of
from advisor.fields.rock_shapes import Body
from advisor.fields.rooms import room_of
from advisor.fields.steep import GRID_SIDE_DEG, GRID_UNDER_DEG, part_of, steep_places_every
from advisor.model.tank import Box, Glass, Rock, RockPart, Spot
from advisor.tankfiles.entries import Reading, as_list
from advisor.tankfiles.ledger import try_closest
from advisor.tankfiles.nodes import Node, Scalar
from advisor.tankfiles.said import is_unknown
from advisor.tankfiles.surroundings import read_length_cm
from advisor.units import format_number

MOST_PLACES = 400
"""More are never wanted, and every one is judged by every rule."""
FLOOR = "floor"
"""How places on the bare floor are called."""
_MOST_LINES = 20_000
_CLOSEST_CM = 1.0
_HALF_CM = 0.5
_PARTS = {word: part for part in RockPart for word in (part.value, f"{part.value}s")}
_PART_WORDS = tuple(f"{part.value}s" for part in RockPart)
"""What `places on` may say; a top is all that looks up, the floor too."""
_LOOK = Look(patch_cm=2.0, reach_cm=8.0, side_deg=GRID_SIDE_DEG, under_deg=GRID_UNDER_DEG)
"""Half the width of what a frag stands on: nothing is put nearer to the glass or to the surface."""


def sampled_spots(
    node: Node, on: Node | None, rocks: Sequence[Rock], glass: Glass | None, reading: Reading
) -> tuple[Spot, ...]:
    """Return the places of a grid as spots whose ids say where they are; faults are noted.

    Parameters
    ----------
    node
        What the tank file says of how far apart they shall be.
    on
        What it says of the parts of rocks they shall be on; without it they are on the tops.
    glass
        Inside measures; without them there is no grid.
    reading
        Ledger, and the ids taken so far; the new ones are added.
    """
    spacing, parts = read_length_cm(node, "places every", reading), _parts(on, reading)
    if spacing is None:
        return ()
    if glass is None:
        what = "places every needs the glass"
        reading.ledger.note("key-123", what, node.span, mend="glass: 120 x 60 x 50 cm")
        return ()
    if spacing < _CLOSEST_CM:
        what = f"places every {format_number(spacing)} cm lie closer than anything can stand"
        reading.ledger.note("value-132", what, node.span, mend="places every: 5 cm")
        return ()
    bodies = {rock.id: body for rock in rocks if (body := body_of(rock.body)) is not None}
    grid = _Grid(bodies, glass, parts)
    number = grid.count(spacing)
    if number > MOST_PLACES:
        wider = grid.wider(spacing, number)
        what = (
            f"places every {format_number(spacing)} cm would be {number}, more than the {MOST_PLACES} I judge"
        )
        reading.ledger.note("place-155", what, node.span, mend=f"places every: {format_number(wider)} cm")
        return ()
    return _spots(grid.places(spacing), node, reading)


def _parts(on: Node | None, reading: Reading) -> tuple[RockPart, ...]:
    """The parts of rocks that places are wanted on; a word nobody knows is noted and left out."""
    if on is None or is_unknown(on) or (isinstance(on, Scalar) and on.blank):
        return (RockPart.TOP,)
    found: set[RockPart] = set()
    for item in as_list(on):
        word = item.text.strip().lower() if isinstance(item, Scalar) else ""
        part = _PARTS.get(word)
        if part is None:
            reading.ledger.note(
                "value-133",
                f"places are on {', '.join(_PART_WORDS)}, not on '{word or 'a list'}'",
                item.span,
                label="expected a part of rocks",
                mend=try_closest(word, _PART_WORDS, ", ".join(_PART_WORDS)),
            )
        else:
            found.add(part)
    return tuple(part for part in RockPart if part in found) or (RockPart.TOP,)


@dataclass(eq=False)
class _Grid:
    """Places over the rocks and the floor of a tank, as far apart as one likes."""

    bodies: Mapping[str, Body]
    glass: Glass
    parts: tuple[RockPart, ...]

    def places(self, spacing_cm: float) -> tuple[Lie, ...]:
        """All places of the parts that are wanted."""
        room = room_of(self.glass)
        level = places_every(self.bodies, room, spacing_cm, _LOOK) if RockPart.TOP in self.parts else ()
        steep = [part for part in self.parts if part is not RockPart.TOP]
        return (*level, *(steep_places_every(self.bodies, room, spacing_cm, _LOOK, steep) if steep else ()))

    def count(self, spacing_cm: float) -> int:
        """How many they are; where even their lines are too many, how many lines."""
        lines = count_every(room_of(self.glass), spacing_cm)
        return lines if lines > _MOST_LINES else len(self.places(spacing_cm))

    def wider(self, spacing_cm: float, number: int) -> float:
        """A distance at which they are few enough."""
        wider = _next_half(spacing_cm * math.sqrt(number / MOST_PLACES))
        while self.count(wider) > MOST_PLACES:
            wider += _HALF_CM
        return wider


def _next_half(value: float) -> float:
    """The next half centimetre."""
    return math.ceil(value / _HALF_CM) * _HALF_CM


def _spots(found: Sequence[Lie], node: Node, reading: Reading) -> tuple[Spot, ...]:
    """Places as spots; of two whose ids would be the same, or one that is taken, only the first is kept."""
    spots = {}
    taken = {*reading.names.taken}
    for lie in found:
        x, y, z = (round(each) for each in lie.at_cm)
        part = part_of(lie.slope_deg, _LOOK) if lie.front_cm is not None else RockPart.TOP
        name = f"{_whose(lie, part)}-{x}-{y}-{z}"
        if name in spots or name in taken:
            continue
        box = Box(x=(lie.at_cm[0],) * 2, y=(lie.at_cm[1],) * 2, z=(lie.at_cm[2],) * 2)
        place = f"{x}, {y}, {z} cm"
        spots[name] = Spot(
            id=name, box=box, rock=lie.rock, place=place, sampled=True, part=part, span=node.span
        )
        reading.names.spots[name] = node.span
    return tuple(spots.values())


def _whose(lie: Lie, part: RockPart) -> str:
    """What a place is on, in words: a rock or the floor, and which part of the rock."""
    if part is RockPart.TOP:
        return lie.rock or FLOOR
    if part is RockPart.UNDERSIDE or lie.facing_deg is None:
        return f"{lie.rock}-{RockPart.UNDERSIDE}"
    return f"{lie.rock}-facing-{side_of(lie.facing_deg)}"
