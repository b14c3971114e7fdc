"""Light at two thousand places of a full tank, against the bare geometry of its rays, in one run.

Not a timed test, as in `test_evaluator`: what is held is a ratio. By hand
stands one unshaded straight ray from each emitter to every place over each
image of the walls, without refraction or loss: the least any model must do.
A model that went through places one by one, or cast every ray at every body
alone, would be far outside.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt

from advisor.fields.emitters import Emitters, panel
from advisor.fields.lobes import cosine_lobe
from advisor.fields.mirrors import FOLDS, Walls, images_cm
from advisor.fields.rock_shapes import rock_body
from advisor.fields.shadows import Occluder, Shadows, shadows
from advisor.fields.tank_light import Water, light_at
from advisor.model.lighting import RockShape
from tests.benchmarks.test_evaluator import best_of

Floats = npt.NDArray[np.float64]

PLACES, COLONIES = 2000, 30
WATER = Water(Walls(120.0, 60.0), 55.0, 1.34, 0.06)
GENEROUS = 60.0
"""How many times longer than the bare geometry it may take."""


@cache
def tank() -> tuple[Floats, list[Emitters], Shadows]:
    """Return places over four rocks with thirty colonies below two panels of 24 points each."""
    random = np.random.default_rng(7)
    rocks = [
        Occluder(f"rock-{at}", rock_body(RockShape.BOULDER, (x, 30.0), 0.0, (22.0, 26.0, 30.0)))
        for at, x in enumerate((18.0, 45.0, 75.0, 102.0))
    ]
    colonies = [
        Occluder(f"coral-{at}", rock_body(RockShape.BOULDER, tuple(xy), z, (8.0, 8.0, 4.0)), 0.08)
        for at, (xy, z) in enumerate(
            zip(
                random.uniform((8, 8), (112, 52), (COLONIES, 2)), random.uniform(2, 30, COLONIES), strict=True
            )
        )
    ]
    places = random.uniform((1.0, 1.0, 1.0), (119.0, 59.0, 40.0), (PLACES, 3))
    lobe = cosine_lobe(90.0)
    lamps = [panel((x, 30.0, 75.0), 30.0, 20.0, 350.0, lobe) for x in (35.0, 85.0)]
    assert sum(len(lamp.at_cm) for lamp in lamps) == 48
    return places, lamps, shadows([*rocks, *colonies])


def by_hand(places: Floats, lamps: list[Emitters]) -> Floats:
    """Return light by straight rays without refraction, loss or shadow."""
    images = images_cm(places[:, :2], WATER.walls)
    total = np.zeros(len(places))
    for lamp in lamps:
        for at in lamp.at_cm:
            apart = ((at[:2] - images) ** 2).sum(axis=2)
            height = at[2] - places[:, 2]
            far = apart + height**2
            cosine = height / np.sqrt(far)
            total += (lamp.flux_umol_per_s / np.pi * cosine**3 / far).sum(axis=0) * 1e4
    return total


def test_light_at_two_thousand_places_against_bare_geometry() -> None:
    places, lamps, shade = tank()
    lit = light_at(places, lamps, WATER, shade=shade)
    bare = by_hand(places, lamps)
    assert len(FOLDS) == 13
    assert np.isfinite(lit.par_umol).all()
    assert (lit.par_umol <= lit.open_by_lamp.sum(axis=0) * (1 + 1e-9)).all()
    # both rise and fall together where nothing is in the way
    assert np.corrcoef(np.log(bare), np.log(lit.open_by_lamp.sum(axis=0)))[0, 1] > 0.8
    ours = best_of(lambda: light_at(places, lamps, WATER, shade=shade))
    hand = best_of(lambda: by_hand(places, lamps))
    assert ours / hand < GENEROUS
