"""Lamps and water as told, and what is reckoned with where something is not told."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.spectra import steady
from advisor.model.lighting import Colour, LampForm, Walls, WallState, WaterLook
from advisor.reasoning.light_lamps import (
    JERLOV_TYPES,
    cut_off_share,
    emitters_of,
    fading_of,
    kd_per_m,
    lobe_of,
    photons_of,
    strength_doubt,
    walls_estimated,
    water_of,
)
from advisor.reasoning.light_numbers import LightNumbers, light_numbers
from tests.reasoning.lit import GLASS, lamp, lit_library

CLEAR = WaterLook.CLEAR
AS_TOLD = steady(0.1)
CHART = ((400.0, 5.0), (430.0, 40.0), (450.0, 100.0), (470.0, 40.0), (520.0, 0.0))


def numbers() -> LightNumbers:
    found = light_numbers(lit_library())
    assert found is not None
    return found


def test_a_lamp_sends_what_it_is_set_to_and_what_its_age_has_left() -> None:
    new, aged = (emitters_of(lamp(), 45.0, AS_TOLD, numbers(), kept=kept) for kept in (1.0, 0.5))
    assert aged.flux_umol_per_s == pytest.approx(new.flux_umol_per_s / 2.0)
    full, half = (
        emitters_of(lamp(output_percent=share), 45.0, AS_TOLD, numbers()) for share in (100.0, 50.0)
    )
    assert full.flux_umol_per_s * len(full.at_cm) == pytest.approx(200.0)
    assert half.flux_umol_per_s == pytest.approx(full.flux_umol_per_s / 2.0)


def test_a_lamp_hangs_over_the_water_not_over_the_glass() -> None:
    assert set(emitters_of(lamp(), 45.0, AS_TOLD, numbers()).at_cm[:, 2]) == {65.0}
    assert set(emitters_of(lamp(), 45.0, AS_TOLD, numbers(), raised_cm=2.0).at_cm[:, 2]) == {67.0}


def test_a_tube_has_no_lobe_and_a_table_of_angles_is_one() -> None:
    assert emitters_of(lamp(form=LampForm.TUBE, length_cm=60.0), 45.0, AS_TOLD, numbers()).lobe is None
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


def test_blue_and_white_lamps_fade_each_by_its_own_colour() -> None:
    white, blue = lamp("other", colour=Colour.WHITE), lamp()
    sent = emitters_of(white, 45.0, fading_of(white, CLEAR, numbers()), numbers())
    assert sent.fading is not None
    assert sent.fading.left(np.array([1.0])) == pytest.approx([np.exp(-numbers().white_kd_per_m)])
    assert kd_per_m([blue], CLEAR, numbers()) == pytest.approx(numbers().blue_kd_per_m)
    both = kd_per_m([blue, white], CLEAR, numbers())
    assert numbers().blue_kd_per_m < both < numbers().white_kd_per_m
    assert water_of(GLASS, [blue], CLEAR, numbers()).kd_per_m == pytest.approx(numbers().blue_kd_per_m)


def test_lamps_that_are_off_fade_as_white_light() -> None:
    assert kd_per_m([lamp(output_percent=0.0)], CLEAR, numbers()) == numbers().white_kd_per_m


@pytest.mark.parametrize("body", [{"colour": Colour.BLUE}, {"colour": None}, {"spectrum": CHART},
                                  {"colour": Colour.DAYLIGHT}])  # fmt: skip
def test_the_duller_the_water_looks_the_more_it_takes(body: dict[str, object]) -> None:
    left = [fading_of(lamp("one", **body), look, numbers()).left(np.array([0.5]))[0] for look in JERLOV_TYPES]
    assert left == sorted(left, reverse=True)
    assert len(set(left)) == 3


def test_a_told_spectrum_counts_before_a_word_for_it() -> None:
    told = fading_of(lamp(spectrum=CHART, colour=Colour.WHITE), CLEAR, numbers())
    word = fading_of(lamp(colour=Colour.WHITE), CLEAR, numbers())
    assert told.left(np.array([1.0]))[0] > word.left(np.array([1.0]))[0]


def test_walls_throw_back_by_what_is_on_them() -> None:
    walls = Walls(left=WallState.CLEAN, back=WallState.OVERGROWN)
    found = water_of(GLASS.model_copy(update={"walls": walls}), [lamp()], CLEAR, numbers()).walls
    assert (found.left, found.right, found.back) == (None, None, numbers().overgrown_share)


def test_glass_without_a_water_height_is_full() -> None:
    assert water_of(GLASS, [], CLEAR, numbers()).surface_cm == 45.0
    full = GLASS.model_copy(update={"water_cm": None})
    assert water_of(full, [], CLEAR, numbers()).surface_cm == 50.0


LEVER = ((0.0, 0.0), (90.0, 0.0), (90.0, 20.0), (45.0, 20.0), (45.0, 45.0), (0.0, 45.0))
CUT = ((0.0, 0.0), (84.0, 0.0), (90.0, 8.0), (90.0, 45.0), (0.0, 45.0))


def test_walls_that_are_no_mirrors_throw_nothing_back_but_by_the_box_around_them() -> None:
    lever = GLASS.model_copy(update={"outline_cm": LEVER, "walls": Walls(back=WallState.PAINTED)})
    found = water_of(lever, [lamp()], CLEAR, numbers()).walls
    assert (found.left, found.right, found.front, found.back) == (None, 0.0, None, 0.0)
    found = water_of(lever, [lamp()], CLEAR, numbers(), boxed=True).walls
    assert (found.left, found.right, found.front) == (None, None, None)
    assert found.back == numbers().painted_share
    assert walls_estimated(GLASS) == ()
    said = "over its left and front walls; what the rest throws back is estimated by a box around it"
    assert said in walls_estimated(lever)[0]


def test_of_corners_cut_off_only_those_that_may_be_clean_count() -> None:
    cut = GLASS.model_copy(update={"outline_cm": CUT})
    assert cut_off_share(GLASS) == cut_off_share(GLASS.model_copy(update={"outline_cm": LEVER})) == 0.0
    assert cut_off_share(cut) == pytest.approx(10.0 / (84.0 + 10.0 + 37.0 + 90.0 + 45.0))
    assert cut_off_share(cut.model_copy(update={"walls": Walls(right=WallState.PAINTED)})) == 0.0
