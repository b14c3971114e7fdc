"""Definitions, rules and preferences: units, texts and grounds."""

from __future__ import annotations

import pytest

from tests.language.texts import checked, codes


def told(text: str) -> list[str]:
    """The codes of some declarations."""
    return codes(checked(text)[1])


RULE = 'rule r\n  for animal a, neighbour n of a\n  expect {}\n  level {}\n  because "{}"'


@pytest.mark.parametrize(
    "text",
    [
        "define room(animal a) in cm as 0 cm when weapons(a) has none  reach-most(a) otherwise",
        "define many(animal a) in count as count of neighbour n of a where gap(a, n) < 3 cm",
        "define sting(animal a) in rank as 3",
        "define months-to-touch(animal a, animal b) in days as gap(a, b) / grows-out(a)",
        "define grown(animal a) in cm as grows-out(a) * 60 days",
        "define share(tank) in % as water-change(tank) + 5 %",
        "define warmer(tank) in K as temperature(tank) - 20 °C",
        "define limit(tank) in °C as temperature(tank) + 2 K",
        "define part(animal a, animal b) in times as size(a) / size(b)",
        "define always(animal a) as yes",
        "define opened(animal a) in cm as size(a) * swells(a)",
    ],
)
def test_units_that_fit(text: str) -> None:
    assert told(text) == []


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("define sting(animal a) in count as potency(a)", "units-201"),
        ("define share(tank) in times as water-change(tank)", "units-201"),
        ("define grown(animal a) in cm as grows-out(a)", "units-201"),
        ("define warmer(tank) in °C as temperature(tank) - 20 °C", "units-201"),
        ("define part(animal a, animal b) in cm as size(a) / size(b)", "units-201"),
        ("define odd(animal a) in cm as 5", "units-202"),
        ("define odd(animal a) in cm as size(a) > 3 cm", "units-209"),
        ("define odd(animal a) as size(a)", "units-208"),
        ("define odd(place p) as 2 * light(p) * light(p) > 3 PAR", "units-207"),
    ],
)
def test_units_that_do_not_fit(text: str, code: str) -> None:
    assert told(text) == [code]


def test_every_hole_of_a_text_is_bound() -> None:
    assert (
        told(RULE.format("size(a) > 3 cm", "advice", "{a} {n} {gap(a, n)} {a.spot} {low-light} {tank}")) == []
    )
    assert told(RULE.format("size(a) > 3 cm", "advice", "{z}")) == ["text-401"]
    assert told(RULE.format("size(a) > 3 cm", "advice", "{size(z)}")) == ["text-401"]
    assert told(RULE.format("any animal z where size(z) > 3 cm", "advice", "{z}")) == ["text-401"]


def test_the_month_is_known_to_a_rule_that_looks_ahead() -> None:
    assert told(RULE.format("size(a) > 3 cm until horizon", "advice", "{month}")) == []
    assert told(RULE.format("size(a) > 3 cm", "advice", "{month}")) == ["text-401"]


def test_a_danger_names_its_source() -> None:
    assert told(RULE.format("size(a) > 3 cm", "danger", "{a}")) == ["text-406"]
    assert told(RULE.format("size(a) > 3 cm", "danger", "{a}") + '\n  source "s" kind study') == []


def test_the_holes_of_a_definition_are_its_parameters() -> None:
    assert told('define big(animal a) as size(a) > 3 cm say "{a} is {size(a)}"') == []
    assert told('define big(animal a) as size(a) > 3 cm say "{n}"') == ["text-401"]
