"""How far short an accept says a rule was."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from advisor.language.house_short import amounts_compared, wrong_short
from advisor.reasoning.record import scale_of
from advisor.session.opening import open_tank
from tests.language.house_lines import edit, fresh
from tests.language.texts import base_library, checked, codes

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
MORE = """
rule on-rock
  for animal a
  expect ground(a.spot) is rock
  level danger
  because "{a}"
  source "x" kind guess

rule warm
  for tank
  expect temperature(tank) >= 20 °C
  level warning
  because "cold"

rule roomy
  for animal a
  expect light(a.spot) >= 20 PAR and size(a) <= 30 cm
  level warning
  because "{a}"

define dim(place p) as light(p) <= 40 PAR

rule kept-dim
  for animal a
  expect not dim(a.spot)
  level warning
  because "{a}"

rule few
  for animal a
  expect count of neighbour b of a where (gap(a, b) <= 5 cm) <= 2
  level warning
  because "{a}"

define near(animal a, animal b) as gap(a, b) <= 5 cm

rule no-bridge
  for animal a, neighbour b of a
  expect b is not within 3 steps of a over near
  level warning
  because "{a}"

rule alone
  for animal a
  expect every neighbour b of a where gap(a, b) >= 5 cm
  level warning
  because "{a}"
"""


@pytest.mark.parametrize(
    ("rule", "dimensions"),
    [
        ("keep-clear", ["length"]),
        ("light-enough", ["light"]),
        ("on-rock", []),
        ("warm", ["temperature step"]),
        ("roomy", ["length", "light"]),
        ("kept-dim", ["light"]),
        ("few", ["count"]),
        ("alone", ["length"]),
        ("no-bridge", ["length"]),
    ],
)
def test_what_a_rule_compares_is_found_in_all_it_expects(rule: str, dimensions: list[str]) -> None:
    library, _ = checked(MORE)
    kinds = amounts_compared(library.rules[rule], library)
    assert [kind.dimension.name.lower().replace("_", " ") for kind in kinds] == dimensions


@pytest.mark.parametrize(
    ("rule", "short"),
    [
        ("keep-clear", "8 cm"),
        ("keep-clear", "0 cm"),
        ("keep-clear", "80 mm"),
        ("keep-clear", "3 steps"),
        ("warm", "2 K"),
        ("roomy", "3 steps"),
        ("few", "2"),
    ],
)
def test_a_shortfall_is_in_a_unit_of_what_is_compared_or_in_steps(rule: str, short: str) -> None:
    library, _ = checked(MORE)
    house = fresh()
    assert not wrong_short(house, edit(f"accept {rule} for a, b short by {short}"), library.rules[rule])
    assert house.problems == []


@pytest.mark.parametrize(
    ("rule", "short", "what", "mend"),
    [
        ("keep-clear", "11", "a shortfall of 11 has no unit", "short by 11 cm"),
        ("keep-clear", "5 PAR", "an amount of light is no shortfall of 'keep-clear'", "short by 5 cm"),
        ("keep-clear", "-3 cm", "a shortfall of -3 cm is less than nothing", "short by 3 cm"),
        ("keep-clear", "-3 steps", "a shortfall of -3 steps is less than nothing", "short by 3 steps"),
        ("warm", "2 °C", "a temperature is no shortfall of 'warm'", "short by 2 K"),
        ("roomy", "3 cm", "'roomy' compares a length and an amount of light", "short by 3 steps"),
        ("on-rock", "3 cm", "'on-rock' compares no amounts", "accept on-rock for a, b"),
        ("few", "2 cm", "a length is no shortfall of 'few'", "short by 2"),
    ],
)
def test_any_other_shortfall_is_refused_with_its_place(rule: str, short: str, what: str, mend: str) -> None:
    library, _ = checked(MORE)
    house = fresh()
    house.before = library
    line = edit(f"accept {rule} for a, b short by {short}")
    assert wrong_short(house, line, library.rules[rule])
    (problem,) = house.problems
    assert problem.code == "house-514"
    assert what in problem.what
    assert problem.mend.startswith(mend)
    assert line.short is not None
    assert problem.span == line.short.span


def test_an_accept_that_says_no_shortfall_has_no_wrong_one() -> None:
    house = fresh()
    assert not wrong_short(house, edit("accept keep-clear for a, b"), base_library().rules["keep-clear"])
    assert codes(tuple(house.problems)) == []


def test_a_shortfall_of_every_shipped_rule_is_in_the_unit_that_its_margin_is_told_in() -> None:
    desk = open_tank(EXAMPLES / "first-shelf", on=date(2026, 11, 2))._desk
    seen = 0
    for compiled in desk.bench.rules:
        scale = None if compiled.expect is None else scale_of(compiled.expect)
        kinds = amounts_compared(compiled.rule, desk.library)
        if scale is not None:
            assert [kind.dimension for kind in kinds] == [scale[1].dimension], compiled.rule.name
            seen += 1
    assert seen > 50
