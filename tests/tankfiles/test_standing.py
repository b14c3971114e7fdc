"""Lamps, rocks and glass held against each other: nothing that does not fit is silent."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from scipy import constants

from advisor.errors import Problem, Severity
from advisor.tankfiles.standing import MOST_PER_JOULE
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]
GLASS = "glass: 120 x 60 x 60 cm\n"
FULL = "size: 30 x 20 cm, photons: 140 umol/s, beam: 90 degrees"


def only(folder: Folder) -> Problem:
    (problem,) = folder.problems
    return problem


def lamp(tank_of: Make, keys: str) -> Folder:
    return tank_of(f"{GLASS}lamps:\n  - {{id: left, {keys}}}\n")


def rock(tank_of: Make, keys: str) -> Folder:
    return tank_of(f"{GLASS}rocks:\n  - {{id: ridge, {keys}}}\n")


@pytest.mark.parametrize("at", ["300, 30 cm", "-20, 30 cm", "60, 75 cm", "60, -12 cm"])
def test_a_lamp_beside_the_tank_is_told_and_counts(tank_of: Make, at: str) -> None:
    folder = lamp(tank_of, f'at: "{at}", over water: 20 cm, {FULL}')
    problem = only(folder)
    assert (problem.code, problem.severity) == ("place-151", Severity.WARNING)
    assert problem.what == "left hangs beside the tank, no part of it over the water"
    assert problem.span is not None
    assert problem.span.text[problem.span.column - 1 : problem.span.end_column - 1] == f'"{at}"'
    assert folder.tank.lamps[0].body.hangs


@pytest.mark.parametrize(
    "keys", ["at: '-10, 30 cm'", "at: '60, 68 cm'", "at: '-12, 30 cm', turned: 0 degrees"]
)
def test_a_lamp_that_reaches_over_the_water_is_not_beside_it(tank_of: Make, keys: str) -> None:
    assert lamp(tank_of, f"{keys}, over water: 20 cm, {FULL}").problems == ()


def test_a_turned_lamp_reaches_as_far_as_it_then_does(tank_of: Make) -> None:
    told = "at: '-12, 30 cm', over water: 20 cm, "
    assert only(lamp(tank_of, f"{told}{FULL}, turned: 90 degrees")).code == "place-151"


def test_lamps_in_one_place_are_told(tank_of: Make) -> None:
    line = '  - {{id: {}, at: "{}, 30 cm", over water: 20 cm, ' + FULL + "}}\n"
    twice = tank_of(GLASS + "lamps:\n" + line.format("a", 40) + line.format("b", 40))
    assert (only(twice).code, only(twice).severity) == ("place-153", Severity.WARNING)
    assert only(twice).what == "a and b hang in the same place"
    assert [each.label for each in only(twice).related] == ["a"]
    assert tank_of(GLASS + "lamps:\n" + line.format("a", 40) + line.format("b", 60)).problems == ()


def test_no_lamp_sends_more_photons_than_its_power_holds(tank_of: Make) -> None:
    """A photon of 700 nm, the longest that counts as PAR, has the energy h c / wavelength (CODATA)."""
    photons_per_joule = 700e-9 / (constants.h * constants.c)
    assert pytest.approx(photons_per_joule / constants.N_A * 1e6, abs=0.005) == MOST_PER_JOULE
    problem = only(lamp(tank_of, "photons: 140 umol/s, watts: 9 W"))
    assert (problem.code, problem.severity) == ("value-132", Severity.ERROR)
    assert problem.what == "left cannot send 140 µmol/s from 9 W"
    assert lamp(tank_of, "photons: 140 umol/s, watts: 60 W").problems == ()


@pytest.mark.parametrize(
    ("keys", "what"),
    [
        ("photons: 140000000 umol/s", "photons: 140000000 µmol/s of left is hardly possible"),
        ("watts: 90000 W", "watts: 90000 W of left is hardly possible"),
        ("beam: 0.01 degrees", "beam: 0.01 degrees of left is hardly possible"),
        ("over water: 2500 cm", "over water: 2500 cm of left is hardly possible"),
        ("size: 3000 x 2000 cm", "size: 3000 cm of left is hardly possible"),
    ],
)
def test_what_no_lamp_is_counts_and_is_told(tank_of: Make, keys: str, what: str) -> None:
    (problem,) = (each for each in lamp(tank_of, keys).problems if each.severity is not Severity.NOTE)
    assert (problem.code, problem.severity, problem.what) == ("value-136", Severity.WARNING, what)
    assert problem.span is not None
    assert problem.span.text[problem.span.column - 1 :].startswith(keys.partition(": ")[2])


def test_of_a_lamp_that_hangs_it_is_told_what_is_not_known(tank_of: Make) -> None:
    hangs = "at: '60, 30 cm', over water: 20 cm"
    problem = only(lamp(tank_of, hangs))
    assert (problem.code, problem.severity) == ("key-123", Severity.NOTE)
    assert problem.what == "left does not tell size and photons or watts"
    assert lamp(tank_of, f"{hangs}, {problem.mend}").problems == ()
    tube = only(lamp(tank_of, f"{hangs}, form: tube, watts: 54 W"))
    assert (tube.what, tube.mend) == ("left does not tell size", "size: 80 cm")
    assert lamp(tank_of, f"{hangs}, form: point, watts: 54 W").problems == ()
    assert lamp(tank_of, "installed: 2025-01-01").problems == ()
    assert lamp(tank_of, f"{hangs}, size: 30 x 20 cm, photons: unknown").problems == ()


@pytest.mark.parametrize(
    ("keys", "what", "mend"),
    [
        ("at: '60, 30 cm'", "left does not tell over water", "over water: 20 cm"),
        ("over water: 20 cm", "left does not tell at", 'at: "35, 30 cm"'),
    ],
)
def test_half_of_where_a_lamp_hangs_is_nowhere_and_told(
    tank_of: Make, keys: str, what: str, mend: str
) -> None:
    problem = only(lamp(tank_of, f"{keys}, {FULL}"))
    assert (problem.code, problem.what, problem.mend) == ("key-123", what, mend)
    assert lamp(tank_of, f"{keys}, {FULL}, {mend}").problems == ()


def test_a_fault_of_a_lamp_is_not_told_twice(tank_of: Make) -> None:
    told = "at: '60, 30 cm', over water: 20 cm, size: 0 x 20 cm, photons: lots"
    assert lamp(tank_of, told).codes == ["value-131", "value-131"]


@pytest.mark.parametrize(
    ("keys", "severity", "what"),
    [
        ("at: '35, 35 cm', size: 440 x 28 x 26 cm", Severity.ERROR, "ridge is bigger than the tank"),
        ("at: '350, 35 cm', size: 44 x 28 x 26 cm", Severity.ERROR, "ridge lies outside the glass"),
        ("at: '35, 35 cm', size: 44 x 28 x 26 cm, foot: 60 cm", Severity.ERROR,
         "ridge lies outside the glass"),
        ("at: '5, 35 cm', size: 44 x 28 x 26 cm", Severity.WARNING,
         "ridge reaches out of the glass: 17 cm at the left"),
        ("at: '110, 50 cm', size: 44 x 28 x 26 cm", Severity.WARNING,
         "ridge reaches out of the glass: 12 cm at the right, 4 cm at the back"),
        ("at: '35, 35 cm', size: 20 x 20 x 26 cm, foot: 40 cm", Severity.WARNING,
         "ridge reaches out of the glass: 6 cm at the top"),
    ],
)  # fmt: skip
def test_a_rock_that_does_not_fit_is_told(tank_of: Make, keys: str, severity: Severity, what: str) -> None:
    problem = only(rock(tank_of, f"shape: boulder, {keys}"))
    assert (problem.code, problem.severity, problem.what) == ("place-151", severity, what)


def test_a_turned_boulder_that_fits_is_not_told(tank_of: Make) -> None:
    told = "shape: boulder, at: '60, 30 cm', size: 70 x 20 x 26 cm, turned: "
    assert rock(tank_of, f"{told}45 degrees").problems == ()
    assert only(rock(tank_of, f"{told}90 degrees")).what == "ridge is bigger than the tank"


@pytest.mark.parametrize(
    ("glass", "mend"),
    [
        ("120 x 60 x 50 m", "did you mean 120 x 60 x 50 cm?"),
        ("1200 x 600 x 500 cm", "did you mean 120 x 60 x 50 cm?"),
        ("1.2 x 0.6 x 0.5 cm", "did you mean 120 x 60 x 50 cm?"),
        ("1.2 x 0.6 x 0.5 mm", "did you mean 120 x 60 x 50 cm?"),
        ("5000 x 20 x 50 cm", "read it again, with its unit"),
    ],
)
def test_glass_that_no_house_holds_is_told(tank_of: Make, glass: str, mend: str) -> None:
    problem = only(tank_of(f"glass: {glass}\n"))
    assert (problem.code, problem.severity, problem.mend) == ("value-136", Severity.WARNING, mend)
