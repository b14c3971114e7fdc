"""A small lit tank for the tests of light. Invented; the numbers of the model are those that ship."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from advisor.language.library import Library
from advisor.model.lighting import Colour, LampBody, RockBody, RockShape
from advisor.model.tank import Animal, Fact, Glass, Lamp, Rock, Said, Spot, Tank
from tests.reasoning.survey_samples import RULES, TODAY, fact, library, point, spot, tank

READ_ON = date(2026, 10, 28)
GLASS = Glass(length_cm=90.0, width_cm=45.0, height_cm=50.0, water_cm=45.0)
METER = 'let unsure-meter-error = 20 %\n  because "factors differ"\n  source "a test" kind guess\n'
ROOF = Rock(
    id="roof",
    body=RockBody(shape=RockShape.SHELF, middle_cm=(70.0, 25.0), foot_cm=25.0, size_cm=(20.0, 20.0, 3.0)),
)
SPOTS = (
    spot("under", point(25.0, 22.0, 20.0)),
    spot("beside", point(40.0, 22.0, 20.0)),
    spot("far", point(80.0, 10.0, 5.0)),
    spot("cave", point(70.0, 25.0, 5.0)),
)


@lru_cache
def lit_library(house: str = "") -> Library:
    """Return the shipped vocabulary and light model, with invented cards."""
    model = (RULES / "light-model.rules").read_text(encoding="utf-8").replace("edition 1\n", "", 1)
    return library(model + "\n" + METER, house)


@lru_cache
def lit_places(house: str = "") -> Library:
    """Return that library with the numbers that put the lie of a place into words."""
    model, places = (
        (RULES / f"{name}.rules").read_text(encoding="utf-8").replace("edition 1\n", "", 1)
        for name in ("light-model", "places")
    )
    return library(f"{model}\n{METER}\n{places}", house)


def lamp(name: str = "lamp", **body: object) -> Lamp:
    """Return a lamp that hangs over the left half."""
    told: dict[str, object] = {
        "middle_cm": (25.0, 22.0), "over_water_cm": 20.0, "photons_umol_per_s": 200.0, "beam_deg": 90.0,
        "colour": Colour.BLUE,
    }  # fmt: skip
    return Lamp(id=name, body=LampBody.model_validate({**told, **body}))


def read(place: str, par: float, **more: object) -> Fact:
    """Return a reading of the light at a place."""
    return fact("light", place, **{"best": par, "on": READ_ON, "by": Said.INSTRUMENT, **more})


def lit(
    *facts: Fact,
    lamps: tuple[Lamp, ...] = (lamp(),),
    rocks: tuple[Rock, ...] = (),
    spots: tuple[Spot, ...] = SPOTS,
    animals: tuple[Animal, ...] = (),
    glass: Glass | None = GLASS,
) -> Tank:
    """Return a tank of 90 x 45 x 50 cm under a lamp."""
    bare = tank(spots, animals, facts)
    return bare.model_copy(update={"glass": glass, "lamps": lamps, "rocks": rocks})


DAY = TODAY
