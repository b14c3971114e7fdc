"""Lamps and water as told, turned into what the light model reckons with."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from advisor.fields.emitters import Emitters, panel, tube
from advisor.fields.lobes import Lobe, cosine_lobe, tabled_lobe
from advisor.fields.mirrors import Walls as Mirrors
from advisor.fields.spectra import Fading, daylight, kd_of, spectrum_of, steady
from advisor.fields.tank_light import Water
from advisor.fields.wall_sides import SIDES, wall_sides
from advisor.model.lighting import Colour, LampForm, Walls, WallState, WaterLook
from advisor.model.tank import Glass, Lamp
from advisor.reasoning.light_numbers import LightNumbers

JERLOV_TYPES = {WaterLook.CLEAR: "IB", WaterLook.YELLOWED: "1C", WaterLook.CLOUDY: "3C"}
"""The sea water a tank is like, for lamps whose spectrum is told; see the numbers of the light model."""
_MAY_SHINE = (None, WallState.CLEAN)


def water_of(
    glass: Glass, lamps: Sequence[Lamp], look: WaterLook, numbers: LightNumbers, *, boxed: bool = False
) -> Water:
    """Return the water as light sees it, and for what sand throws back as its lamps together fade in it.

    Only flat walls at right angles are mirrors the model can follow, so others throw nothing back;
    `boxed` has every side of the box around the tank as a flat wall in their stead.
    """
    share = {
        WallState.FILMED: numbers.filmed_share,
        WallState.OVERGROWN: numbers.overgrown_share,
        WallState.PAINTED: numbers.painted_share,
    }
    told, flat = by_side(glass.walls), SIDES if boxed else wall_sides(glass).flat
    thrown = {side: None if state is None else share.get(state) for side, state in told.items()}
    sides = [thrown[side] if side in flat else 0.0 for side in SIDES]
    surface = glass.height_cm if glass.water_cm is None else glass.water_cm
    kd = kd_per_m(lamps, look, numbers)
    return Water(Mirrors(glass.length_cm, glass.width_cm, *sides), surface, numbers.water_index, kd)


def kd_per_m(lamps: Sequence[Lamp], look: WaterLook, numbers: LightNumbers) -> float:
    """Return how the light of all lamps together fades over its first metre, as white light without lamps."""
    sent = [photons_of(lamp, numbers) * lamp.body.output_percent for lamp in lamps]
    if not any(sent):
        return steady_kd_per_m(None, look, numbers)
    left = [float(fading_of(lamp, look, numbers).left(np.ones(1))[0]) for lamp in lamps]
    return float(-np.log(np.average(left, weights=sent)))


def fading_of(lamp: Lamp, look: WaterLook, numbers: LightNumbers) -> Fading:
    """Return how water takes of the light of a lamp, by its spectrum, by daylight, or by a word for it.

    What the sea takes of each colour is made more or less alike for all colours, until a metre of it takes
    of daylight what the rule files say that a metre of the tank's water takes of white light.
    """
    if not lamp.body.spectrum and lamp.body.colour is not Colour.DAYLIGHT:
        return steady(steady_kd_per_m(lamp.body.colour, look, numbers))
    light = spectrum_of(lamp.body.spectrum) if lamp.body.spectrum else daylight()
    sea = kd_of(JERLOV_TYPES[look])
    loses = -math.log(float(daylight().fading_in(sea).left(np.ones(1))[0]))
    return light.fading_in(sea * (steady_kd_per_m(Colour.WHITE, look, numbers) / loses))


def steady_kd_per_m(colour: Colour | None, look: WaterLook, numbers: LightNumbers) -> float:
    """Return the attenuation of blue or of white light; a colour that nobody told fades as white. [1/m]"""
    blue = {
        WaterLook.CLEAR: numbers.blue_kd_per_m,
        WaterLook.YELLOWED: numbers.yellowed_blue_kd_per_m,
        WaterLook.CLOUDY: numbers.cloudy_blue_kd_per_m,
    }
    white = {
        WaterLook.CLEAR: numbers.white_kd_per_m,
        WaterLook.YELLOWED: numbers.yellowed_white_kd_per_m,
        WaterLook.CLOUDY: numbers.cloudy_white_kd_per_m,
    }
    return (blue if colour is Colour.BLUE else white)[look]


def by_side(walls: Walls) -> dict[str, WallState | None]:
    """Return what is told of each wall, by its side."""
    return {"left": walls.left, "right": walls.right, "front": walls.front, "back": walls.back}


def cut_off_share(glass: Glass) -> float:
    """Return the share of the walls that may be clean and cut corners off sides taken as mirrors. [1]"""
    told, sides = by_side(glass.walls), wall_sides(glass)
    return sum(share for side, share in sides.rest if side in sides.flat and told[side] in _MAY_SHINE)


def walls_estimated(glass: Glass) -> tuple[str, ...]:
    """Return which walls no light is followed over, and what that means; nothing where all are followed."""
    sides = wall_sides(glass)
    if not sides.rest:
        return ()
    flat = [side for side in SIDES if side in sides.flat]
    over = f"light is followed over its {_and(flat)} wall{'s' * (len(flat) > 1)}; " if flat else ""
    what, dull = ("the rest throws", "it is dull") if flat else ("its walls throw", "they are dull")
    told = by_side(glass.walls)
    clean = any(told[side] in _MAY_SHINE for side, _ in sides.rest)
    result = "and the error is wider" if clean else f"which is little: {dull}"
    return (f"the glass is no box: {over}what {what} back is estimated by a box around it, {result}",)


def _and(words: Sequence[str]) -> str:
    """Words in a row, and between the last two."""
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)


def emitters_of(
    lamp: Lamp,
    surface_cm: float,
    fading: Fading,
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
        return replace(tube(middle, body.length_cm, flux, body.turned_deg), fading=fading)
    lobe = lobe_of(lamp, numbers, beam)
    return replace(panel(middle, body.length_cm, body.width_cm, flux, lobe, body.turned_deg), fading=fading)


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
