"""Between which ends a named number makes sense."""

from __future__ import annotations

import pytest

from advisor.language.house_range import compared_with, impossible
from tests.language.house_lines import edit, fresh
from tests.language.texts import checked, codes

OWN = """
let warm-enough = 24 °C
let some-sting = 1
let share = 1.5 times
let part = 20 %
let odd = 900 cm
let tiny = 2 mm
rule warm
  for tank
  expect temperature(tank) >= warm-enough and water-change(tank) <= part
  level warning
  because "cold"
rule few
  for animal a
  expect potency(a) <= some-sting
  level warning
  because "{a}"
rule lit
  for animal a
  expect light(a.spot) * share >= low-light and size(a) >= odd + tiny
  level warning
  because "{a}"
"""


@pytest.mark.parametrize(
    ("name", "measures"),
    [
        ("warm-enough", ["temperature"]),
        ("part", ["water-change"]),
        ("some-sting", ["potency"]),
        ("share", []),
        ("sweeper-allowance", ["gap"]),
        ("tiny", ["size"]),
    ],
)
def test_a_number_is_held_against_what_it_is_compared_with(name: str, measures: list[str]) -> None:
    library, _ = checked(OWN)
    assert [measure.name for measure in compared_with(name, library)] == measures


def test_a_number_that_no_rule_compares_is_held_against_all_of_its_kind() -> None:
    library, _ = checked("let spare = 3 PAR\n")
    names = [measure.name for measure in compared_with("spare", library)]
    assert names == ["light", "light-high", "light-low", "light-max", "light-min"]


@pytest.mark.parametrize(
    ("line", "label"),
    [
        ("change sweeper-allowance from 5 cm to -3 cm", "between 0 cm and 500 cm, as gap is"),
        ("change sweeper-allowance from 5 cm to 5000 cm", "between 0 cm and 500 cm, as gap is"),
        ("change part from 20 % to 120 %", "between 0% and 100%, as water-change is"),
        ("change warm-enough from 24 °C to 75 °C", "between 0 °C and 45 °C, as temperature is"),
        ("change warm-enough from 24 °C to -3 °C", "between 0 °C and 45 °C, as temperature is"),
        ("change some-sting from 1 to 9", "between 0 and 5, as potency is"),
        ("change share from 1.5 times to -1 times", "at least 0"),
    ],
)
def test_what_nothing_told_can_be_is_refused_with_its_ends(line: str, label: str) -> None:
    house = fresh()
    house.before, _ = checked(OWN)
    change = edit(line)
    assert change.new is not None
    assert impossible(house, house.before.lets[change.target], change.new)
    (problem,) = house.problems
    assert problem.code == "house-508"
    assert problem.span == change.new.span
    assert problem.label.startswith(label)


@pytest.mark.parametrize(
    "line",
    [
        "change sweeper-allowance from 5 cm to 0 cm",
        "change sweeper-allowance from 5 cm to 500 cm",
        "change share from 1.5 times to 20 times",
        "change odd from 900 cm to 950 cm",
        "change tiny from 2 mm to 30 mm",
    ],
)
def test_what_can_be_and_what_is_shipped_outside_already_are_left_alone(line: str) -> None:
    house = fresh()
    house.before, _ = checked(OWN)
    change = edit(line)
    assert change.new is not None
    assert not impossible(house, house.before.lets[change.target], change.new)
    assert codes(tuple(house.problems)) == []
