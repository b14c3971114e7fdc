from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.model.cells import CellKind, TruthCell
from advisor.model.changes import Add, Move, SetFact
from advisor.model.tank import ANYTHING, Fact, Flow, Statement
from advisor.reasoning.columns import MISSING
from advisor.reasoning.survey import Survey
from advisor.reasoning.survey_relations import truth_of, truths_of
from tests.reasoning.survey_samples import animal, fact, point, row, spot, survey, tank, truth, waiting

LEFT, RIGHT = point(0.0, 0.0), point(40.0, 5.0)


def told(*facts: Fact, direction: float | None = None, at: bool = False) -> Survey:
    """Return two animals on two spots, with positions if `at`."""
    spots = [spot("left", LEFT if at else None), spot("right", RIGHT if at else None), spot("arch")]
    animals = [animal("a-1", at="left"), animal("b-1", at="right"), waiting("n-1")]
    return survey(tank(spots, animals, facts, flow=Flow(direction_deg=direction)))


def cell(of: Survey, name: str, *names: str, world: int = 0) -> TruthCell:
    found = of.cell(name, tuple(row(of, each, world) for each in names))
    assert isinstance(found, TruthCell)
    return found


# --- the stream


@pytest.mark.parametrize("names", [("a-1", "b-1"), ("left", "b-1"), ("a-1", "right"), ("left", "right")])
def test_a_statement_goes_before_positions_however_it_names_the_two(names: tuple[str, str]) -> None:
    of = told(fact("down-flow", *names, truth=True), direction=0.0, at=True)
    assert truth(of, "down-flow", "a-1", "b-1") is True
    assert truth(of, "up-flow", "b-1", "a-1") is True


def test_what_lies_down_stream_one_way_does_not_the_other_way() -> None:
    of = told(fact("up-flow", "a-1", "b-1", truth=True))
    assert truth(of, "down-flow", "b-1", "a-1") is True
    assert truth(of, "down-flow", "a-1", "b-1") is False
    assert truth(of, "up-flow", "b-1", "a-1") is False


def test_pumps_that_alternate_may_be_stated_both_ways() -> None:
    of = told(fact("down-flow", "a-1", "b-1", truth=True), fact("down-flow", "b-1", "a-1", truth=True))
    assert [truth(of, "down-flow", *pair) for pair in (("a-1", "b-1"), ("b-1", "a-1"))] == [True, True]


def test_the_newest_statement_of_a_side_counts() -> None:
    old = fact("down-flow", "a-1", "b-1", truth=True, on=date(2026, 5, 1))
    new = fact("up-flow", "b-1", "a-1", truth=False, on=date(2026, 6, 1))
    assert truth(told(old, new), "down-flow", "a-1", "b-1") is False


# --- none


def test_a_stated_none_closes_a_relation_for_everything_that_is_not_named() -> None:
    of = told(fact("up-flow", ANYTHING, "left", none=True))
    assert truth(of, "up-flow", "b-1", "a-1") is False
    assert truth(of, "down-flow", "a-1", "b-1") is False
    assert truth(of, "up-flow", "a-1", "b-1") is None
    assert cell(of, "up-flow", "b-1", "a-1").supports[0].text == "you say none, left"


def test_what_is_named_stands_beside_a_stated_none() -> None:
    of = told(fact("above", "a-1", ANYTHING, none=True), fact("above", "a-1", "b-1", truth=True))
    assert truth(of, "above", "a-1", "b-1") is True


def test_a_none_was_not_said_of_animals_that_come_later() -> None:
    base = told(fact("up-flow", ANYTHING, "left", none=True)).tank
    of = survey(
        base,
        [
            (Add(base.animals[2], "arch"),),
            (Move("b-1", "arch"),),
            (Move("a-1", "arch"), Add(base.animals[2], "left")),
        ],
    )
    assert truth(of, "up-flow", "n-1", "a-1", world=1) is None
    assert truth(of, "up-flow", "b-1", "a-1", world=2) is None
    assert truth(of, "up-flow", "b-1", "n-1", world=3) is False


def test_a_none_covers_no_animal_that_was_moved_later() -> None:
    moved = animal("b-1", at="right", moved_on=date(2026, 9, 1))
    spots, first = [spot("left"), spot("right")], animal("a-1", at="left")
    for on, expected in ((None, None), (date(2026, 8, 1), None), (date(2026, 9, 1), False)):
        none = fact("up-flow", ANYTHING, "left", none=True, on=on)
        assert truth(survey(tank(spots, [first, moved], [none])), "up-flow", "b-1", "a-1") is expected


