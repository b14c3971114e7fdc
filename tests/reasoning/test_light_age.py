"""How lamps fade, and what becomes of readings by their age."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

import pytest

from advisor.model.cells import CellKind, NumberCell, Support
from advisor.model.lighting import LampBody, LampForm
from advisor.model.tank import Event, EventKind, Fact, Lamp, Tank
from advisor.reasoning.light_age import (
    AGELESS,
    LampAges,
    Since,
    lamp_ages,
    lamp_notes,
    named,
    reading_notes,
    since_read,
    today,
)
from advisor.reasoning.light_numbers import light_numbers
from advisor.reasoning.survey_facts import collect
from tests.reasoning.lit import lit_library
from tests.reasoning.survey_samples import TODAY, fact, library, spot, tank

LIGHT = library().vocabulary.measures["light"]
HALF_YEAR_AGO = TODAY - timedelta(days=180)
YEARS = 180 / 365.25


def ages(**more: object) -> LampAges:
    """A lamp that loses a tenth a year as a logarithm, one that loses a fifth, one of unknown age."""
    told: dict[str, object] = {
        "new_on": {"slow": date(2024, 1, 1), "fast": date(2025, 1, 1)},
        "fades": {"slow": 0.1, "fast": 0.2, "undated": 0.2},
        "doubt": 0.5,
    }
    return LampAges(TODAY, **{**told, **more})  # type: ignore[arg-type]  # told by name in each test


def of_tank(*facts: Fact, lamps: tuple[Lamp, ...], events: tuple[Event, ...] = ()) -> LampAges:
    numbers = light_numbers(lit_library())
    assert numbers is not None
    home: Tank = tank([spot("ledge")], facts=facts, lamps=lamps, events=events)
    return lamp_ages(home, collect(home, lit_library().vocabulary, TODAY), numbers, TODAY)


def test_a_lamp_sends_less_by_the_year_and_one_of_unknown_age_all_of_it() -> None:
    years = (TODAY - date(2025, 1, 1)).days / 365.25
    assert ages().kept("fast") == pytest.approx(math.exp(-0.2 * years))
    assert ages().log_sd("fast") == pytest.approx(0.5 * 0.2 * years)
    assert (ages().kept("undated"), ages().log_sd("undated"), ages().days("undated")) == (1.0, 0.0, None)
    assert AGELESS.kept("any") == 1.0


def test_the_kind_of_a_lamp_or_else_its_form_tells_how_fast_it_fades() -> None:
    tube = LampBody(form=LampForm.TUBE)
    day = date(2025, 11, 2)
    lamps = (
        Lamp(id="panel", installed_on=day),
        Lamp(id="tube", installed_on=day, body=tube),
        Lamp(id="led-tube", installed_on=day, body=tube),
        Lamp(id="burner", installed_on=day),
    )
    kinds = (fact("lamp-kind", "led-tube", words=("led",)), fact("lamp-kind", "burner", words=("halide",)))
    found = of_tank(*kinds, lamps=lamps)
    assert [round(found.kept(lamp.id), 2) for lamp in lamps] == [0.88, 0.80, 0.96, 0.80]


def test_a_lamp_of_unknown_kind_fades_between_an_led_and_a_tube_and_says_so() -> None:
    bar = LampBody(form=LampForm.TUBE)
    lamps = (Lamp(id="panel", installed_on=date(2025, 11, 2)), Lamp(id="bar", body=bar))
    found = of_tank(lamps=lamps)
    half = 1.6448536 * found.own_log_sd("panel")
    ends = [found.kept("panel") * math.exp(sign * half) for sign in (-1.0, 1.0)]
    assert ends == pytest.approx([0.80, 0.96], rel=1e-3)
    assert lamp_notes(lamps, found) == (
        "panel, 1.0 years old, is taken to send 12 % less than when new; an LED fades less, a tube more: tell"
        " its kind",
    )
    assert "by its form" in found.kinds["bar"]
    assert "panel" not in of_tank(fact("lamp-kind", "panel", words=("led",)), lamps=lamps).kinds
    since = found.since(HALF_YEAR_AGO, {"panel": 1.0})
    surer = replace(found, fades_sd={}).since(HALF_YEAR_AGO, {"panel": 1.0})
    assert since is not None
    assert surer is not None
    assert since.log_sd**2 - surer.log_sd**2 == pytest.approx((found.fades_sd["panel"] * YEARS) ** 2)


def test_an_age_told_as_a_range_counts_with_its_middle_and_its_width() -> None:
    lamps = (Lamp(id="a", body=LampBody(form=LampForm.TUBE)),)
    found = of_tank(fact("lamp-age", "a", low=365.25, high=3 * 365.25), lamps=lamps)
    half = 1.6448536 * found.own_log_sd("a")
    ends = [found.kept("a") * math.exp(sign * half) for sign in (-1.0, 1.0)]
    assert ends == pytest.approx([0.8**3, 0.8], rel=1e-2)
    assert lamp_notes(lamps, found)[0].startswith("a, 1.0-3.0 years old, is taken to send 36 % less")


def test_an_age_told_goes_before_the_day_it_was_installed() -> None:
    lamps = (Lamp(id="a", installed_on=date(2020, 1, 1)),)
    found = of_tank(fact("lamp-age", "a", best=30.0), lamps=lamps)
    assert found.days("a") == 30


def test_a_lamp_that_is_off_by_day_is_not_newer_than_a_reading() -> None:
    lamps = (
        Lamp(id="a", installed_on=TODAY),
        Lamp(id="off", installed_on=TODAY, body=LampBody(output_percent=0.0)),
    )
    assert of_tank(lamps=lamps).newer(HALF_YEAR_AGO) == {"a": TODAY}


def test_a_lamp_is_as_old_as_its_entry_the_journal_or_the_keeper_tells() -> None:
    renewed = Event(id="e-1", on=date(2026, 5, 1), kind=EventKind.CHANGED, subject="a")
    lamps = (
        Lamp(id="a", installed_on=date(2024, 1, 1)),
        Lamp(id="b"),
        Lamp(id="c"),
        Lamp(id="d", installed_on=date(2027, 1, 1)),
    )
    found = of_tank(fact("lamp-age", "b", best=100.0, on=TODAY), lamps=lamps, events=(renewed,))
    assert found.new_on == {"a": date(2026, 5, 1), "b": TODAY - timedelta(days=100)}
    assert found.newer(date(2026, 6, 1)) == {"b": TODAY - timedelta(days=100)}
    assert found.newer(TODAY) == {}


def test_what_was_read_falls_with_the_lamps_over_the_place() -> None:
    under_slow, under_fast, between = (
        ages().since(HALF_YEAR_AGO, {"slow": share, "fast": 1.0 - share}) for share in (1.0, 0.0, 0.5)
    )
    assert under_slow is not None
    assert under_fast is not None
    assert between is not None
    assert under_slow.times == pytest.approx(math.exp(-0.1 * YEARS))
    assert under_fast.times == pytest.approx(math.exp(-0.2 * YEARS))
    # of light that is half and half today each half was as much more then
    then = 0.5 * math.exp(0.1 * YEARS) + 0.5 * math.exp(0.2 * YEARS)
    assert between.times == pytest.approx(1.0 / then)
    assert between.log_sd == pytest.approx(0.5 * (0.1 + 0.2) / 2 * YEARS)


def test_where_nobody_can_tell_the_shares_only_lamps_that_fade_alike_lower_it() -> None:
    apart = ages().since(HALF_YEAR_AGO, None)
    alike = ages(fades={"slow": 0.2, "fast": 0.2}).since(HALF_YEAR_AGO, None)
    assert apart is not None
    assert alike is not None
    assert apart.times == 1.0
    assert alike.times == pytest.approx(math.exp(-0.2 * YEARS))


def test_a_lamp_of_unknown_age_or_a_newer_one_only_makes_it_less_sure() -> None:
    undated = ages().since(HALF_YEAR_AGO, {"undated": 1.0})
    newer = ages(new_on={"fast": TODAY}).since(HALF_YEAR_AGO, {"fast": 1.0})
    for found in (undated, newer):
        assert found is not None
        assert found.times == 1.0
        assert found.log_sd == pytest.approx(0.2 * YEARS)


def test_what_changes_unseen_adds_up_with_the_fading_as_errors_do() -> None:
    found = ages(unseen=0.3).since(HALF_YEAR_AGO, {"slow": 1.0})
    assert found is not None
    assert found.log_sd == pytest.approx(math.sqrt((0.05 * YEARS) ** 2 + (0.3 * YEARS) ** 2))


def test_too_little_to_count_is_nothing() -> None:
    assert ages(counts_from=0.2).since(HALF_YEAR_AGO, {"slow": 1.0}) is None
    assert ages().since(TODAY, {"slow": 1.0}) is None


def test_of_every_place_the_newest_dated_number_ages() -> None:
    facts = (
        fact("light", "old", best=100.0, on=HALF_YEAR_AGO),
        fact("light", "again", best=100.0, on=HALF_YEAR_AGO),
        fact("light", "again", best=90.0, on=TODAY),
        fact("light", "undated", best=100.0),
        fact("light", "word", words=("medium",), on=HALF_YEAR_AGO),
        fact("light", "between", low=90.0, high=110.0, on=HALF_YEAR_AGO),
    )
    home = tank([spot(name) for name in ("old", "again", "undated", "word", "between")], facts=facts)
    found = since_read(collect(home, lit_library().vocabulary, TODAY), ages(), {"old": {"fast": 1.0}})
    assert found.keys() == {"old", "between"}
    assert found["old"].times < found["between"].times == 1.0


def cell(low: float, best: float | None, high: float) -> NumberCell:
    return NumberCell(low, best, high, CellKind.MEASURED, None, (Support("your meter", source="as read"),))


def test_a_reading_is_brought_to_today_and_its_error_adds_up_in_logarithms() -> None:
    found = today(cell(100.0, 120.0, 144.0), Since(180, 0.9, 0.1), LIGHT)
    assert found.best == pytest.approx(108.0)
    half = math.sqrt(math.log(1.2) ** 2 + (1.6448536 * 0.1) ** 2)
    assert (found.low, found.high) == pytest.approx((108.0 * math.exp(-half), 108.0 * math.exp(half)))
    (support,) = found.supports
    assert support.source == "as read; 120 PAR then; since then 10 % less for lamps that fade, 11 % less sure"


def test_a_range_stays_one_and_no_light_stays_none() -> None:
    found = today(cell(90.0, None, 110.0), Since(180, 0.9, 0.0), LIGHT)
    assert (found.low, found.high) == pytest.approx((81.0, 99.0))
    assert found.best is None
    assert found.supports[0].source.startswith("as read; 90-110 PAR then; since then 10 % less")
    dark = cell(0.0, 0.0, 5.0)
    assert today(dark, Since(180, 0.9, 0.1), LIGHT) == dark
    assert today(cell(0.0, 10.0, 20.0), Since(180, 0.9, 0.1), LIGHT).low == 0.0


def test_notes_put_together_what_is_alike() -> None:
    lamps = [Lamp(id="slow"), Lamp(id="fast"), Lamp(id="undated")]
    assert lamp_notes(lamps, ages(counts_from=0.2)) == (
        "slow, 2.8 years old, is taken to send 25 % less than when new",
        "fast, 1.8 years old, is taken to send 31 % less than when new",
    )
    twins = ages(new_on=dict.fromkeys(("slow", "fast"), date(2025, 11, 2)), fades={"slow": 0.1, "fast": 0.1})
    assert lamp_notes(lamps, twins) == (
        "slow and fast, 1.0 years old, are taken to send 10 % less than when new",
    )
    since = {"a": Since(90, 0.97, 0.03), "b": Since(90, 0.92, 0.05), "at c": Since(40, 1.0, 0.04)}
    assert reading_notes(since, ["a", "at c", "b", "fresh"]) == (
        "read 40 days ago at c: 4 % less sure",
        "read 90 days ago at a and b: 3 to 8 % less for lamps that fade, 3 to 5 % less sure",
    )
    assert since["at c"].in_words() == "since then 4 % less sure"
    assert named(["a", "b", "c", "d", "at e"]) == "a, b, c and 2 more"
