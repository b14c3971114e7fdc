from __future__ import annotations

import pytest

from advisor.model.changes import SetFact
from advisor.model.tank import ANYTHING
from advisor.reasoning.survey_tables import same_both_ways
from tests.reasoning.survey_samples import animal, fact, gap, library, point, row, spot, survey, tank, truth


@pytest.mark.parametrize(
    ("name", "same"),
    [("divider", True), ("long-settled", True), ("same-clone", True), ("same-rock", True), ("above", False),
     ("down-flow", False), ("up-flow", False), ("fenced", False)],
)  # fmt: skip
def test_whether_a_relation_is_the_same_both_ways_shows_in_its_phrase(name: str, same: bool) -> None:
    assert same_both_ways(library().vocabulary.relations[name]) is same


def test_growth_of_each_row_ends_with_one_that_does_not_grow() -> None:
    of = survey(tank((), [animal("a-1"), animal("b-1", "mat")], [fact("kept-trimmed", "b-1", truth=True)]))
    spread = of._pairs.spread("grows-out")
    assert spread.high.tolist() == [3.0, 0.0, 0.0]
    assert spread.flags.tolist() == [0, 0, 0]


def test_a_relation_of_one_thing_may_be_about_a_place() -> None:
    rules = library('relation screened(place p) given from keeper say "{p} is screened"\n')
    of = survey(tank([spot("ledge"), spot("foot")], (), [fact("screened", "foot", truth=True)]), rules=rules)
    cells = [of.cell("screened", (of.spot_place[name],)) for name in ("foot", "ledge")]
    assert [getattr(cell, "value", None) for cell in cells] == [True, False]


def test_a_relation_that_is_not_given_stays_open_until_told() -> None:
    rules = library('relation shy(animal a) from keeper say "{a} is shy" ask "Is {a} shy?"\n')
    of = survey(tank((), [animal("a-1"), animal("b-1")], [fact("shy", "a-1", truth=False)]), rules=rules)
    found = of.truths("shy", (of.rows_in(0),), None)
    assert (found.yes.tolist(), found.no.tolist()) == ([False, False], [True, False])
    assert found.lean.tolist() == [-1, 0]
    assert of.ask("shy", (1,)) == "Is b-1 shy?"


def test_a_change_may_state_that_there_is_none() -> None:
    base = tank([spot("ledge"), spot("foot")], [animal("a-1", at="ledge"), animal("b-1", at="foot")])
    none = SetFact(fact("up-flow", ANYTHING, "a-1", none=True))
    assert truth(survey(base, [(none,)]), "up-flow", "b-1", "a-1", world=1) is False
    assert truth(survey(base, [(none,)]), "up-flow", "b-1", "a-1") is None


def test_rows_with_a_stated_gap_are_found_by_animal_by_spot_and_by_change() -> None:
    spots = [spot("ledge", point(0.0, 0.0)), spot("foot", point(40.0, 0.0))]
    base = tank(spots, [animal("a-1", at="ledge"), animal("b-1", at="foot")], [gap("ledge", "b-1", 5.0)])
    of = survey(base, [(SetFact(gap("a-1", "b-1", 3.0)),)])
    first, second = of.stated_pairs()
    found = {frozenset(pair) for pair in zip(first.tolist(), second.tolist(), strict=True)}
    assert frozenset((row(of, "a-1"), row(of, "b-1"))) in found
    assert frozenset((row(of, "a-1", 1), row(of, "b-1", 1))) in found
