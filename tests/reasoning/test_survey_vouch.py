from __future__ import annotations

from datetime import date, timedelta

import pytest

from advisor.model.cells import Cause, CellKind
from advisor.model.changes import Add, Remove, SetFact
from advisor.model.tank import Animal, Fact, Said
from advisor.model.vocabulary import Grade
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import TODAY, animal, fact, number, place_row, spot, survey, tank

LONG_AGO = date(2026, 3, 1)


def settled(name: str, taxon: str = "stinger", at: str = "ledge", on: date | None = LONG_AGO) -> Animal:
    return animal(name, taxon, at, placed_on=on)


def well(name: str, **more: object) -> Fact:
    return fact("doing", name, words=("well",), **more)


def of(animals: list[Animal], *facts: Fact) -> Survey:
    return survey(tank([spot("ledge"), spot("foot")], animals, facts))


def test_an_animal_that_has_done_well_for_months_bounds_the_light_there_by_its_card() -> None:
    cell = number(of([settled("zoa-3")], well("zoa-3")), "light", 1)
    assert (cell.low, cell.best, cell.high) == (50.0, None, 250.0)
    assert (cell.kind, cell.cause) == (CellKind.VOUCHED, None)
    support = cell.supports[0]
    assert (support.text, support.grade) == ("zoa-3 does well there", Grade.EXPERIENCE)
    assert support.source == "has done well there for 246 days; its card allows 50-250 PAR"


def test_it_bounds_the_flow_too_and_no_other_place() -> None:
    found = of([settled("zoa-3")], well("zoa-3"))
    assert (number(found, "flow", 1).low, number(found, "flow", 1).high) == (4.0, 22.0)
    assert number(found, "light", 0).cause is Cause.MISSING


@pytest.mark.parametrize(("days", "vouches"), [(89, False), (90, True)])
def test_it_takes_ninety_days(days: int, vouches: bool) -> None:
    found = of([settled("zoa-3", on=TODAY - timedelta(days=days))], well("zoa-3"))
    assert (number(found, "light", 1).kind is CellKind.VOUCHED) is vouches


def test_doing_well_for_long_counts_where_nobody_told_when_it_was_placed() -> None:
    assert number(of([settled("z", on=None)], well("z", since=LONG_AGO)), "light", 1).kind is CellKind.VOUCHED
    assert number(of([settled("z", on=None)], well("z")), "light", 1).cause is Cause.MISSING


def test_doing_well_for_long_elsewhere_does_not_count() -> None:
    found = of([settled("zoa-3", on=date(2026, 10, 20))], well("zoa-3", since=LONG_AGO))
    assert number(found, "light", 1).cause is Cause.MISSING


def test_an_animal_that_does_badly_or_of_which_nobody_tells_is_no_evidence() -> None:
    badly = fact("doing", "zoa-3", words=("badly",))
    for facts in ((badly,), ()):
        assert number(of([settled("zoa-3")], *facts), "light", 1).cause is Cause.MISSING


def test_an_animal_without_a_card_is_no_evidence() -> None:
    assert number(of([settled("odd-1", "oddity")], well("odd-1")), "light", 1).cause is Cause.MISSING


def test_several_animals_leave_what_all_of_them_allow() -> None:
    found = of([settled("a-1"), settled("b-1", "plate")], well("a-1"), well("b-1"))
    cell = number(found, "light", 1)
    assert (cell.low, cell.high) == (100.0, 250.0)
    assert [each.text for each in cell.supports] == ["a-1 does well there", "b-1 does well there"]


def test_animals_that_cannot_both_be_right_leave_all_that_any_of_them_allows() -> None:
    rules = tank(
        [spot("ledge"), spot("foot")],
        [settled("a-1", "mat"), settled("b-1", "plate")],
        [well("a-1"), well("b-1")],
    )
    narrow = fact("light", "ledge", words=("very low",), by=Said.SELLER)
    low = survey(rules.model_copy(update={"facts": (*rules.facts, narrow)}))
    cell = number(low, "light", 1)
    assert (cell.low, cell.high) == (10.0, 200.0)
    assert "the two do not agree" in [each.text for each in cell.supports]


def test_a_word_is_narrowed_and_keeps_its_ground() -> None:
    medium = fact("light", "ledge", words=("medium",), by=Said.SELLER)
    cell = number(of([settled("b-1", "plate")], well("b-1"), medium), "light", 1)
    assert (cell.low, cell.high, cell.kind) == (100.0, 250.0, CellKind.VOUCHED)
    assert [each.text for each in cell.supports] == ["seller's word 'medium'", "b-1 does well there"]


def test_a_word_narrower_than_the_card_stays_as_it_is() -> None:
    low = fact("flow", "ledge", words=("polyps sway",))
    cell = number(of([settled("a-1")], well("a-1"), low), "flow", 1)
    assert (cell.low, cell.high, cell.kind) == (6.0, 15.0, CellKind.STATED)


def test_a_reading_is_never_narrowed() -> None:
    reading = fact("light", "ledge", best=60.0, error=30.0, by=Said.INSTRUMENT)
    cell = number(of([settled("b-1", "plate")], well("b-1"), reading), "light", 1)
    assert (cell.low, cell.high, cell.kind) == (30.0, 90.0, CellKind.MEASURED)


def test_an_animal_says_more_than_a_reading_too_old_to_count() -> None:
    old = fact("light", "ledge", best=120.0, on=date(2026, 1, 1))
    cell = number(of([settled("a-1")], well("a-1"), old), "light", 1)
    assert (cell.low, cell.best, cell.high, cell.kind, cell.cause) == (
        50.0,
        120.0,
        250.0,
        CellKind.VOUCHED,
        None,
    )
    assert cell.supports[-1].text == "too old: 120 PAR"


def test_the_evidence_stays_when_the_animal_is_moved_away() -> None:
    base = tank([spot("ledge"), spot("foot")], [settled("a-1")], [well("a-1")])
    new = animal("n-1", phase="waiting")
    found = survey(base, [(Remove("a-1"), Add(new, "ledge"))])
    assert number(found, "light", int(found.animal_place[-1])).kind is CellKind.VOUCHED


def test_what_a_change_states_goes_before_any_evidence() -> None:
    base = tank([spot("ledge"), spot("foot")], [settled("a-1")], [well("a-1")])
    found = survey(
        base, [(SetFact(fact("light", "ledge")),), (SetFact(fact("light", "ledge", best=90.0, error=1.0)),)]
    )
    left_open = number(found, "light", place_row(found, "ledge", 1))
    assert (left_open.cause, left_open.high) == (Cause.MISSING, 2500.0)
    assert number(found, "light", place_row(found, "ledge", 2)).high == 91.0
    assert number(found, "light", place_row(found, "ledge")).kind is CellKind.VOUCHED
