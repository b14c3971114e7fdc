"""House lines about whole rules."""

from __future__ import annotations

import pytest

from advisor.language.house_rules import asked_of, level_change, switched_off
from advisor.language.nodes import Level
from tests.language.house_lines import edit, fresh
from tests.language.texts import checked, codes


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
        ("level light-enough from warning to danger", "house-504"),
        ("level keep-clear from warning to advice", "house-501"),
        ("switch off keep-clear", "house-504"),
        ('switch off mind-your-hands because "x"', "house-506"),
        ('level mind-your-hands from warning to advice because "x"', "house-506"),
        ("level low-light from advice to danger", "house-502"),
        ("switch off low-light", "house-502"),
    ],
)
def test_a_line_that_may_not_be_is_refused(line: str, code: str) -> None:
    house = fresh()
    asked = edit(line)
    change = {"level": level_change, "switch": switched_off}[line.split()[0]]
    assert change(house, asked) is None
    assert codes(tuple(house.problems)) == [code]
    assert house.rules == house.before.rules
