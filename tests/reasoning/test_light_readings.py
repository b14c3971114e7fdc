"""Which readings count for the light of the open water, and what is said of those that do not."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.model.lighting import LampBody
from advisor.model.tank import Fact, Immersion, Lamp
from advisor.reasoning.light_readings import in_words
from tests.reasoning.lit import ROOF, lamp, lit, read
from tests.reasoning.survey_samples import fact, point, spot
from tests.reasoning.test_light_world import labels, world


def test_an_animal_is_named_at_its_place() -> None:
    assert (in_words("ledge"), in_words("at torch-1")) == ("at ledge", "at torch-1")


@pytest.mark.parametrize(
    ("reading", "more", "why"),
    [
        (read("under", 200.0, on=date(2026, 1, 1)), (), "305 days ago, too old"),
        (read("under", 0.0), (), "no light at all was read"),
        (read("word", 200.0), (), "not known to a hand's width"),
        (read("under", 200.0), (fact("read-at-the-face", "under", truth=True),), "turned to the face"),
    ],
)
def test_a_reading_that_does_not_count_is_named_with_its_reason(
    reading: Fact, more: tuple[Fact, ...], why: str
) -> None:
    tank = lit(reading, *more, spots=(spot("under", point(25.0, 22.0, 20.0)), spot("word")))
    found = world(tank)
    assert labels(found) == []
    assert [why in note for note in found.notes] == [True]


def test_a_reading_from_before_a_new_lamp_does_not_count() -> None:
    new = lamp().model_copy(update={"installed_on": date(2026, 10, 30)})
    found = world(lit(read("under", 200.0), lamps=(new,)))
    assert labels(found) == []
    assert found.notes == (
        "the reading at under is left out: read before lamp was new on 2026-10-30: read it again",
    )


def test_a_lamp_that_hangs_nowhere_is_named_with_the_way_out() -> None:
    old = lamp().model_copy(update={"installed_on": date(2025, 10, 30)})
    moon = Lamp(id="moon", installed_on=date(2026, 10, 31))
    (note,) = [
        each for each in world(lit(read("under", 200.0), lamps=(old, moon))).notes if "left out" in each
    ]
    assert note == (
        "the reading at under is left out: read before moon was new on 2026-10-31: read it again,"
        " or tell output: 0 % of moon if dark by day"
    )
    dark = moon.model_copy(update={"body": LampBody(output_percent=0.0)})
    assert labels(world(lit(read("under", 200.0), lamps=(old, dark)))) == ["under"]


def test_a_lamp_that_will_be_new_some_day_leaves_readings_in() -> None:
    soon = lamp().model_copy(update={"installed_on": date(2026, 12, 1)})
    assert labels(world(lit(read("under", 200.0), lamps=(soon,)))) == ["under"]


def test_two_readings_of_one_day_that_contradict_each_other_count_as_one_that_covers_both() -> None:
    alike = world(lit(read("under", 200.0), read("under", 210.0)))
    apart = world(lit(read("under", 100.0), read("under", 400.0)))
    assert alike.field is not None
    assert apart.field is not None
    assert alike.notes == ()
    assert apart.notes == ("at under both 100 and 400 PAR were read on one day: the error there covers both",)
    (one,), (both,) = alike.field.readings, apart.field.readings
    assert both.par_umol == pytest.approx(200.0)
    assert both.log_sd == pytest.approx(0.693, abs=0.001)
    assert one.log_sd < 0.1


def test_a_factor_unknown_of_one_reading_makes_that_one_weigh_less() -> None:
    sure = world(lit(read("under", 200.0), read("beside", 100.0)))
    unsure = world(lit(read("under", 200.0, immersion=Immersion(factor=None)), read("beside", 100.0)))
    assert sure.everywhere()["under"].best > unsure.everywhere()["under"].best
    assert unsure.field is not None
    assert [each.shared for each in unsure.field.readings if each.label == "beside"] == [()]


def test_a_reading_under_cover_counts_only_where_the_rock_over_it_is_told() -> None:
    cover = fact("shelter", "cave", words=("cave",))
    over_cave = lamp(middle_cm=(70.0, 25.0))
    bare = world(lit(read("cave", 40.0), cover, lamps=(over_cave,)))
    assert labels(bare) == []
    assert "it is under cover, and no rock told here keeps light off it" in bare.notes[0]
    assert labels(world(lit(read("cave", 40.0), cover, lamps=(over_cave,), rocks=(ROOF,)))) == ["cave"]
