"""The light on the surface of one place, where it is tilted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np

from advisor.model.lightanswer import FaceLight, OwnReading
from advisor.model.tank import Lamp
from advisor.reasoning.light_places import UP
from advisor.reasoning.light_world import LightWorld

_UPRIGHT_DEG = 90.0
_LEAST = 1e-9
SIDE_UNTOLD = (
    "told to be a side, but nothing tells which way it slopes: this is for a sensor that looks up, and of the"
    " face nothing is known; tell slope: 90 degrees, or the shape of the rock"
)
UNDER_UNTOLD = (
    "told to be an underside, but no slope and no rock tells more: it is darker than this; tell slope: 180"
    " degrees, or the shape of the rock"
)
Side = Literal["right", "back", "left", "front", ""]
_SIDES: tuple[Side, ...] = ("right", "back", "left", "front")


def face_light(
    world: LightWorld, key: str, changed: Mapping[str, Lamp], least: float, read: OwnReading | None = None
) -> FaceLight | None:
    """Return the light on the surface of a place, None where that is not known or hardly other than level.

    Parameters
    ----------
    changed
        Lamps as they would be.
    least
        A face on which no way to look and no change of lamps makes more of a difference to a level one
        is not told apart; undersides always are. [1]
    read
        What was read with the sensor on that face; where both do not agree the range covers both.
    """
    face = world.faces.get(key)
    if world.field is None or face is None or key not in world.points:
        return None
    ways = np.array(face.ways())
    points = np.tile(world.points[key].at_cm, (len(ways), 1))
    found = world.field.on_faces(points, ways)
    if not found:
        return None
    times, level = np.ones(len(ways)), np.ones(1)
    if changed:
        times = world.field.times_on_faces(points, ways, changed)
        level = world.field.times(points[:1], changed)
    of_level = np.array([each.best for each in world.field.shares_on_faces(points, ways)])
    shares = np.concatenate([of_level, of_level * times / np.maximum(level, _LEAST)])
    if not face.under and bool((np.abs(shares - 1.0) <= least).all()):
        return None
    whole = min(each.low for each in found), max(each.high for each in found)
    beside = read is not None and not (read.low <= whole[1] and whole[0] <= read.high)
    ends = [(each.low, each.best, each.high) for each in found]
    if beside and read is not None:
        ends = [(min(low, read.low), read.best, max(high, read.high)) for low, _, high in ends]
    facing = face.facing_deg
    steep = world.points[key].outward != UP
    return FaceLight(
        slope_deg=face.slope_deg,
        side="" if facing is None else _SIDES[round(facing / _UPRIGHT_DEG) % len(_SIDES)],
        low=min(low * of_way for (low, *_), of_way in zip(ends, times, strict=True)),
        best=ends[0][1] * float(times[0]) if len(ends) == 1 else None,
        high=max(high * of_way for (*_, high), of_way in zip(ends, times, strict=True)),
        sand_percent=100.0 * sum(each.sand for each in found) / len(found),
        set_onto="" if not steep else "underside" if face.under else "side",
        counts=face.under,
    )


def untold_faces(world: LightWorld, key: str) -> tuple[str, ...]:
    """Return what is to be said of a place told to be a side or an underside of which no more is known."""
    if key in world.dark:
        return (UNDER_UNTOLD,)
    return (SIDE_UNTOLD,) if key in world.worded else ()


def no_sand(world: LightWorld, face: FaceLight | None) -> tuple[str, ...]:
    """Return what is to be said of the light on a face that looks down where no sand is told."""
    if face is None or face.slope_deg <= _UPRIGHT_DEG or world.sandy:
        return ()
    return ("no sand is told, so what the floor throws up is left out: sand: fine",)
