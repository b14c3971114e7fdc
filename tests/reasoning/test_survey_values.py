from __future__ import annotations

from datetime import date, timedelta

import pytest

from advisor.model.cells import Cause, CellKind, NumberCell, SetCell, WordCell
from advisor.model.tank import Said, Statement
from advisor.model.vocabulary import Measure
from advisor.reasoning.survey_facts import newest_first
from advisor.reasoning.survey_values import Reader, join_numbers, reading_range, unknown
from tests.reasoning.survey_samples import TODAY, library, read, said

READER = Reader(library().vocabulary, library().words, TODAY)


def measure(name: str) -> Measure:
    return library().vocabulary.measures[name]


def numbers(name: str, *statements: Statement) -> NumberCell:
    cell = READER.cell(measure(name), newest_first(statements))
    assert isinstance(cell, NumberCell)
    return cell


def test_light_is_wrong_by_a_factor() -> None:
    cell = numbers("light", read(112.0))
    assert (cell.low, cell.best, cell.high) == pytest.approx((100.0, 112.0, 125.44))
    assert (cell.kind, cell.cause) == (CellKind.MEASURED, None)


def test_flow_is_wrong_by_a_factor_too() -> None:
    cell = numbers("flow", read(13.0))
    assert (cell.low, cell.best, cell.high) == pytest.approx((10.0, 13.0, 16.9))


def test_a_width_is_wrong_by_a_share_of_it() -> None:
    assert reading_range(measure("size"), 10.0, None) == pytest.approx((9.0, 11.0))


def test_a_length_is_wrong_by_an_amount() -> None:
    assert reading_range(measure("gap"), 20.0, None) == (19.0, 21.0)


def test_a_temperature_is_wrong_by_a_temperature_difference() -> None:
    cell = numbers("temperature", read(25.0, TODAY))
    assert (cell.low, cell.high) == (24.5, 25.5)


def test_a_stated_error_replaces_the_usual_one() -> None:
    cell = numbers("light", read(118.0, error=12.0))
    assert (cell.low, cell.high) == (106.0, 130.0)


@pytest.mark.parametrize(
    ("value", "error", "expected"), [(5.0, 20.0, (0.0, 25.0)), (2490.0, 50.0, (2440.0, 2500.0))]
)
def test_an_error_never_leaves_what_is_possible(
    value: float, error: float, expected: tuple[float, float]
) -> None:
    assert reading_range(measure("light"), value, error) == expected


def test_the_newest_valid_reading_counts() -> None:
    cell = numbers("gap", read(10.0, date(2026, 10, 1)), read(20.0, date(2026, 10, 20)), read(30.0), said())
    assert cell.best == 20.0


def test_two_readings_of_one_day_are_both_covered() -> None:
    cell = numbers("gap", read(10.0, TODAY), read(14.0, TODAY))
    assert (cell.low, cell.best, cell.high) == (9.0, 12.0, 15.0)
    assert len(cell.supports) == 1  # one meter, one day


def test_a_range_has_no_best_and_may_be_open_on_one_side() -> None:
    both, least = numbers("gap", said(low=10.0, high=14.0)), numbers("gap", said(low=20.0))
    assert (both.low, both.best, both.high, both.kind) == (10.0, None, 14.0, CellKind.STATED)
    assert (least.low, least.high) == (20.0, 500.0)


def test_a_reading_too_old_is_the_whole_physical_range_and_leans_as_it_was() -> None:
    day = TODAY - timedelta(days=181)
    cell = numbers("light", read(118.0, day))
    assert (cell.low, cell.best, cell.high, cell.cause) == (0.0, 118.0, 2500.0, Cause.STALE)
    assert cell.supports[0].text == "too old: 118 PAR"
    assert "good for 180 days" in cell.supports[0].source
    assert numbers("light", read(118.0, TODAY - timedelta(days=180))).cause is None


def test_a_reading_without_a_date_cannot_be_too_old() -> None:
    assert numbers("light", read(118.0)).cause is None


