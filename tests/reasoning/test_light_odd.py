"""Readings that all others contradict: one of many is set aside, and nothing where nobody can tell."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.reasoning.light_field import LightField
from advisor.reasoning.light_odd import parted
from advisor.reasoning.light_values import LightReading
from tests.reasoning.test_light_field import field

ODD_FROM = 3.0
PLACES = [(x, y, z) for x in (15.0, 35.0, 55.0, 75.0) for y in (12.0, 33.0) for z in (5.0, 20.0)]


def read(count: int, wrong: dict[int, float]) -> LightField:
    """A field with readings as the lamps would give, some of them so many times too bright."""
    model = field().at(np.array(PLACES[:count]))
    readings = [
        LightReading(f"r{row}", PLACES[row], here.model * wrong.get(row, 1.0), 0.06, 0.0)
        for row, here in enumerate(model)
    ]
    return field(*readings)


def test_one_misread_of_many_is_set_aside_and_no_longer_pulls() -> None:
    pulled, right = read(8, {3: 0.2}), read(8, {})
    kept, (odd,) = parted(pulled, ODD_FROM)
    assert odd.reading.label == "r3"
    assert odd.deviations < -ODD_FROM
    assert [each.label for each in kept.readings] == [f"r{row}" for row in (0, 1, 2, 4, 5, 6, 7)]
    there = np.array([PLACES[3]])
    truth, mended, before = (each.at(there)[0].best for each in (right, kept, pulled))
    assert mended == pytest.approx(truth, rel=0.1)
    assert before < 0.8 * truth
    assert odd.expected == pytest.approx(mended, rel=0.02)


def test_readings_that_agree_all_count() -> None:
    agreeing = read(8, {})
    assert parted(agreeing, ODD_FROM) == (agreeing, ())


def test_of_three_nobody_can_say_which_is_wrong() -> None:
    few = read(3, {1: 0.1})
    assert parted(few, ODD_FROM) == (few, ())


def test_where_many_disagree_none_is_set_aside() -> None:
    torn = read(8, {0: 0.2, 2: 5.0, 4: 0.2, 6: 5.0})
    assert parted(torn, ODD_FROM) == (torn, ())


def test_a_field_without_readings_stays_as_it_is() -> None:
    bare = field()
    assert parted(bare, ODD_FROM) == (bare, ())
