"""Tables of a lamp: angles and programmes that cannot be, and the night after midnight."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.tankfiles.conftest import Folder
from tests.tankfiles.test_figures import typed

Make = Callable[..., Folder]
Pairs = tuple[tuple[float, float], ...]


def programme(tank_of: Make, table: str) -> Pairs:
    return tank_of(f"lamps: [{{id: a, programme: {table}}}]\n").tank.lamps[0].body.programme


def test_a_programme_may_go_on_past_midnight(tank_of: Make) -> None:
    assert programme(tank_of, "{18: 0 %, 20: 100 %, 2: 0 %}") == ((18.0, 0.0), (20.0, 100.0), (26.0, 0.0))
    assert programme(tank_of, "{14: 0 %, 16: 100 %, 24: 0 %}")[-1] == (24.0, 0.0)
    assert programme(tank_of, "{14: 0 %, 16: 100 %, 0:30: 0 %}")[-1] == (24.5, 0.0)


def test_angles_are_told_in_percent_or_beside_each_other(tank_of: Make) -> None:
    bodies = [
        tank_of(f"lamps: [{{id: a, angles: {table}}}]\n").tank.lamps[0].body.angles
        for table in ("{0: 1, 40: 0.5}", "{0: 80 %, 40: 40 %}")
    ]
    assert bodies == [((0.0, 1.0), (40.0, 0.5)), ((0.0, 80.0), (40.0, 40.0))]


@pytest.mark.parametrize(
    ("key", "table", "what", "mend"),
    [
        ("angles", "{0: 1, 40: 0.8, 30: 0.2}", "the angles must rise", "{0: 1, 30: 0.2, 40: 0.8}"),
        ("angles", "{10: 1, 40: 0.8}", "the first angle must be 0, straight down", "{0: 1, 10: 1, 40: 0.8}"),
        ("angles", "{0: 0, 40: 0}", "all of it is 0, so that nothing would shine", "unknown"),
        ("angles", "{0: 1}", "a table of one row says nothing: two or more are expected", "unknown"),
        ("angles", "{0: 1, -40: 0.8}", "'-40' is not an angle from 0 to 90 degrees", "unknown"),
        ("angles", "{0: 100 %, 40: 0.8}", "'0.8' has no % and others have", "unknown"),
        ("angles", "{0: 1, 40: high}", "'high' does not lie between 0 and 100 %", "unknown"),
        ("angles", "{0: 1, 40: [1]}", "one number is expected after 40", "unknown"),
        ("angles", "{0: 1, wide: 1}", "'wide' is not an angle from 0 to 90 degrees", "unknown"),
        ("angles", "{0: 1, 40: 3 cm}", "'3 cm' is length, but percent is expected", "unknown"),
        ("angles", "{0: 1, 4 cm: 1}", "'4 cm' is length, but angle is expected", "unknown"),
        ("angles", "wide", "a table is expected here", "unknown"),
        ("programme", "{9: 0 %, 20: 100 %, 11: 0 %}", "the hours must rise, past midnight once at most",
         "{9: 0 %, 11: 0 %, 20: 100 %}"),
        ("programme", "{18: 0 %, 2: 100 %, 1: 0 %}", "the hours must rise, past midnight once at most",
         "{1: 0 %, 2: 100 %, 18: 0 %}"),
        ("programme", "{18: 0 %, 24:30: 0 %, 20: 9 %}",
         "'24:30' is not an hour of the day; past midnight it is 0:30", "{18: 0 %, 0:30: 0 %, 20: 9 %}"),
        ("programme", "{18: 0 %, 20: 100 %, 24:30: 0 %}",
         "'24:30' is not an hour of the day; past midnight it is 0:30", "{18: 0 %, 20: 100 %, 0:30: 0 %}"),
        ("programme", "{noon: 100 %, 13: 0 %}", "'noon' is not an hour of the day", "unknown"),
        ("programme", "{9: 0, 11: 1, 17: 1, 19: 0}", "'1' may be 1 % or 100 %",
         "{9: 0 %, 11: 100 %, 17: 100 %, 19: 0 %}"),
        ("programme", "{9: 0 %, 11: 0.5, 19: 0 %}", "'0.5' may be 0.5 % or 50 %", "unknown"),
        ("programme", "{9: 100 %}", "a table of one row says nothing: two or more are expected", "unknown"),
        ("programme", "{9: 0 %, 19: 0 %}", "all of it is 0, so that nothing would shine", "unknown"),
    ],
)  # fmt: skip
def test_a_table_that_cannot_be_says_why_and_what_may_be_typed_in_its_place(
    tank_of: Callable[[str], Folder], key: str, table: str, what: str, mend: str
) -> None:
    folder = tank_of(f"lamps:\n  - {{id: a, {key}: {table}}}\n")
    (problem,) = folder.problems
    assert (problem.code, problem.what, problem.mend) == ("value-131", what, mend)
    left = tank_of(typed(folder, problem)).problems
    # a table with two faults has the second one still
    assert [each.what for each in left if each.what == what] == []


def test_an_hour_that_stands_twice_is_told(tank_of: Make) -> None:
    (problem,) = tank_of("lamps: [{id: a, programme: {9: 0 %, 9:00: 100 %, 18: 0 %}}]\n").problems
    assert problem.what == "the hour 9:00 stands twice: tell two times, one minute apart"
