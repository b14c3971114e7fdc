from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.model.cells import Cause, CellKind
from advisor.model.changes import Add, Move, SetFact
from advisor.model.tank import Animal, Box, Fact, Spot, Statement
from advisor.reasoning.columns import ASSUMED, MISSING
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import (
    animal,
    fact,
    gap,
    gap_of,
    library,
    point,
    row,
    rows,
    span,
    spot,
    survey,
    tank,
    waiting,
)

LEDGE, FOOT = spot("ledge", point(0.0, 0.0)), spot("foot", point(40.0, 0.0))


def two(*facts: Fact, ledge: Spot = LEDGE, foot: Spot = FOOT, **more: object) -> Survey:
    """Return two stingers, 6 and 10 cm wide, on two spots 40 cm apart."""
    animals = [animal("a-1", at="ledge"), animal("b-1", at="foot", size_cm=10.0), waiting("n-1", size_cm=8.0)]
    return survey(tank([ledge, foot, spot("arch", point(0.0, 30.0))], animals, facts, **more))


# --- worked out


def test_a_gap_is_the_distance_less_both_radii() -> None:
    cell = gap_of(two(), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high) == (32.0, 32.0, 32.0)
    assert (cell.kind, cell.cause) == (CellKind.COMPUTED, None)


def test_heights_count_as_much_as_the_ground_plan() -> None:
    cell = gap_of(two(foot=spot("foot", point(30.0, 0.0, 50.0))), "a-1", "b-1")
    assert cell.best == pytest.approx(50.0 - 8.0)


def test_an_error_of_a_width_widens_the_gap() -> None:
    wide = animal("b-1", at="foot", size_cm=None).model_copy(
        update={"size_cm": Statement(best=10.0, how="ruler")}
    )
    cell = gap_of(survey(tank([LEDGE, FOOT], [animal("a-1", at="ledge"), wide])), "a-1", "b-1")
    assert (span(cell), cell.best) == ((31.5, 32.5), 32.0)


def test_place_words_leave_a_range_and_no_best() -> None:
    left = spot("ledge", Box(x=(0.0, 40.0), y=(0.0, 10.0), z=(0.0, 0.0), by_word=True))
    right = spot("foot", Box(x=(80.0, 120.0), y=(0.0, 10.0), z=(0.0, 0.0), by_word=True))
    cell = gap_of(two(ledge=left, foot=right), "a-1", "b-1")
    assert cell.low == 40.0 - 8.0
    assert cell.best is None
    assert cell.high == pytest.approx(np.hypot(120.0, 10.0) - 8.0)
    assert cell.supports[0].text == "place words"
    assert cell.supports[0].source == "ledge and foot: 40-120 cm between the middles"


def test_animals_that_would_overlap_touch() -> None:
    cell = gap_of(two(foot=spot("foot", point(5.0, 0.0))), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high) == (0.0, 0.0, 0.0)


def test_nothing_told_leaves_everything_possible() -> None:
    cell = gap_of(two(ledge=spot("ledge")), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high) == (0.0, None, 500.0)
    assert (cell.kind, cell.cause) == (CellKind.UNKNOWN, Cause.MISSING)
    assert cell.supports[0].text == "not measured"


def test_an_animal_may_have_a_position_of_its_own() -> None:
    free = animal("c-1", box=point(0.0, 20.0))
    of = survey(tank([LEDGE], [animal("a-1", at="ledge"), free]))
    assert gap_of(of, "a-1", "c-1").best == 14.0


def test_an_animal_measured_at_its_open_edge_is_taken_open() -> None:
    of = survey(tank([LEDGE, FOOT], [animal("a-1", "mat", "ledge"), animal("b-1", at="foot", size_cm=10.0)]))
    assert gap_of(of, "a-1", "b-1").best == 40.0 - 9.0 - 5.0


# --- widths nobody told


def test_an_untold_width_is_reckoned_with_as_the_rules_say() -> None:
    of = survey(tank([LEDGE, FOOT], [animal("a-1", at="ledge"), animal("b-1", at="foot", size_cm=None)]))
    cell = gap_of(of, "a-1", "b-1")
    assert (cell.low, cell.best, cell.high, cell.cause) == (33.0, None, 36.5, Cause.MISSING)
    assert "width of b-1 a guess" in [each.text for each in cell.supports]
    pair = (rows(row(of, "a-1")), rows(row(of, "b-1")))
    assert of.numbers("gap", pair, None, True).flags.tolist() == [ASSUMED]


