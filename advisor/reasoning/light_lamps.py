"""Lamps and water as told, turned into what the light model reckons with."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.fields.emitters import Emitters, panel, tube
from advisor.fields.lobes import Lobe, cosine_lobe, tabled_lobe
from advisor.fields.mirrors import Walls as Mirrors
from advisor.fields.tank_light import Water
from advisor.model.lighting import Colour, LampForm, WallState
from advisor.model.tank import Glass, Lamp
from advisor.reasoning.light_numbers import LightNumbers


def water_of(glass: Glass, lamps: Sequence[Lamp], numbers: LightNumbers) -> Water:
    """Return the water as light sees it; blue and white lamps together dim like the white ones."""
    share = {
        WallState.FILMED: numbers.filmed_share,
        WallState.OVERGROWN: numbers.overgrown_share,
        WallState.PAINTED: numbers.painted_share,
    }
    walls = glass.walls
    states = (walls.left, walls.right, walls.front, walls.back)
    sides = [None if state is None else share.get(state) for state in states]
    if glass.outline_cm:
        sides = [0.0] * len(sides)  # only flat walls at right angles are mirrors the model can follow
    blue = bool(lamps) and all(lamp.body.colour is Colour.BLUE for lamp in lamps)
    kd = numbers.blue_kd_per_m if blue else numbers.white_kd_per_m
    surface = glass.height_cm if glass.water_cm is None else glass.water_cm
    return Water(Mirrors(glass.length_cm, glass.width_cm, *sides), surface, numbers.water_index, kd)


def emitters_of(
    lamp: Lamp,
    surface_cm: float,
    numbers: LightNumbers,
    beam: float = 1.0,
    raised_cm: float = 0.0,
    kept: float = 1.0,
) -> Emitters:
    """Return a lamp as points that shine, with what its age has kept of what it sent when new."""
    body = lamp.body
    assert body.middle_cm is not None  # a lamp without a place is not asked
    assert body.over_water_cm is not None
    flux = photons_of(lamp, numbers) * kept * body.output_percent / 100.0
    middle = (*body.middle_cm, surface_cm + body.over_water_cm + raised_cm)
    if body.form is LampForm.TUBE:
        return tube(middle, body.length_cm, flux, body.turned_deg)
    return panel(middle, body.length_cm, body.width_cm, flux, lobe_of(lamp, numbers, beam), body.turned_deg)


def lobe_of(lamp: Lamp, numbers: LightNumbers, beam: float) -> Lobe:
    """Return how a lamp shines by direction; `beam` narrows or widens a beam told by its angle."""
    if lamp.body.angles:
        angles, shares = np.array(lamp.body.angles, np.float64).T
        return tabled_lobe(angles * min(beam, 1.0), shares)
    return cosine_lobe(min((lamp.body.beam_deg or numbers.beam_deg) * beam, 179.0))


def photons_of(lamp: Lamp, numbers: LightNumbers) -> float:
    """Return what a lamp sends at full output: told, by its watts, or for readings to find. [µmol/s]"""
    if lamp.body.photons_umol_per_s is not None:
        return lamp.body.photons_umol_per_s
    watts = lamp.body.watts if lamp.body.watts is not None else 100.0
    return watts * numbers.photons_per_watt


def strength_doubt(lamp: Lamp, numbers: LightNumbers) -> float:
    """Return how far the strength of a lamp may be off, by what is told of it."""
    if lamp.body.photons_umol_per_s is not None:
        return numbers.photons_doubt
    return numbers.watts_doubt if lamp.body.watts is not None else numbers.untold_doubt
