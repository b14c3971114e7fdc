"""The named numbers of the light model, as a logarithm or a share where the model wants one."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from advisor.model.computed import LIGHT_LETS
from advisor.reasoning.light_numbers import light_numbers
from tests.reasoning.lit import lit_library


def test_what_a_metre_takes_becomes_an_attenuation() -> None:
    numbers = light_numbers(lit_library())
    assert numbers is not None
    assert math.exp(-numbers.blue_kd_per_m) == pytest.approx(0.94)
    assert math.exp(-numbers.white_kd_per_m) == pytest.approx(0.85)


def test_percent_become_shares_and_lengths_stay() -> None:
    numbers = light_numbers(lit_library())
    assert numbers is not None
    assert (numbers.sand_share, numbers.meter_doubt, numbers.hand_waver_cm) == (0.35, 0.10, 1.5)


def test_a_house_line_moves_the_number() -> None:
    house = 'house\n  change meter-doubt from 10 % to 5 %\n    because "calibrated last week"'
    numbers = light_numbers(lit_library(house))
    assert numbers is not None
    assert numbers.meter_doubt == pytest.approx(0.05)


def test_rules_that_lack_one_number_have_no_model() -> None:
    whole = lit_library()
    for name in sorted(LIGHT_LETS):
        less = {key: let for key, let in whole.lets.items() if key != name}
        assert light_numbers(replace(whole, lets=less)) is None