def test_without_guessing_it_is_at_most_as_wide_as_it_grows() -> None:
    of = survey(tank([LEDGE, FOOT], [animal("a-1", at="ledge"), animal("b-1", at="foot", size_cm=None)]))
    cell = gap_of(of, "a-1", "b-1", assume=False)
    assert (cell.low, cell.high) == (40.0 - 3.0 - 15.0, 40.0 - 3.0 - 0.25)
    pair = (rows(row(of, "a-1")), rows(row(of, "b-1")))
    assert of.numbers("gap", pair, None, False).flags.tolist() == [MISSING]


def test_of_an_animal_without_a_card_any_width_is_possible() -> None:
    odd = animal("b-1", "oddity", "foot", size_cm=None)
    of = survey(tank([LEDGE, FOOT], [animal("a-1", at="ledge"), odd]))
    assert gap_of(of, "a-1", "b-1", assume=False).low == 0.0


# --- stated


def test_a_stated_gap_goes_before_positions_and_is_edge_to_edge() -> None:
    cell = gap_of(two(gap("a-1", "b-1", 20.0, error=1.0)), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high, cell.kind) == (19.0, 20.0, 21.0, CellKind.MEASURED)
    assert [each.text for each in cell.supports] == ["tape"]


@pytest.mark.parametrize("pair", [("a-1", "b-1"), ("b-1", "a-1")])
def test_a_gap_may_be_stated_from_either_end(pair: tuple[str, str]) -> None:
    of = two(gap(*pair, 20.0))
    assert gap_of(of, "a-1", "b-1").best == gap_of(of, "b-1", "a-1").best == 20.0


def test_a_gap_from_a_spot_is_measured_from_its_middle() -> None:
    cell = gap_of(two(gap("ledge", "b-1", 20.0)), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high) == (17.0, 17.0, 17.0)
    assert "measured from the middle of the spot" in cell.supports[1].source


def test_a_gap_between_two_spots_is_measured_between_their_middles() -> None:
    assert gap_of(two(gap("ledge", "foot", 20.0)), "a-1", "b-1").best == 12.0


def test_a_spot_for_several_holds_each_anywhere_on_it() -> None:
    shelf = spot("ledge", point(0.0, 0.0), holds=3, extent_cm=8.0)
    cell = gap_of(two(gap("ledge", "b-1", 20.0), ledge=shelf), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high) == (13.0, 17.0, 21.0)


def test_the_newest_statement_counts_however_it_names_the_pair() -> None:
    of = two(gap("a-1", "b-1", 20.0, date(2026, 9, 1)), gap("ledge", "b-1", 26.0, date(2026, 10, 1)))
    assert gap_of(of, "a-1", "b-1").best == 23.0
    turned = two(gap("a-1", "b-1", 20.0, date(2026, 10, 1)), gap("ledge", "b-1", 26.0, date(2026, 9, 1)))
    assert gap_of(turned, "a-1", "b-1").best == 20.0


def test_of_one_day_the_statement_about_the_two_animals_counts() -> None:
    assert gap_of(two(gap("ledge", "b-1", 26.0), gap("a-1", "b-1", 20.0)), "a-1", "b-1").best == 20.0


def test_two_statements_of_one_day_and_kind_give_one_answer_from_both_ends() -> None:
    of = two(gap("ledge", "b-1", 26.0), gap("foot", "a-1", 20.0))
    there, back = gap_of(of, "a-1", "b-1"), gap_of(of, "b-1", "a-1")
    assert (there.low, there.best, there.high) == (back.low, back.best, back.high)
    assert there.best in (23.0, 15.0)


# --- nothing else near


def closing(**more: object) -> Survey:
    return two(ledge=spot("ledge", None, **more), foot=spot("foot"))


def test_nothing_else_within_a_spot_is_measured_from_its_middle() -> None:
    cell = gap_of(closing(nothing_else_within_cm=40.0), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high, cell.cause) == (37.0, None, 500.0, Cause.MISSING)
    assert cell.supports[-1].text == "you say nothing is nearer"


def test_nothing_else_within_an_animal_is_measured_from_its_edge() -> None:
    of = survey(tank((), [animal("a-1", nothing_else_within_cm=40.0), animal("b-1")]))
    assert gap_of(of, "a-1", "b-1").low == gap_of(of, "b-1", "a-1").low == 40.0


