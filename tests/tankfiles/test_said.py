"""Values as keepers write them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.model.tank import Said
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]


def spot(tank_of: Make, text: str) -> Folder:
    return tank_of(f"spots:\n  - {{id: a, {text}}}\n")


def test_a_word_stays_a_word(tank_of: Make) -> None:
    (fact,) = spot(tank_of, "light: medium").said("light", "a")
    assert fact.said.words == ("medium",)
    assert fact.said.best is None
    assert fact.said.low is None


def test_a_statement_knows_how_it_was_written_and_where(tank_of: Make) -> None:
    (fact,) = spot(tank_of, "light: 118 ±12 PAR").said("light", "a")
    assert (fact.said.best, fact.said.error, fact.said.written) == (118.0, 12.0, "118 ±12 PAR")
    assert fact.said.span is not None
    assert (fact.said.span.line, fact.said.span.column) == (2, 20)


@pytest.mark.parametrize("text", ["unknown", "don't know", "?", "not told", "Not Measured"])
def test_what_is_not_known_is_said_so(tank_of: Make, text: str) -> None:
    (fact,) = spot(tank_of, f'light: "{text}"').said("light", "a")
    assert fact.said.unknown


@pytest.mark.parametrize("text", ["", "~", "null"])
def test_a_blank_says_nothing(tank_of: Make, text: str) -> None:
    assert spot(tank_of, f"light: {text}").tank.facts == ()


def test_a_stated_none_is_kept(tank_of: Make) -> None:
    (fact,) = spot(tank_of, "outlet distance: none").said("outlet-distance", "a")
    assert fact.said.none
    assert not fact.said.unknown


@pytest.mark.parametrize(("text", "word"), [("yes", "yes"), ("true", "yes"), ("No", "no"), ("'yes'", "yes")])
def test_yes_and_no(tank_of: Make, text: str, word: str) -> None:
    (fact,) = spot(tank_of, f"ledge: {text}").said("ledge", "a")
    assert fact.said.words == (word,)


def test_several_words_that_may_be(tank_of: Make) -> None:
    for text in ("random or pulsing", "[random, pulsing]", '"random, pulsing"'):
        (fact,) = spot(tank_of, f"pattern: {text}").said("pattern", "a")
        assert fact.said.words == ("random", "pulsing")


def test_a_value_with_its_circumstances(tank_of: Make) -> None:
    (fact,) = spot(
        tank_of,
        "light: {value: 118 PAR, error: 10 %, on: 2026-10-24T20:15, by: shop, how: 'meter, corrected'}",
    ).said("light", "a")
    said = fact.said
    assert said.error == pytest.approx(11.8)
    assert (said.best, said.on) == (118.0, date(2026, 10, 24))
    assert (said.by, said.how) == (Said.SHOP, "meter, corrected")


def test_several_statements_in_a_list(tank_of: Make) -> None:
    facts = spot(tank_of, "light: [{value: 90, on: 2026-01-01}, {value: 118, on: 2026-06-01}]").said(
        "light", "a"
    )
    assert [(f.said.best, f.said.on) for f in facts] == [(90.0, date(2026, 1, 1)), (118.0, date(2026, 6, 1))]


def test_since_when_it_has_been_so(tank_of: Make) -> None:
    for text in (
        "well since 2026-03-01",
        "{value: well, since: 2026-03-01}",
        "{value: well since 2026-03-01}",
    ):
        folder = tank_of(f"corals:\n  - {{id: a, is: torch, doing: {text}}}\n")
        (fact,) = folder.said("doing", "a")
        assert (fact.said.words, fact.said.since, fact.said.on) == (("well",), date(2026, 3, 1), None)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("light: {on: 2026-01-01}", "key-123"),
        ("light: {value: 3 PAR, errror: 1}", "key-121"),
        ("light: {value: medium, error: 3 PAR}", "value-131"),
        ("light: {value: 3 PAR, by: butcher}", "value-133"),
        ("light: {value: 3 PAR, on: yesterday}", "value-134"),
        ("ledge: perhaps", "value-133"),
        ("faces: [up, sidewards]", "value-133"),
    ],
)
def test_a_value_that_cannot_be_is_noted(tank_of: Make, text: str, code: str) -> None:
    assert spot(tank_of, text).codes == [code]


def test_bounds_reach_to_what_can_be(tank_of: Make) -> None:
    folder = spot(tank_of, "light: at least 100 PAR, moat: at most 5 cm")
    assert [(f.said.low, f.said.high) for f in folder.said("light", "a")] == [(100.0, 2500.0)]
    assert [(f.said.low, f.said.high) for f in folder.said("moat", "a")] == [(0.0, 5.0)]


def test_a_reading_of_light_tells_what_the_lamps_were_set_to(tank_of: Make) -> None:
    for text in ("light: {value: 118 PAR, output: 60 %}", "light: {value: 118 PAR, output: 60}"):
        (fact,) = spot(tank_of, text).said("light", "a")
        assert fact.said.output_percent == 60.0
    folder = tank_of("spots: [a]\nreadings:\n  - {spot: a, on: 2026-10-01, light: 118 PAR, output: 60 %}\n")
    assert [fact.said.output_percent for fact in folder.said("light", "a")] == [60.0]
    (untold,) = spot(tank_of, "light: {value: 118 PAR, output: unknown}").said("light", "a")
    assert untold.said.output_percent is None


@pytest.mark.parametrize("text", ["0 %", "120 %", "bright", "-5 %", "[1, 2]"])
def test_an_output_that_no_light_can_be_read_at_is_told(tank_of: Make, text: str) -> None:
    (problem,) = spot(tank_of, f"light: {{value: 118 PAR, output: {text}}}").problems
    assert (problem.code, problem.mend) == ("value-132", "60 %")


def test_only_light_is_read_at_an_output(tank_of: Make) -> None:
    (problem,) = spot(tank_of, "flow: {value: 10 cm/s, output: 60 %}").problems
    assert problem.code == "key-121"
