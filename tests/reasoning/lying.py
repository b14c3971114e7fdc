"""A small tank with rocks of told shapes for the tests of how places lie. Invented."""

from __future__ import annotations

from functools import lru_cache

from advisor.language.library import Library
from advisor.model.lighting import RockBody, RockShape
from advisor.model.tank import Animal, Fact, Glass, Rock, Spot, Tank
from tests.reasoning.survey_samples import RULES, library, point, spot, tank

GLASS = Glass(length_cm=120.0, width_cm=60.0, height_cm=50.0, water_cm=46.0)


def rock(name: str, shape: RockShape, middle: tuple[float, float], size: tuple[float, float, float],
         foot: float = 0.0) -> Rock:  # fmt: skip
    """Return a rock with a shape."""
    body = RockBody(shape=shape, middle_cm=middle, size_cm=size, foot_cm=foot)
    return Rock(id=name, body=body)


BLOCK = rock("block", RockShape.BLOCK, (30.0, 30.0), (20.0, 20.0, 10.0))
ROOF = rock("roof", RockShape.SHELF, (30.0, 30.0), (30.0, 30.0, 4.0), foot=20.0)
HEAP = rock("heap", RockShape.HEAP, (80.0, 30.0), (40.0, 40.0, 20.0))
SPOTS = (
    spot("top", point(30.0, 30.0, 12.0)),
    spot("rim", point(39.0, 30.0, 10.0)),
    spot("roof-top", point(30.0, 30.0, 24.0)),
    spot("flank", point(90.0, 30.0, 11.0)),
    spot("sand", point(55.0, 10.0, 0.0)),
    spot("midwater", point(55.0, 10.0, 30.0)),
)


@lru_cache
def lying_library(house: str = "") -> Library:
    """Return the shipped vocabulary and the numbers for places, with invented cards."""
    numbers = (RULES / "places.rules").read_text(encoding="utf-8").replace("edition 1\n", "", 1)
    return library(numbers, house)


def lying(
    *facts: Fact,
    rocks: tuple[Rock, ...] = (BLOCK, ROOF, HEAP),
    spots: tuple[Spot, ...] = SPOTS,
    animals: tuple[Animal, ...] = (),
    glass: Glass | None = GLASS,
) -> Tank:
    """Return a tank of 120 x 60 x 50 cm with a block under a roof, and a heap."""
    bare = tank(spots, animals, facts)
    return bare.model_copy(update={"glass": glass, "rocks": rocks, "told": ("rock",)})
