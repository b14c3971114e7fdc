from __future__ import annotations

from dataclasses import replace

from advisor.model.computed import PLACE_LETS
from advisor.reasoning.place_numbers import PlaceNumbers, place_numbers
from tests.reasoning.lying import lying_library


def test_lengths_and_angles_stay_and_percent_become_shares() -> None:
    assert place_numbers(lying_library()) == PlaceNumbers(
        patch_cm=3.0, tilted_deg=25.0, side_deg=60.0, under_deg=120.0, over_cm=25.0, reach_cm=8.0,
        cave=0.6, crevice=0.7, drop_cm=3.0, touch_cm=1.0, apart_cm=4.0,
    )  # fmt: skip


def test_a_house_line_moves_a_number() -> None:
    house = 'house\n  change tilted-from from 25 degrees to 15 degrees\n    because "my frags slide"'
    numbers = place_numbers(lying_library(house))
    assert numbers is not None
    assert numbers.tilted_deg == 15.0


def test_rules_that_lack_one_number_put_no_place_into_words() -> None:
    whole = lying_library()
    for name in sorted(PLACE_LETS):
        less = {key: let for key, let in whole.lets.items() if key != name}
        assert place_numbers(replace(whole, lets=less)) is None