def test_all_gaps_stated_puts_the_unnamed_beyond_any_reach() -> None:
    assert (
        gap_of(closing(gaps_complete=True), "a-1", "b-1").low
        == library().vocabulary.measures["reach-most"].high
    )


def test_a_stated_gap_goes_before_what_is_said_of_the_rest() -> None:
    of = two(gap("a-1", "b-1", 10.0), ledge=spot("ledge", nothing_else_within_cm=40.0))
    assert gap_of(of, "a-1", "b-1").high == 10.0


def test_what_a_keeper_says_of_the_rest_goes_before_positions() -> None:
    near = spot("ledge", point(20.0, 0.0), nothing_else_within_cm=40.0)
    cell = gap_of(two(ledge=near), "a-1", "b-1")
    assert (cell.low, cell.best, cell.high) == (37.0, None, 500.0)


def test_it_was_not_said_of_animals_that_come_later() -> None:
    spots = [spot("ledge", nothing_else_within_cm=40.0), spot("foot"), spot("arch")]
    base = tank(spots, [animal("b-1", at="foot"), waiting("n-1"), waiting("m-1")])
    new, more = base.animals[1:]
    of = survey(
        base,
        [
            (Add(new, "ledge"),),
            (Add(new, "ledge"), Add(more, "arch")),
            (Add(new, "ledge"), Move("b-1", "arch")),
        ],
    )
    assert gap_of(of, "n-1", "b-1", world=1).low == 37.0
    assert gap_of(of, "n-1", "m-1", world=2).low == 0.0
    assert gap_of(of, "n-1", "b-1", world=3).low == 0.0


@pytest.mark.parametrize(
    ("closed_on", "moved_on", "low"),
    [
        (None, None, 37.0),
        (None, date(2026, 9, 1), 0.0),
        (date(2026, 8, 1), date(2026, 9, 1), 0.0),
        (date(2026, 9, 1), date(2026, 9, 1), 37.0),
        (date(2026, 10, 1), date(2026, 9, 1), 37.0),
    ],
)
def test_it_covers_no_animal_that_was_moved_later(
    closed_on: date | None, moved_on: date | None, low: float
) -> None:
    spots = [spot("ledge", nothing_else_within_cm=40.0, closed_on=closed_on), spot("foot")]
    of = survey(tank(spots, [animal("a-1", at="ledge"), animal("b-1", at="foot", moved_on=moved_on)]))
    assert gap_of(of, "a-1", "b-1").low == low


# --- one spot


def test_two_on_one_spot_may_touch_and_are_no_further_apart_than_it_is_wide() -> None:
    shelf = spot("shelf", holds=4, extent_cm=30.0)
    of = survey(tank([shelf], [animal("a-1", at="shelf"), animal("b-1", at="shelf")]))
    cell = gap_of(of, "a-1", "b-1")
    assert (cell.low, cell.best, cell.high, cell.cause) == (0.0, None, 24.0, Cause.MISSING)
    assert (cell.supports[0].text, cell.supports[0].source) == (
        "both on one spot",
        "30 cm across: they may touch",
    )


def test_two_on_a_small_spot_touch() -> None:
    small = spot("shelf", point(0.0, 0.0), holds=2, extent_cm=5.0)
    of = survey(tank([small], [animal("a-1", at="shelf"), animal("b-1", at="shelf")]))
    assert span(gap_of(of, "a-1", "b-1")) == (0.0, 0.0)


def test_two_on_a_spot_of_unknown_width_may_be_anywhere() -> None:
    of = survey(tank([spot("shelf", holds=2)], [animal("a-1", at="shelf"), animal("b-1", at="shelf")]))
    assert span(gap_of(of, "a-1", "b-1")) == (0.0, 500.0)


def test_two_on_one_spot_with_positions_of_their_own_are_as_far_apart_as_those() -> None:
    animals = [
        animal("a-1", at="shelf", box=point(0.0, 0.0)),
        animal("b-1", at="shelf", box=point(10.0, 0.0)),
    ]
    assert gap_of(survey(tank([spot("shelf", holds=2)], animals)), "a-1", "b-1").best == 4.0


# --- growth


