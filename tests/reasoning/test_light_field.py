"""Light of a tank from lamps and readings: what each of them adds, and how sure it is."""

from __future__ import annotations

import math
from datetime import date

import numpy as np
import pytest

from advisor.model.lighting import WaterLook
from advisor.reasoning.light_age import AGELESS, LampAges
from advisor.reasoning.light_field import FADING, LightField
from advisor.reasoning.light_lamps import photons_of
from advisor.reasoning.light_numbers import LightNumbers, light_numbers
from advisor.reasoning.light_values import LightReading
from tests.reasoning.lit import GLASS, lamp, lit_library

HERE, NEAR, FAR = (25.0, 22.0, 20.0), (40.0, 22.0, 20.0), (80.0, 10.0, 5.0)
POINTS = np.array([HERE, NEAR, FAR])


def numbers() -> LightNumbers:
    found = light_numbers(lit_library())
    assert found is not None
    return found


def reading(
    at: tuple[float, float, float], par: float, label: str = "r", sd: float = 0.06, **shared: float
) -> LightReading:
    return LightReading(label, at, par, sd, 0.0, tuple(shared.items()))


def field(*readings: LightReading, lamps: int = 1, meter: float = 0.1, output: float = 100.0) -> LightField:
    hanging = [lamp(f"lamp-{at}", output_percent=output) for at in range(lamps)]
    return LightField(
        GLASS, hanging, None, readings, numbers(), sand=False, look=WaterLook.CLEAR, meter_doubt=meter
    )


def width(of: LightField, row: int = 0) -> float:
    here = of.at(POINTS)[row]
    return math.log(here.high / here.low)


def test_without_readings_the_lamps_alone_speak_and_say_how_unsure_they_are() -> None:
    here, near, far = field().at(POINTS)
    assert here.best == pytest.approx(here.model)
    assert here.low < here.best < here.high
    assert here.best > near.best > far.best


def test_a_lamp_at_half_gives_half() -> None:
    full, half = (field(output=share).at(POINTS)[0].best for share in (100.0, 50.0))
    assert half == pytest.approx(full / 2.0, rel=1e-6)


def test_a_reading_pulls_the_field_around_it_and_makes_it_surer() -> None:
    bare = field().at(POINTS)
    read = field(reading(HERE, bare[0].best * 0.6)).at(POINTS)
    assert read[0].best == pytest.approx(bare[0].best * 0.6, rel=0.08)
    # far off a wider beam would explain it as well as a weaker lamp, and would make it brighter there
    assert read[1].best / bare[1].best < 0.8 < read[2].best / bare[2].best < 1.0
    assert width(field(reading(HERE, 100.0))) < width(field())


def test_no_number_of_readings_removes_what_the_meter_may_be_off() -> None:
    bare = field().at(POINTS)[0].best
    many = [reading(HERE, bare, f"r-{at}") for at in range(40)]
    assert width(field(*many)) >= 2.0 * 1.6448 * 0.1
    assert width(field(*many, meter=0.2)) > width(field(*many))


def test_what_readings_may_be_off_together_no_number_of_them_removes() -> None:
    bare = field().at(POINTS)[0].best
    each, together = (
        [reading(HERE, bare, f"r-{at}", **{f"cause{at if own else ''}": 0.2}) for at in range(20)]
        for own in (True, False)
    )
    assert width(field(*each)) < width(field(*together))
    assert width(field(*together)) > 2.0 * 1.6448 * math.hypot(0.1, 0.15)
    newer = field(*together, reading(HERE, bare, "new"))
    assert width(newer) < width(field(*together))


def test_a_shared_doubt_makes_the_variance_that_the_textbook_has() -> None:
    # one unknown with a normal prior, read five times with 6 % each and 20 % in common: conjugate normal
    # update, Gelman et al., Bayesian Data Analysis, 3rd ed., eq. 2.10
    same = [reading(HERE, 200.0, f"r-{at}", cause=0.2) for at in range(5)]
    prior = numbers().read_only_spread
    variance = 1.0 / (1.0 / prior**2 + 1.0 / (0.2**2 + 0.06**2 / 5))
    assert width(field(*same, lamps=0, meter=0.0)) == pytest.approx(
        2 * 1.6448536 * math.sqrt(variance), rel=1e-6
    )


def test_an_older_reading_yields_to_a_newer_one() -> None:
    old, new = reading(HERE, 100.0, "old", age=0.15), reading(HERE, 150.0, "new")
    assert field(old, new).at(POINTS)[0].best > field(reading(HERE, 100.0, "old"), new).at(POINTS)[0].best
    alone = field(old, lamps=0).at(POINTS)[0]
    assert math.log(alone.high / alone.low) > width(field(reading(HERE, 100.0), lamps=0))


def test_a_lamp_sends_what_its_age_has_left_and_is_less_sure() -> None:
    old = LampAges(date(2026, 11, 2), {"lamp-0": date(2023, 11, 2)}, {"lamp-0": 0.1}, 2.0)
    aged, new = (
        LightField(
            GLASS,
            [lamp("lamp-0")],
            None,
            (),
            numbers(),
            sand=False,
            look=WaterLook.CLEAR,
            meter_doubt=0.1,
            ages=ages,
        )
        for ages in (old, AGELESS)
    )
    one, other = aged.at(POINTS)[0], new.at(POINTS)[0]
    years = 1096 / 365.25
    assert one.best / other.best == pytest.approx(math.exp(-0.1 * years))
    assert one.high / one.low > other.high / other.low
    assert aged.times(POINTS, {"lamp-0": lamp("lamp-0", output_percent=50.0)})[0] == pytest.approx(0.5)


