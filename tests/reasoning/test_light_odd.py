"""Readings that all others contradict: one of many is set aside, and nothing where nobody can tell."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.lighting import WaterLook
from advisor.model.tank import Glass
from advisor.reasoning.light_field import LightField
from advisor.reasoning.light_odd import parted
from advisor.reasoning.light_values import LightReading
from tests.reasoning.lit import lamp
from tests.reasoning.test_light_field import field, numbers

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
    kept, (odd,) = parted(pulled, numbers())
    assert odd.reading.label == "r3"
    assert odd.deviations < -numbers().odd_from
    assert [each.label for each in kept.readings] == [f"r{row}" for row in (0, 1, 2, 4, 5, 6, 7)]
    there = np.array([PLACES[3]])
    truth, mended, before = (each.at(there)[0].best for each in (right, kept, pulled))
    assert mended == pytest.approx(truth, rel=0.1)
    assert before < 0.8 * truth
    assert odd.expected == pytest.approx(mended, rel=0.02)


def test_readings_that_agree_all_count() -> None:
    agreeing = read(8, {})
    assert parted(agreeing, numbers()) == (agreeing, ())


def test_of_three_nobody_can_say_which_is_wrong() -> None:
    few = read(3, {1: 0.1})
    assert parted(few, numbers()) == (few, ())


def test_where_many_disagree_none_is_set_aside() -> None:
    torn = read(8, {0: 0.2, 2: 5.0, 4: 0.2, 6: 5.0})
    assert parted(torn, numbers()) == (torn, ())


def test_a_field_without_readings_stays_as_it_is() -> None:
    bare = field()
    assert parted(bare, numbers()) == (bare, ())


def untold(seed: int) -> tuple[LightField, np.ndarray, np.ndarray]:
    """A field of two lamps of which one is told 20 cm off, readings of it, and truth elsewhere."""
    random = np.random.default_rng(seed)
    glass = Glass(length_cm=120.0, width_cm=50.0, height_cm=50.0, water_cm=45.0)

    def of(x: float, *readings: LightReading) -> LightField:
        hanging = [lamp("a", middle_cm=(30.0, 25.0)), lamp("b", middle_cm=(x, 25.0))]
        return LightField(
            glass, hanging, None, readings, numbers(), sand=False, look=WaterLook.CLEAR, meter_doubt=0.1
        )

    def somewhere(count: int) -> np.ndarray:
        return random.uniform((8.0, 8.0, 5.0), (112.0, 42.0, 30.0), (count, 3))

    at, elsewhere = somewhere(8), somewhere(20)
    noise = np.exp(random.normal(0.0, 0.06, 8))
    read = [
        LightReading(f"r{row}", tuple(at[row]), here.best * noise[row], 0.06, 1.0)
        for row, here in enumerate(of(90.0).at(at))
    ]
    return of(70.0, *read), elsewhere, np.array([here.best for here in of(90.0).at(elsewhere)])


def test_where_a_lamp_is_told_wrongly_a_reading_set_aside_makes_nothing_surer() -> None:
    parted_at_all, inside, with_all = 0, 0, 0
    for seed in range(12):
        all_in, elsewhere, truth = untold(seed)
        kept, odd = parted(all_in, numbers())
        if not odd:
            continue
        parted_at_all += 1
        for true, here, there in zip(truth, kept.at(elsewhere), all_in.at(elsewhere), strict=True):
            inside += here.low <= true <= here.high
            with_all += there.low <= true <= there.high
    assert parted_at_all > 1
    assert inside > with_all
