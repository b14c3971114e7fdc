"""A meter whose factor under water is not known: every reading of light without an error is less sure."""

from __future__ import annotations

import math

import pytest

from advisor.model.tank import Fact
from advisor.reasoning.survey_facts import collect
from advisor.reasoning.survey_meter import factor_doubt
from tests.reasoning.survey_samples import TODAY, animal, fact, library, number, place_row, spot, survey, tank

RULES = library('let unsure-meter-error = 20 % because "factors differ" source "manuals" kind maker')
UNSURE = fact("meter-uncorrected", "tank", truth=True)
READ = fact("light", "ledge", best=120.0)


def light(*facts: Fact, shipped: bool = True) -> tuple[float, float]:
    """Return the range of the light at the ledge. [PAR]"""
    home = tank([spot("ledge")], [animal("a", at="ledge")], facts)
    made = survey(home, rules=RULES if shipped else library())
    cell = number(made, "light", place_row(made, "ledge"))
    return cell.low, cell.high


def test_a_reading_is_a_fifth_off_where_the_factor_is_not_known() -> None:
    assert light(READ, UNSURE) == pytest.approx((120 / 1.2, 120 * 1.2))


def test_a_reading_is_as_sure_as_ever_where_nobody_says_so() -> None:
    usual = pytest.approx((120 / 1.12, 120 * 1.12))
    assert light(READ) == usual
    assert light(READ, fact("meter-uncorrected", "tank", truth=False)) == usual
    assert light(READ, UNSURE, shipped=False) == usual


def test_an_error_that_is_stated_stays() -> None:
    assert light(fact("light", "ledge", best=120.0, error=6.0), UNSURE) == pytest.approx((114, 126))


def test_the_same_error_is_one_that_all_readings_share() -> None:
    told = collect(tank([spot("ledge")], facts=[UNSURE]), RULES.vocabulary, TODAY)
    assert math.exp(1.6448536 * factor_doubt(RULES, told)) == pytest.approx(1.2)
    assert factor_doubt(RULES, collect(tank(), RULES.vocabulary, TODAY)) == 0.0