def test_readings_alone_speak_with_a_wider_range_that_grows_with_distance() -> None:
    alone = field(reading(HERE, 200.0), lamps=0)
    here, near, far = alone.at(POINTS)
    assert here.best == pytest.approx(200.0, rel=0.02)
    assert math.isnan(here.model)
    assert width(alone, 0) < width(alone, 1) < width(alone, 2)
    assert far.high / far.low > near.high / near.low > 2.0


def test_a_misread_one_is_named_by_how_far_the_others_would_have_it() -> None:
    model = {at: here.best for at, here in zip((HERE, NEAR, FAR), field().at(POINTS), strict=True)}
    also = (25.0, 35.0, 20.0)
    fourth = field().at(np.array([also]))[0].best
    odd = field(
        reading(HERE, model[HERE], "a"),
        reading(NEAR, model[NEAR], "b"),
        reading(FAR, model[FAR], "c"),
        reading(also, 3.0 * fourth, "odd"),
    )
    worst = max(odd.misfits, key=lambda each: abs(each.deviations))
    assert (worst.reading.label, worst.deviations > 3.0) == ("odd", True)
    unread = odd.unread("odd")
    assert unread is not None
    assert unread.high < 3.0 * fourth
    assert unread.low < fourth < unread.high


def test_one_reading_without_lamps_has_nothing_to_agree_with() -> None:
    assert field(reading(HERE, 200.0), lamps=0).misfits == ()
    assert field(reading(HERE, 200.0, "a"), lamps=0).unread("a") is None


def test_all_readings_at_one_point_do_not_break_it() -> None:
    same = [reading(HERE, par, f"r-{par}") for par in (100.0, 110.0, 120.0)]
    assert field(*same).at(POINTS)[0].best == pytest.approx(110.0, rel=0.1)
    assert np.isfinite([each.deviations for each in field(*same).misfits]).all()


def test_readings_tell_how_strong_a_lamp_is() -> None:
    model = [here.best for here in field().at(POINTS)]
    dim = field(
        *(reading(tuple(at), 0.5 * par, f"r-{par}") for at, par in zip(POINTS.tolist(), model, strict=True))
    )
    causes = {cause.name: cause for cause in dim.causes}
    assert math.exp(causes["all lamps"].change + causes["lamp-0"].change) == pytest.approx(0.5, rel=0.15)
    assert photons_of(dim.lamps[0], numbers()) == 200.0


def test_each_lamp_has_its_share_and_a_changed_one_tells_how_many_times_as_bright() -> None:
    two = field(lamps=2)
    shares = dict(two.at(POINTS)[0].by_lamp)
    assert shares == pytest.approx({"lamp-0": 0.5, "lamp-1": 0.5})
    off = lamp("lamp-0", output_percent=0.0)
    assert two.times(POINTS, {"lamp-0": off})[0] == pytest.approx(0.5)
    assert two.times(POINTS, {}).tolist() == pytest.approx([1.0, 1.0, 1.0])


def test_nothing_in_the_way_keeps_nothing_off() -> None:
    assert field().shaded_by(np.array(HERE)) == ()


def test_lamps_fade_for_one_cause_so_that_four_are_no_surer_than_one() -> None:
    years, rate, doubt = 2.0, 0.2, 0.6
    for lamps in (1, 4):
        names = [f"lamp-{at}" for at in range(lamps)]
        variance = []
        for age in (0, round(years * 365.25)):
            ages = LampAges(
                date(2026, 11, 2),
                dict.fromkeys(names, date.fromordinal(date(2026, 11, 2).toordinal() - age)),
                dict.fromkeys(names, rate),
                doubt,
            )
            of = LightField(
                GLASS, [lamp(name) for name in names], None, (), numbers(),
                sand=False, look=WaterLook.CLEAR, meter_doubt=0.1, ages=ages,
            )  # fmt: skip
            variance.append((width(of) / (2 * 1.6448536)) ** 2)
        assert math.sqrt(variance[1] - variance[0]) == pytest.approx(years * rate * doubt, rel=1e-3)


def test_readings_lower_than_lamps_as_told_say_that_all_have_faded_faster() -> None:
    old = dict.fromkeys(("lamp-0", "lamp-1"), date(2023, 11, 2))
    ages = LampAges(date(2026, 11, 2), old, {"lamp-0": 0.2, "lamp-1": 0.02}, 0.6)
    lamps = [lamp("lamp-0"), lamp("lamp-1", middle_cm=(75.0, 22.0))]
    bare = LightField(
        GLASS, lamps, None, (), numbers(), sand=False, look=WaterLook.CLEAR, meter_doubt=0.1, ages=ages
    )
    low = reading(HERE, 0.7 * bare.at(POINTS)[0].best)
    (fading,) = [cause for cause in bare.with_readings([low]).causes if cause.name == FADING]
    assert fading.change < -0.05
    assert fading.sd < 1.0
