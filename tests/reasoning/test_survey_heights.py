from __future__ import annotations

from advisor.model.cells import Cause, CellKind
from advisor.model.changes import Move, SetFact
from advisor.model.tank import Fact
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import animal, fact, number, point, row, span, spot, survey, tank


def stacked(*facts: Fact, at: bool = True, lower: str = "stinger") -> Survey:
    spots = [
        spot("top", point(0.0, 0.0, 40.0) if at else None),
        spot("foot", point(3.0, 0.0, 10.0) if at else None),
    ]
    return survey(tank(spots, [animal("up-1", at="top"), animal("low-1", lower, "foot")], facts))


def height(of: Survey, month: float = 0.0, world: int = 0) -> tuple[float, float]:
    return span(number(of, "clear-height", row(of, "up-1", world), row(of, "low-1", world), month=month))


TOLD = fact("clear-height", "top", "low-1", best=14.0, error=1.0)


def test_a_stated_height_is_as_stated() -> None:
    of = stacked(TOLD)
    assert height(of) == (13.0, 15.0)
    assert number(of, "clear-height", row(of, "up-1"), row(of, "low-1")).kind is CellKind.MEASURED


def test_the_lower_one_grows_into_it_and_the_upper_one_does_not() -> None:
    assert height(stacked(TOLD), month=10.0) == (11.0, 13.0)


def test_what_is_kept_trimmed_does_not_grow_into_it() -> None:
    assert height(stacked(TOLD, fact("kept-trimmed", "low-1", truth=True)), month=10.0) == (13.0, 15.0)


def test_positions_leave_open_how_high_the_lower_one_stands() -> None:
    of = stacked()
    cell = number(of, "clear-height", row(of, "up-1"), row(of, "low-1"))
    assert (cell.low, cell.best, cell.high) == (10.0, None, 30.0)
    assert (cell.kind, cell.cause) == (CellKind.COMPUTED, Cause.MISSING)


def test_of_an_animal_of_unknown_height_it_may_be_nothing() -> None:
    assert height(stacked(lower="mat")) == (0.0, 30.0)


def test_between_things_that_are_not_over_each_other_it_is_not_known() -> None:
    of = stacked()
    assert span(number(of, "clear-height", row(of, "low-1"), row(of, "up-1"))) == (0.0, 200.0)
    assert height(stacked(at=False)) == (0.0, 200.0)


def test_it_is_not_the_same_the_other_way_round() -> None:
    of = stacked(fact("clear-height", "up-1", "low-1", best=14.0), at=False)
    assert span(number(of, "clear-height", row(of, "low-1"), row(of, "up-1"))) == (0.0, 200.0)


def test_changes_move_it_or_state_it() -> None:
    base = stacked(TOLD).tank
    of = survey(
        base,
        [(Move("low-1", "top"),), (SetFact(fact("clear-height", "up-1", "low-1", best=5.0, error=0.0)),)],
    )
    assert height(of, world=1) == (0.0, 200.0)
    assert height(of, world=2) == (5.0, 5.0)
