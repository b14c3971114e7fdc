from __future__ import annotations

import pytest

from advisor.model.tank import Tank
from advisor.reasoning.light_faces import Face, faces_of
from advisor.reasoning.place_lies import lies_of
from advisor.reasoning.place_numbers import place_numbers
from advisor.reasoning.survey_facts import collect
from tests.reasoning.lying import lying, lying_library
from tests.reasoning.survey_samples import TODAY, fact


def faces(tank: Tank) -> dict[str, Face]:
    numbers = place_numbers(lying_library())
    assert numbers is not None
    facts = collect(tank, lying_library().vocabulary, TODAY)
    return faces_of(lies_of(tank, numbers, facts), facts, numbers)


def test_a_slope_is_read_off_the_rock() -> None:
    found = faces(lying())["flank"]
    assert found.slope_deg == pytest.approx(45.0, abs=1.5)
    assert found.facing_deg == pytest.approx(0.0, abs=1.0) or found.facing_deg == pytest.approx(
        360.0, abs=1.0
    )
    assert (found.side, found.under) == (False, False)


def test_a_told_slope_wins_and_keeps_the_side_of_the_rock() -> None:
    found = faces(lying(fact("slope", "flank", best=30.0)))["flank"]
    assert found.slope_deg == 30.0
    assert found.facing_deg is not None


def test_a_slope_told_in_open_water_looks_to_a_side_nobody_knows() -> None:
    found = faces(lying(fact("slope", "midwater", best=75.0)))["midwater"]
    assert (found.slope_deg, found.facing_deg, found.side) == (75.0, None, True)
    ways = found.ways()
    assert len(ways) == 8
    assert sum(each[0] for each in ways) == pytest.approx(0.0, abs=1e-9)


def test_straight_up_and_straight_down_there_is_one_way_only() -> None:
    assert Face(0.0, None, side=False, under=False).ways() == ((0.0, 0.0, 1.0),)
    (down,) = Face(180.0, None, side=False, under=True).ways()
    assert down == pytest.approx((0.0, 0.0, -1.0), abs=1e-9)


def test_leaning_over_stops_at_straight_down() -> None:
    (leant,) = Face(175.0, 90.0, side=False, under=True).ways(10.0)
    assert leant == pytest.approx((0.0, 0.0, -1.0), abs=1e-9)
    (over,) = Face(90.0, 90.0, side=True, under=False).ways(30.0)
    assert over[2] == pytest.approx(-0.5)
