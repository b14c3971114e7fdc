"""The light on the surface of one place, where it is tilted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np

from advisor.model.lightanswer import FaceLight
from advisor.model.tank import Lamp
from advisor.reasoning.light_places import UP
from advisor.reasoning.light_world import LightWorld

TILTED_DEG = 20.0
"""A face nearer to level gets within about a tenth what a level sensor reads: it is not told apart."""
_UPRIGHT_DEG = 90.0
Side = Literal["right", "back", "left", "front", ""]
_SIDES: tuple[Side, ...] = ("right", "back", "left", "front")


def face_light(world: LightWorld, key: str, changed: Mapping[str, Lamp]) -> FaceLight | None:
    """Return the light on the surface of a place, None where it is level or not known to be tilted.

    Parameters
    ----------
    changed
        Lamps as they would be.
    """
    face, here = world.faces.get(key), world.on_faces([key]).get(key)
    if face is None or here is None or face.slope_deg <= TILTED_DEG or world.field is None:
        return None
    times = 1.0
    if changed:
        ways = np.array(face.ways())
        points = np.tile(world.points[key].at_cm, (len(ways), 1))
        times = float(world.field.times_on_faces(points, ways, changed).mean())
    facing = face.facing_deg
    steep = world.points[key].outward != UP
    return FaceLight(
        slope_deg=face.slope_deg,
        side="" if facing is None else _SIDES[round(facing / _UPRIGHT_DEG) % len(_SIDES)],
        low=here.low * times,
        best=None if here.best is None else here.best * times,
        high=here.high * times,
        sand_percent=100.0 * here.sand,
        set_onto="" if not steep else "underside" if face.under else "side",
        counts=face.under,
    )


def no_sand(world: LightWorld, face: FaceLight | None) -> tuple[str, ...]:
    """Return what is to be said of the light on a face that looks down where no sand is told."""
    if face is None or face.slope_deg <= _UPRIGHT_DEG or world.sandy:
        return ()
    return ("no sand is told, so what the floor throws up is left out: sand: fine",)
