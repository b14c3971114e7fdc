"""A meter whose factor under water is not known: every reading of light without an error is less sure."""

from __future__ import annotations

import math

import pytest

from advisor.model.tank import Fact, Immersion
from advisor.reasoning.survey_facts import collect
from advisor.reasoning.survey_meter import factor_doubt
from tests.reasoning.survey_samples import TODAY, animal, fact, library, number, place_row, spot, survey, tank

RULES = library('let unsure-meter-error = 20 % because "factors differ" source "manuals" kind maker')
UNSURE = fact("meter-uncorrected", "tank", truth=True)
READ = fact("light", "ledge", best=120.0)
CORRECTED, UNTOLD = Immersion(factor=1.0), Immersion(factor=None)
NOT_KNOWN = fact("light", "ledge", best=120.0, immersion=UNTOLD)


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


def test_a_factor_told_of_the_reading_goes_before_what_is_told_of_the_tank() -> None:
    usual = pytest.approx((120 / 1.12, 120 * 1.12))
    assert light(fact("light", "ledge", best=120.0, immersion=CORRECTED), UNSURE) == usual
    told = fact("light", "ledge", best=96.0, immersion=Immersion(factor=1.25))
    assert light(told, UNSURE) == light(told) == usual


def test_a_factor_unknown_of_one_reading_widens_that_one_alone() -> None:
    home = tank([spot("ledge"), spot("foot")], facts=[NOT_KNOWN, fact("light", "foot", best=120.0)])
    made = survey(home, rules=RULES)
    one, other = (number(made, "light", place_row(made, name)) for name in ("ledge", "foot"))
    assert (one.low, one.high) == pytest.approx((120 / 1.2, 120 * 1.2))
    assert (other.low, other.high) == pytest.approx((120 / 1.12, 120 * 1.12))
    assert "the factor of its meter under water is not known" in one.supports[0].source
    assert light(NOT_KNOWN, shipped=False) == pytest.approx((120 / 1.12, 120 * 1.12))


def test_of_its_own_error_and_that_of_the_factor_the_larger_stands() -> None:
    for error, wide in ((6.0, 120 * 0.2), (60.0, 60.0)):
        low, high = light(fact("light", "ledge", best=120.0, error=error, immersion=UNTOLD))
        assert high == pytest.approx(120 + wide)
        assert low == pytest.approx(120 / 1.2 if error < wide else 120 - wide)


def test_what_a_factor_does_not_tell_is_shared_by_all_that_one_meter_read() -> None:
    home = tank([spot("ledge")], facts=[UNSURE])
    doubt = factor_doubt(RULES, collect(home, RULES.vocabulary, TODAY))
    measure = RULES.vocabulary.measures["light"]
    ((name, sd),) = doubt.shared(measure, READ.said, "ledge")
    assert name == "factor of the meter"
    assert math.exp(1.6448536 * sd) == pytest.approx(1.2)
    by_meter = NOT_KNOWN.said.model_copy(update={"how": "old-head, by night"})
    assert doubt.shared(measure, by_meter, "ledge")[0][0] == "factor of old-head"
    assert doubt.shared(measure, NOT_KNOWN.said, "ledge")[0][0] == "factor of ledge"
    sure = fact("light", "ledge", best=120.0, immersion=CORRECTED)
    assert doubt.shared(measure, sure.said, "ledge") == ()
    assert factor_doubt(RULES, collect(tank(), RULES.vocabulary, TODAY)).shared(measure, READ.said, "a") == ()


def test_an_error_that_covers_the_factor_covers_it_for_the_field_too() -> None:
    doubt = factor_doubt(RULES, collect(tank([spot("ledge")], facts=[UNSURE]), RULES.vocabulary, TODAY))
    measure = RULES.vocabulary.measures["light"]
    for error, immersion, counts in ((6.0, None, False), (6.0, UNTOLD, True), (60.0, UNTOLD, False)):
        said = fact("light", "ledge", best=120.0, error=error, immersion=immersion).said
        assert (bool(doubt.shared(measure, said, "ledge")), doubt.as_read(measure, said)[1] != said) == (
            counts,
            counts,
        )


def test_a_house_line_that_sets_the_doubt_of_a_factor_is_told_with_the_reading() -> None:
    house = 'house\n  change unsure-meter-error from 20 % to 30 % because "an old head"\n'
    let = 'let unsure-meter-error = 20 % because "factors differ" source "manuals" kind maker'
    home = tank([spot("ledge"), spot("foot")], facts=[NOT_KNOWN, fact("light", "foot", best=120.0)])
    made = survey(home, rules=library(let, house))
    unsure, sure = (number(made, "light", place_row(made, name)) for name in ("ledge", "foot"))
    assert unsure.high == pytest.approx(120 * 1.3)
    assert [each.source for each in unsure.supports[1:]] == ["changed unsure-meter-error"]
    assert unsure.supports[0].source.endswith("is not known; error ±30 %, for that factor")
    assert sure.supports[0].source.endswith("error ±12 %, the usual one")
    assert len(sure.supports) == 1
