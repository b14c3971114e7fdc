"""Lamps and water as told, and what is reckoned with where something is not told."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.lighting import Colour, LampForm, Walls, WallState
from advisor.reasoning.light_lamps import emitters_of, lobe_of, photons_of, strength_doubt, water_of
from advisor.reasoning.light_numbers import LightNumbers, light_numbers
from tests.reasoning.lit import GLASS, lamp, lit_library


def numbers() -> LightNumbers:
    found = light_numbers(lit_library())
    assert found is not None
    return found


def test_a_lamp_sends_what_it_is_set_to_and_what_its_age_has_left() -> None:
    new, aged = (emitters_of(lamp(), 45.0, numbers(), kept=kept) for kept in (1.0, 0.5))
    assert aged.flux_umol_per_s == pytest.approx(new.flux_umol_per_s / 2.0)
    full, half = (emitters_of(lamp(output_percent=share), 45.0, numbers()) for share in (100.0, 50.0))
    assert full.flux_umol_per_s * len(full.at_cm) == pytest.approx(200.0)
    assert half.flux_umol_per_s == pytest.approx(full.flux_umol_per_s / 2.0)


def test_a_lamp_hangs_over_the_water_not_over_the_glass() -> None:
    assert set(emitters_of(lamp(), 45.0, numbers()).at_cm[:, 2]) == {65.0}
    assert set(emitters_of(lamp(), 45.0, numbers(), raised_cm=2.0).at_cm[:, 2]) == {67.0}


def test_a_tube_has_no_lobe_and_a_table_of_angles_is_one() -> None:
    assert emitters_of(lamp(form=LampForm.TUBE, length_cm=60.0), 45.0, numbers()).lobe is None
    table = lobe_of(lamp(angles=((0.0, 1.0), (30.0, 0.5), (60.0, 0.0))), numbers(), 1.0)
    down, aside = table.at(np.cos(np.radians([0.0, 30.0])))
    assert aside == pytest.approx(down / 2.0)


def test_photons_are_told_or_follow_from_the_watts() -> None:
    assert photons_of(lamp(), numbers()) == 200.0
    by_watts = lamp(photons_umol_per_s=None, watts=50.0)
    assert photons_of(by_watts, numbers()) == pytest.approx(50.0 * numbers().photons_per_watt)


def test_the_less_is_told_of_a_lamp_the_more_its_strength_is_in_doubt() -> None:
    told = (lamp(), lamp(photons_umol_per_s=None, watts=50.0), lamp(photons_umol_per_s=None))
    doubts = [strength_doubt(each, numbers()) for each in told]
    assert doubts == sorted(doubts)
    assert len(set(doubts)) == 3


def test_one_white_lamp_makes_the_water_dim_as_white_light_does() -> None:
    white = lamp("other", colour=Colour.WHITE)
    assert water_of(GLASS, [lamp()], numbers()).kd_per_m == numbers().blue_kd_per_m
    assert water_of(GLASS, [lamp(), white], numbers()).kd_per_m == numbers().white_kd_per_m


def test_walls_throw_back_by_what_is_on_them() -> None:
    walls = Walls(left=WallState.CLEAN, back=WallState.OVERGROWN)
    found = water_of(GLASS.model_copy(update={"walls": walls}), [lamp()], numbers()).walls
    assert (found.left, found.right, found.back) == (None, None, numbers().overgrown_share)


def test_glass_without_a_water_height_is_full() -> None:
    assert water_of(GLASS, [], numbers()).surface_cm == 45.0
    full = GLASS.model_copy(update={"water_cm": None})
    assert water_of(full, [], numbers()).surface_cm == 50.0