def test_a_stated_below_goes_before_positions_and_settles_both_ways() -> None:
    of = told(fact("above", "left", "b-1", truth=True))
    assert (truth(of, "above", "a-1", "b-1"), truth(of, "above", "b-1", "a-1")) == (True, False)


# --- given


def test_a_divider_is_there_only_if_somebody_says_so() -> None:
    nobody = cell(told(), "divider", "a-1", "b-1")
    assert (nobody.value, nobody.kind, nobody.cause) == (False, CellKind.STATED, None)
    assert nobody.supports[0].text == "nobody says so"
    of = told(fact("divider", "a-1", "b-1", truth=True))
    assert truth(of, "divider", "a-1", "b-1") is True
    assert truth(of, "divider", "b-1", "a-1") is True


def test_a_divider_stays_behind_when_an_animal_is_moved() -> None:
    base = told(fact("divider", "a-1", "b-1", truth=True)).tank
    assert truth(survey(base, [(Move("a-1", "arch"),)]), "divider", "a-1", "b-1", world=1) is False


def test_a_relation_of_one_animal() -> None:
    of = told(fact("fenced", "a-1", truth=True), fact("kept-trimmed", "right", truth=True))
    assert [cell(of, "fenced", name).value for name in ("a-1", "b-1")] == [True, False]
    assert [cell(of, "kept-trimmed", name).value for name in ("a-1", "b-1")] == [False, True]
    assert cell(of, "fenced", "b-1").supports[0].text == "nobody says so"


# --- changes


def test_a_change_may_state_a_relation_deny_it_or_leave_it_open() -> None:
    base = told(fact("down-flow", "a-1", "b-1", truth=True)).tank
    worlds = [
        (SetFact(fact("up-flow", "a-1", "b-1", **said)),) for said in ({"truth": True}, {"truth": False}, {})
    ]
    of = survey(base, worlds)
    assert [truth(of, "down-flow", "b-1", "a-1", world=world) for world in (1, 2, 3)] == [True, False, None]
    assert truth(of, "down-flow", "b-1", "a-1") is False
    assert cell(of, "down-flow", "b-1", "a-1", world=1).supports[0].text == "as supposed"


def test_a_change_may_put_up_a_divider_or_a_fence() -> None:
    worlds = [
        (SetFact(fact("divider", "a-1", "b-1", truth=True)),),
        (SetFact(fact("fenced", "a-1", truth=True)),),
    ]
    of = survey(told().tank, worlds)
    assert truth(of, "divider", "b-1", "a-1", world=1) is True
    assert cell(of, "fenced", "a-1", world=2).value is True
    assert (truth(of, "divider", "a-1", "b-1"), cell(of, "fenced", "a-1").value) == (False, False)


# --- columns


def test_truths_have_no_margin_and_lean_only_where_known() -> None:
    found = truths_of(np.array([True, False, False]), np.array([False, True, False]))
    assert found.lean.tolist() == [1, -1, 0]
    assert found.flags.tolist() == [0, 0, MISSING]
    assert np.isnan([found.low, found.best, found.high]).all()


def test_statements_of_one_day_that_disagree_leave_it_open() -> None:
    yes, no = Statement(truth=True), Statement(truth=False)
    assert truth_of((yes, no)) is None
    assert truth_of((yes,)) is True
    assert truth_of((Statement(none=True),)) is False


# --- shade


def test_who_stands_over_another_shades_it_and_who_is_shaded_stands_below() -> None:
    of = told(fact("above", "a-1", "b-1", truth=True))
    assert (truth(of, "shaded-by", "b-1", "a-1"), truth(of, "shaded-by", "a-1", "b-1")) == (True, False)
    of = told(fact("shaded-by", "b-1", "a-1", truth=True))
    assert (truth(of, "above", "a-1", "b-1"), truth(of, "above", "b-1", "a-1")) == (True, False)
    assert truth(told(), "shaded-by", "b-1", "a-1") is None


def test_a_stated_none_leaves_nothing_in_the_shade() -> None:
    of = told(fact("above", "a-1", ANYTHING, none=True))
    assert truth(of, "shaded-by", "b-1", "a-1") is False
    of = told(fact("shaded-by", "b-1", ANYTHING, none=True))
    assert truth(of, "above", "a-1", "b-1") is False
