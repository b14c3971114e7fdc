"""House lines about whole rules."""

from __future__ import annotations

import pytest

from advisor.errors import Severity
from advisor.language.house_rules import accepted, asked_of, asks_amount, level_change, switched_off
from advisor.language.house_state import House
from advisor.language.nodes import Level
from tests.language.house_lines import edit, fresh
from tests.language.texts import checked, codes

WHOLE = (
    "accept keep-clear for torch-1 at ledge, zoa-2 short by 8 cm on 2026-11-02 "
    'because "a rod" until 2027-06-01'
)


def test_a_level_is_changed_and_a_rule_switched_off() -> None:
    house = fresh()
    for meant in (
        level_change(house, edit("level light-enough from warning to advice")),
        switched_off(house, edit('switch off keep-clear because "x"')),
    ):
        assert meant is not None
        meant.apply(house)
    assert house.rules["light-enough"].level is Level.ADVICE
    assert "keep-clear" not in house.rules
    assert house.problems == []


def test_a_preference_is_switched_off_too() -> None:
    library, problems = checked(
        'prefer dim\n  for animal a\n  want light(a.spot) <= 50 PAR\n  weight 1\n  because "{a}"\n',
        "house\n  switch off dim\n",
    )
    assert problems == ()
    assert library.prefers == {}
    assert list(library.shipped.prefers) == ["dim"]


def test_a_whole_accept_of_a_danger_is_kept() -> None:
    house = fresh()
    assert accepted(house, edit(WHOLE)) is not None
    assert house.problems == []


@pytest.mark.parametrize(
    ("left_out", "missing"),
    [
        (" short by 8 cm", "how far short"),
        (" on 2026-11-02", "on which day"),
        (" until 2027-06-01", "until when"),
    ],
)
def test_an_accepted_danger_must_say_what_makes_it_lapse(left_out: str, missing: str) -> None:
    house = fresh()
    assert accepted(house, edit(WHOLE.replace(left_out, ""))) is None
    (problem,) = house.problems
    assert (problem.code, problem.severity) == ("house-510", Severity.ERROR)
    assert missing in problem.what
    assert problem.mend.startswith("accept keep-clear for torch-1")
    assert [aside.kind.value for aside in house.aside] == ["bare"]


def test_of_something_lesser_it_is_noted_and_counts() -> None:
    house = fresh()
    assert accepted(house, edit("accept light-enough for torch-1")) is not None
    (problem,) = house.problems
    assert (problem.code, problem.severity) == ("house-511", Severity.NOTE)
    assert "does not lapse" in problem.what


def test_a_rule_the_house_makes_a_danger_is_one_here_too() -> None:
    house = House.of(fresh().before, {"light-enough": Level.DANGER})
    assert accepted(house, edit('accept light-enough for torch-1 because "x"')) is None
    assert codes(tuple(house.problems)) == ["house-510"]


def test_a_rule_about_words_has_no_shortfall() -> None:
    library, problems = checked(
        'rule on-rock\n  for animal a\n  expect ground(a.spot) is rock\n  level danger\n  because "{a}"\n'
        '  source "x" kind guess\n',
        'house\n  accept on-rock for torch-1 on 2026-11-02 because "x" until 2027-06-01\n',
    )
    assert problems == ()
    house = House.of(library)
    assert not asks_amount(house, library.rules["on-rock"])
    assert asks_amount(house, library.rules["keep-clear"])


def test_the_tank_itself_is_not_named() -> None:
    library, problems = checked(
        'rule warm\n  for tank\n  expect temperature(tank) >= 20 °C\n  level warning\n  because "cold"\n',
        'house\n  accept warm short by 1 K because "winter" until 2027-06-01\n',
    )
    assert problems == ()
    assert asked_of(library.rules["warm"]) == ()


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("level keep-clear from danger to warning", "house-504"),
        ('level keep-clear from danger to warning because "…"', "house-504"),
        ("level light-enough from warning to danger", "house-504"),
        ("level keep-clear from warning to advice", "house-501"),
        ("switch off keep-clear", "house-504"),
        ('switch off mind-your-hands because "x"', "house-506"),
        ('level mind-your-hands from warning to advice because "x"', "house-506"),
        ('accept mind-your-hands for torch-1 because "x" until 2027-06-01', "house-506"),
        ("accept keep-clear for torch-1, zoa-2", "house-504"),
        ('accept keep-clear for torch-1 because "x"', "house-507"),
        ('accept keep-clear for torch-1, torch-1 because "x"', "house-507"),
        ("accept keep-far for a, b", "house-502"),
        ("level low-light from advice to danger", "house-502"),
        ("switch off low-light", "house-502"),
    ],
)
def test_a_line_that_may_not_be_is_refused(line: str, code: str) -> None:
    house = fresh()
    asked = edit(line)
    change = {"level": level_change, "switch": switched_off, "accept": accepted}[line.split()[0]]
    assert change(house, asked) is None
    assert codes(tuple(house.problems)) == [code]
    assert house.rules == house.before.rules
