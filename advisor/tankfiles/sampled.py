"""Places a keeper did not name: a grid over all rocks and the floor, where the tank file asks for one."""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.fields.places import Lie, Look, count_every, places_every
from advisor.fields.rock_bodies import body_of
from advisor.fields.rooms import room_of
from advisor.model.tank import Box, Glass, Rock, Spot
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.nodes import Node
from advisor.tankfiles.surroundings import read_length_cm
from advisor.units import format_number

MOST_PLACES = 400
"""More are never wanted, and every one is judged by every rule."""
FLOOR = "floor"
"""How places on the bare floor are called."""
_MOST_LINES = 20_000
_CLOSEST_CM = 1.0
_LOOK = Look(patch_cm=2.0, reach_cm=8.0)
"""Half the width of what a frag stands on: nothing is put nearer to the glass or to the surface."""


def sampled_spots(
    node: Node, rocks: Sequence[Rock], glass: Glass | None, reading: Reading
) -> tuple[Spot, ...]:
    """Return the places of a grid as spots whose ids say where they are; faults are noted.

    Parameters
    ----------
    node
        What the tank file says of how far apart they shall be.
    glass
        Inside measures; without them there is no grid.
    reading
        Ledger, and the ids taken so far; the new ones are added.
    """
    spacing = read_length_cm(node, "places every", reading)
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
    room = room_of(glass)
    lines = count_every(room, spacing)
    bodies = {rock.id: body for rock in rocks if (body := body_of(rock.body)) is not None}
    found = () if lines > _MOST_LINES else places_every(bodies, room, spacing, _LOOK)
    number = lines if lines > _MOST_LINES else len(found)
    if number > MOST_PLACES:
        wider = math.ceil(spacing * math.sqrt(number / MOST_PLACES) * 2.0) / 2.0
        what = (
            f"places every {format_number(spacing)} cm would be {number}, more than the {MOST_PLACES} I judge"
        )
        reading.ledger.note("place-155", what, node.span, mend=f"places every: {format_number(wider)} cm")
        return ()
    return _spots(found, node, reading)


def _spots(found: Sequence[Lie], node: Node, reading: Reading) -> tuple[Spot, ...]:
    """Places as spots; of two whose ids would be the same, or one that is taken, only the first is kept."""
    spots = {}
    taken = {*reading.names.taken}
    for lie in found:
        x, y, z = (round(each) for each in lie.at_cm)
        name = f"{lie.rock or FLOOR}-{x}-{y}-{z}"
        if name in spots or name in taken:
            continue
        box = Box(x=(lie.at_cm[0],) * 2, y=(lie.at_cm[1],) * 2, z=(lie.at_cm[2],) * 2)
        place = f"{x}, {y}, {z} cm"
        spots[name] = Spot(id=name, box=box, rock=lie.rock, place=place, sampled=True, span=node.span)
        reading.names.spots[name] = node.span
    return tuple(spots.values())
