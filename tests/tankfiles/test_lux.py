"""Light told in lux: taken by the colours of the lamps, refused where these are not told."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.model.tank import Statement
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]
SUN = "{id: sun, colour: daylight}"
BLUE = "{id: blue, spectrum: {430: 0 %, 450: 100 %, 470: 0 %}}"


def told(tank_of: Make, light: str, *lamps: str) -> Statement:
    folder = tank_of(f"lamps: [{', '.join(lamps)}]\nspots: [{{id: ledge, light: {light}}}]\n")
    assert folder.problems == ()
    (said,) = [fact.said for fact in folder.tank.facts if fact.measure == "light"]
    return said


def test_lux_under_daylight_are_par_by_its_colours(tank_of: Make) -> None:
    said = told(tank_of, "5550 lux", SUN)
    assert said.best == pytest.approx(100.0, rel=0.01)
    assert not said.lux
    assert said.error is None
    assert (said.written, said.reckoned) == ("5550 lux", ("5550 lux at 55 lux a PAR",))
    assert said.immersion is not None
    assert said.immersion.factor is None


@pytest.mark.parametrize("light", ["5.55 klux", "5550 lx", "{value: 5550 Lux, how: phone}"])
def test_it_may_be_written_in_many_ways(tank_of: Make, light: str) -> None:
    assert told(tank_of, light, SUN).best == pytest.approx(100.0, rel=0.01)


def test_a_range_and_an_error_turn_with_it(tank_of: Make) -> None:
    wide, sure = told(tank_of, "5500-11000 lux", SUN), told(tank_of, "5550 ± 555 lux", SUN)
    assert wide.low is not None
    assert wide.high == pytest.approx(2.0 * wide.low)
    assert sure.best is not None
    assert sure.error == pytest.approx(0.1 * sure.best)


def test_where_lamps_differ_a_number_becomes_a_range_and_a_range_a_wider_one(tank_of: Make) -> None:
    said, wide = told(tank_of, "2000 lux", SUN, BLUE), told(tank_of, "2000-2200 lux", SUN, BLUE)
    sun, blue = (told(tank_of, "2000 lux", lamp).best or 0.0 for lamp in (SUN, BLUE))
    assert (said.best, said.error) == (None, None)
    assert [said.low, said.high] == pytest.approx([sun, blue])
    assert [wide.low, wide.high] == pytest.approx([sun, 1.1 * blue])


def test_a_factor_under_water_is_not_applied_to_lux(tank_of: Make) -> None:
    light = "{value: 5550 lux, immersion factor: 1.25}"
    folder = tank_of(f"lamps: [{SUN}]\nspots: [{{id: ledge, light: {light}}}]\n")
    assert [problem.code for problem in folder.problems] == ["value-141"]
    (said,) = [fact.said for fact in folder.tank.facts if fact.measure == "light"]
    assert said.best == pytest.approx(100.0, rel=0.01)
    assert said.immersion is not None
    assert said.immersion.factor is None


@pytest.mark.parametrize("lamps", [[], ["{id: dull, colour: blue}"], [SUN, "{id: dull}"]])
def test_without_the_colours_of_every_lamp_lux_are_refused(tank_of: Make, lamps: list[str]) -> None:
    folder = tank_of(f"lamps: [{', '.join(lamps)}]\nspots: [{{id: ledge, light: 9000 lux}}]\n")
    (problem,) = folder.problems
    assert problem.code == "value-139"
    assert ("spectrum" in problem.mend) is bool(lamps)
    rest, _ = folder.read()
    assert rest is not None
    assert not [fact for fact in rest.facts if fact.measure == "light"]


def test_lux_of_another_tank_are_refused_whatever_hangs_here(tank_of: Make) -> None:
    folder = tank_of(f"lamps: [{SUN}]\ncorals: [{{id: a, is: torch, comes from: {{light: 9000 lux}}}}]\n")
    assert [problem.code for problem in folder.problems] == ["value-139"]


def test_more_light_than_the_sun_gives_is_refused(tank_of: Make) -> None:
    folder = tank_of(f"lamps: [{BLUE}]\nspots: [{{id: ledge, light: 90000 lux}}]\n")
    (problem,) = folder.problems
    assert (problem.code, "90000 lux would be" in problem.what) == ("value-132", True)


def test_a_reading_in_a_list_is_turned_too(tank_of: Make) -> None:
    text = f"lamps: [{SUN}]\nspots: [{{id: a}}]\nreadings: [{{spot: a, on: 2026-10-01, light: 5550 lux}}]\n"
    (said,) = [fact.said for fact in tank_of(text).tank.facts if fact.measure == "light"]
    assert said.best == pytest.approx(100.0, rel=0.01)