def test_both_edges_grow_into_a_gap() -> None:
    cell = gap_of(two(), "a-1", "b-1", month=10.0)
    assert (cell.low, cell.best, cell.high) == (26.0, 26.0, 26.0)
    assert cell.supports[-1].text == "grows 3 + 3 mm a month"
    assert "card stinger: trade knowledge" in cell.supports[-1].source


def test_a_gap_ends_at_touching() -> None:
    assert span(gap_of(two(), "a-1", "b-1", month=100.0)) == (0.0, 0.0)


def test_stated_gaps_grow_shut_too() -> None:
    assert gap_of(two(gap("a-1", "b-1", 20.0)), "a-1", "b-1", month=10.0).best == 14.0


def test_what_is_kept_trimmed_does_not_grow() -> None:
    of = two(fact("kept-trimmed", "a-1", truth=True))
    cell = gap_of(of, "a-1", "b-1", month=10.0)
    assert cell.best == 29.0
    assert cell.supports[-1].text == "grows 0 + 3 mm a month"
    assert "a-1: kept trimmed" in cell.supports[-1].source


def test_unknown_growth_may_be_none_or_the_fastest_there_is() -> None:
    of = survey(
        tank([LEDGE, FOOT], [animal("a-1", "oddity", "ledge"), animal("b-1", at="foot", size_cm=10.0)])
    )
    cell = gap_of(of, "a-1", "b-1", month=5.0)
    assert (cell.low, cell.best, cell.high, cell.cause) == (
        32.0 - 1.5 - 20.0,
        None,
        32.0 - 1.5,
        Cause.MISSING,
    )


def test_each_pair_may_be_asked_for_its_own_month() -> None:
    of = two()
    a, b = row(of, "a-1"), row(of, "b-1")
    column = of.numbers("gap", (rows(a, a, a), rows(b, b, b)), np.array([0.0, 10.0, 20.0]), True)
    assert column.best.tolist() == [32.0, 26.0, 20.0]


# --- changes


def test_an_animal_that_is_moved_leaves_its_gaps_behind_and_takes_its_width_along() -> None:
    base = two(gap("a-1", "b-1", 10.0), gap("arch", "b-1", 20.0)).tank
    of = survey(base, [(Move("a-1", "arch"),)])
    assert gap_of(of, "a-1", "b-1", world=1).best == 17.0
    assert gap_of(of, "a-1", "b-1").best == 10.0


def test_a_moved_animal_without_stated_gaps_is_where_the_spot_is() -> None:
    of = survey(two(gap("a-1", "b-1", 10.0)).tank, [(Move("a-1", "arch"),)])
    assert gap_of(of, "a-1", "b-1", world=1).best == pytest.approx(50.0 - 8.0)


def test_a_gap_of_a_spot_holds_for_whoever_is_put_there() -> None:
    base = two(gap("arch", "b-1", 20.0)).tank
    of = survey(base, [(Add(base.animals[2], "arch"),)])
    assert gap_of(of, "n-1", "b-1", world=1).best == 16.0


def test_a_change_may_state_a_gap_or_leave_it_open() -> None:
    base = two(gap("a-1", "b-1", 10.0)).tank
    of = survey(base, [(SetFact(gap("b-1", "a-1", 33.0)),), (SetFact(fact("gap", "a-1", "b-1")),)])
    supposed, opened = gap_of(of, "a-1", "b-1", world=1), gap_of(of, "a-1", "b-1", world=2)
    assert (supposed.best, supposed.supports[0].text) == (33.0, "as supposed")
    assert gap_of(of, "b-1", "a-1", world=1).best == 33.0
    assert (span(opened), opened.kind, opened.cause) == ((0.0, 500.0), CellKind.UNKNOWN, Cause.MISSING)
    assert gap_of(of, "a-1", "b-1").best == 10.0


def test_a_change_may_state_the_gap_of_an_animal_it_adds() -> None:
    base = two().tank
    change = (SetFact(gap("n-1", "a-1", 3.0)), Add(base.animals[2], "arch"))
    assert gap_of(survey(base, [change]), "n-1", "a-1", world=1).best == 3.0


def test_the_own_position_of_an_animal_stays_behind_when_it_is_moved() -> None:
    free: Animal = animal("c-1", box=point(0.0, 20.0))
    of = survey(tank([LEDGE, FOOT], [animal("a-1", at="ledge"), free]), [(Move("c-1", "foot"),)])
    assert gap_of(of, "a-1", "c-1", world=1).best == 34.0
