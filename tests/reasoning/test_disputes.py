"""A verdict is disputed only where the line that does not govern would make it another."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.model.results import Verdict
from advisor.reasoning.bindings import bindings_of, population_of
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.reasons import Asked, reasons_for
from tests.reasoning.grids import random_grid
from tests.reasoning.small import library_of, rule_text
from tests.reasoning.survey_samples import animal, fact, library, point, spot, survey, tank, told_twice

# The sample card "mat" bears at most 200 PAR by one source and 300 PAR by another; the stricter governs.
NOT_TOO_BRIGHT = "light(a.spot) <= light-max(a)"


def told(
    expect: str, par: float, *, taxon: str = "mat", when: str = "", level: str = "danger"
) -> tuple[Verdict, bool]:
    """The verdict of a rule on one animal in some light, and whether it is disputed."""
    text = rule_text(expect, when=when, level=level)
    rules = library(text)
    light = fact("light", "ledge", best=par, error=1.0, on=date(2026, 10, 28))
    of = survey(tank([spot("ledge")], [animal("m-1", taxon, at="ledge")], [light]), rules=rules)
    compiled = compile_rule(rules.rules["tested"], rules)
    population = population_of(of)
    found = bindings_of(of, population, compiled.binders, everywhere=False)
    (reason,) = reasons_for(compiled, of, population, found, np.zeros(1), [Asked()])
    return reason.verdict, reason.disputed


@pytest.mark.parametrize(
    ("par", "verdict", "disputed"),
    [
        (150.0, Verdict.HOLDS, False),  # both sources allow it
        (199.0, Verdict.HOLDS, False),
        (200.0, Verdict.UNDECIDED, True),  # too close to the stricter line, well inside the other
        (250.0, Verdict.FAILS, True),  # between the two
        (298.0, Verdict.FAILS, True),
        (300.0, Verdict.FAILS, True),  # the other source could not tell
        (302.0, Verdict.FAILS, False),
        (400.0, Verdict.FAILS, False),  # both forbid it
    ],
)
def test_between_the_two_lines_a_verdict_is_disputed_and_nowhere_else(
    par: float, verdict: Verdict, disputed: bool
) -> None:
    assert told(NOT_TOO_BRIGHT, par) == (verdict, disputed)


def test_a_card_on_which_all_agree_is_never_disputed() -> None:
    assert told(NOT_TOO_BRIGHT, 260.0, taxon="stinger") == (Verdict.FAILS, False)


def test_a_dispute_in_the_condition_counts_as_well() -> None:
    assert told("light(a.spot) <= 100 PAR", 150.0, when="light-max(a) <= 220 PAR") == (Verdict.FAILS, True)
    assert told("light(a.spot) <= 100 PAR", 150.0, when="light-max(a) <= 320 PAR") == (Verdict.FAILS, False)


def test_a_dispute_that_another_condition_settles_does_not_count() -> None:
    assert told(f"{NOT_TOO_BRIGHT} or size(a) >= 2 cm", 250.0) == (Verdict.HOLDS, False)


def test_what_is_made_of_many_is_judged_again_too() -> None:
    some = "not any neighbour n of a where light-max(n) >= 250 PAR"
    text = rule_text(some)
    rules = library(text)
    of = survey(tank([spot("ledge")], [animal("m-1", "mat"), animal("s-1", "stinger")]), rules=rules)
    compiled = compile_rule(rules.rules["tested"], rules)
    population = population_of(of)
    found = bindings_of(of, population, compiled.binders, everywhere=False)
    reasons = reasons_for(compiled, of, population, found, np.zeros(2), [Asked(), Asked()])
    assert {reason.subjects[0]: reason.disputed for reason in reasons} == {"m-1": False, "s-1": True}


# 20 cm from middle to middle; each 6 cm wide, the mat 18 cm where it is held to swell three times.
@pytest.mark.parametrize(
    ("line", "expect", "horizon", "verdict", "disputed"),
    [
        ("swells most 1 times", "gap(a, n) >= 12 cm", False, Verdict.UNDECIDED, True),
        ("swells most 1 times", "gap(a, n) >= 6 cm", False, Verdict.HOLDS, False),
        ("swells most 1 times", "gap(a, n) >= 18 cm", False, Verdict.FAILS, False),
        ("edge skeleton", "gap(a, n) >= 12 cm", False, Verdict.UNDECIDED, True),
        ("edge skeleton", "gap(a, n) >= 18 cm", False, Verdict.FAILS, False),
        ("growth out 1 mm/month", "gap(a, n) >= 3 cm", True, Verdict.FAILS, True),
        ("growth out 1 mm/month", "gap(a, n) >= 3 cm", False, Verdict.HOLDS, False),
        ("swells most 1 times", "not above(a, n)", False, Verdict.HOLDS, False),
    ],
)
@pytest.mark.parametrize("mine", [True, False])
def test_a_dispute_counts_behind_what_is_worked_out_from_either_side(
    line: str, expect: str, horizon: bool, verdict: Verdict, disputed: bool, mine: bool
) -> None:
    text = rule_text(expect, binders="animal a, neighbour n of a" if mine else "animal n, neighbour a of n")
    rules = told_twice(line, text)
    spots = [spot("here", point(0.0, 0.0)), spot("there", point(20.0, 0.0))]
    of = survey(tank(spots, [animal("m-1", "mat", "here"), animal("s-1", at="there")]), rules=rules)
    compiled = compile_rule(rules.rules["tested"], rules)
    population = population_of(of)
    found = bindings_of(of, population, compiled.binders, everywhere=False)
    months = np.full(2, 12.0 if horizon else 0.0)
    reasons = reasons_for(compiled, of, population, found, months, [Asked(), Asked()])
    assert [(reason.verdict, reason.disputed) for reason in reasons] == [(verdict, disputed)] * 2


def test_a_dispute_about_a_width_counts_where_one_stands_over_another() -> None:
    text = rule_text("not above(a, n)", binders="animal a, neighbour n of a")
    rules = told_twice("swells most 1 times", text)
    spots = [spot("high", point(0.0, 0.0, 20.0)), spot("low", point(8.0, 0.0, 0.0))]
    of = survey(tank(spots, [animal("m-1", "mat", "high"), animal("s-1", at="low")]), rules=rules)
    compiled = compile_rule(rules.rules["tested"], rules)
    population = population_of(of)
    found = bindings_of(of, population, compiled.binders, everywhere=False)
    reasons = reasons_for(compiled, of, population, found, np.zeros(2), [Asked(), Asked()])
    told = {reason.subjects[0]: (reason.verdict, reason.disputed) for reason in reasons}
    assert told == {"m-1": (Verdict.UNDECIDED, True), "s-1": (Verdict.HOLDS, False)}


def test_tables_without_cards_have_no_disputes() -> None:
    rules = library_of(rule_text("size(a) >= 3 cm"))
    compiled = compile_rule(rules.rules["tested"], rules)
    grid = random_grid(rules, 2, animals=2, worlds=0)
    population = population_of(grid)
    found = bindings_of(grid, population, compiled.binders, everywhere=False)
    reasons = reasons_for(compiled, grid, population, found, np.zeros(2), [Asked(), Asked()])
    assert [reason.disputed for reason in reasons] == [False, False]