def test_a_word_stands_for_what_the_speaker_means_by_it() -> None:
    seller = numbers("light", said(words=("medium",), by=Said.SELLER))
    keeper = numbers("light", said(words=("medium",)))
    assert (seller.low, seller.best, seller.high, seller.kind) == (50.0, None, 250.0, CellKind.STATED)
    assert keeper.low < seller.low
    assert keeper.high > seller.high


def test_a_word_of_one_light_serves_every_light() -> None:
    assert numbers("origin-light", said(words=("medium",), by=Said.SELLER)).high == 250.0


def test_what_anyone_sees_counts_whoever_says_it() -> None:
    assert [
        numbers("flow", said(words=("polyps sway",), by=who)).high for who in (Said.KEEPER, Said.SELLER)
    ] == [15.0, 15.0]


def test_words_are_known_whatever_their_capitals() -> None:
    assert numbers("light", said(words=("Medium",), by=Said.SELLER)).high == 250.0


def test_several_words_cover_all_they_stand_for() -> None:
    cell = numbers("light", said(words=("low", "medium"), by=Said.SELLER))
    assert (cell.low, cell.high) == (30.0, 250.0)


def test_a_word_nobody_knows_tells_nothing_and_says_so() -> None:
    cell = numbers("light", said(words=("groovy",), by=Said.SELLER))
    assert (cell.low, cell.best, cell.high) == (0.0, None, 2500.0)
    assert (cell.kind, cell.cause) == (CellKind.UNKNOWN, Cause.MISSING)
    assert (cell.supports[0].text, cell.supports[0].source) == ("seller's word 'groovy'", "not a word I know")


def test_no_flow_at_all_is_a_word_for_flow() -> None:
    assert numbers("flow", said(none=True)).high == 5.0


def test_words_and_truths_become_words() -> None:
    cell = READER.cell(measure("faces"), (said(words=("up",)),))
    yes = READER.cell(measure("ledge"), (said(truth=True),))
    assert isinstance(cell, WordCell)
    assert isinstance(yes, WordCell)
    assert (cell.possible, yes.possible) == (frozenset({"up"}), frozenset({"yes"}))


def test_two_words_of_one_day_leave_both_possible() -> None:
    cell = READER.cell(measure("faces"), newest_first((said(words=("up",)), said(words=("side",)))))
    assert isinstance(cell, WordCell)
    assert cell.possible == frozenset({"up", "side"})


def test_sets_hold_every_word_said() -> None:
    cell = READER.cell(measure("footing"), (said(words=("rock", "sand")),))
    assert isinstance(cell, SetCell)
    assert cell.surely == cell.possibly == frozenset({"rock", "sand"})


def test_nothing_said_is_no_cell() -> None:
    assert READER.cell(measure("light"), ()) is None
    assert READER.cell(measure("faces"), (said(3.0),)) is None


def test_what_is_not_known_is_everything_possible() -> None:
    number, closed, open_, several = (
        unknown(measure(name), ()) for name in ("light", "faces", "genus", "footing")
    )
    assert isinstance(number, NumberCell)
    assert (number.low, number.best, number.high) == (0.0, None, 2500.0)
    assert isinstance(closed, WordCell)
    assert closed.possible == frozenset({"up", "tilted", "side", "under"})
    assert isinstance(open_, WordCell)
    assert open_.possible is None
    assert isinstance(several, SetCell)
    assert several.surely == frozenset()
    assert several.possibly == frozenset({"rock", "sand", "rubble", "glass", "rack"})
    assert {each.cause for each in (number, closed, open_, several)} == {Cause.MISSING}


def test_the_hull_of_cells_has_a_best_only_where_all_have() -> None:
    one, other = NumberCell(1.0, 2.0, 3.0, CellKind.MEASURED), NumberCell(2.0, None, 5.0, CellKind.MEASURED)
    assert join_numbers([one, other]) == NumberCell(1.0, None, 5.0, CellKind.MEASURED)
    assert join_numbers([one]) is one
