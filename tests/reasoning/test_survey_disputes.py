"""Disputed card lines: which there are, which values rest on them, and the rules as each source has them."""

from __future__ import annotations

import pytest

from advisor.reasoning.survey_disputes import Dispute, as_told, disputes_of
from tests.reasoning.survey_samples import (
    animal,
    library,
    number,
    place_row,
    row,
    spot,
    survey,
    tank,
    told_twice,
)

MAT = Dispute("mat", "light-max", "", (200.0, 300.0))
"""The one card of the samples whose sources disagree."""


def test_two_numbers_for_one_line_are_a_dispute_and_two_weapons_are_none() -> None:
    assert disputes_of(library()) == (MAT,)


@pytest.mark.parametrize(
    ("line", "dispute", "of_gap", "of_height", "of_above"),
    [
        ("swells most 1 times", Dispute("mat", "swells-most", "", (1.0, 3.0)), True, False, True),
        ("edge skeleton", Dispute("mat", "edge", "", (("open",), ("skeleton",))), True, False, True),
        (
            "growth mature-width 20 cm",
            Dispute("mat", "growth-mature-width", "", (20.0, 60.0)),
            True,
            False,
            True,
        ),
        ("growth out 1 mm/month", Dispute("mat", "growth-out", "", (1.0, 5.0)), True, False, True),
        ("growth up 3 mm/month", Dispute("mat", "growth-up", "", (1.0, 3.0)), False, True, False),
        ("growth form plate", Dispute("mat", "growth-form", "", (("mat",), ("plate",))), False, False, False),
    ],
)
def test_what_is_worked_out_rests_on_the_disputed_lines_behind_it(
    line: str, dispute: Dispute, of_gap: bool, of_height: bool, of_above: bool
) -> None:
    rules = told_twice(line)
    assert set(disputes_of(rules)) == {MAT, dispute}
    of = survey(tank([spot("ledge")], [animal("m-1", "mat", at="ledge"), animal("s-1")]), rules=rules)
    for rows in ((row(of, "m-1"), row(of, "s-1")), (row(of, "s-1"), row(of, "m-1"))):
        assert (dispute in of.disputes_at("gap", rows)) is of_gap
        assert (dispute in of.disputes_at("clear-height", rows)) is of_height
        assert (dispute in of.disputes_at("above", rows)) is of_above
        assert of.disputes_at("same-rock", rows) == ()


def test_words_of_which_a_card_may_have_several_are_no_dispute() -> None:
    assert disputes_of(told_twice("footing sand", taxon="stinger")) == (MAT,)


def test_each_word_can_stand_alone() -> None:
    rules = told_twice("edge skeleton")
    edge = Dispute("mat", "edge", "", (("open",), ("skeleton",)))
    for told in edge.told:
        changed = as_told(rules, edge, told)
        assert [value.words for value in changed.cards["mat"].values if value.key == "edge"] == [told]
        assert disputes_of(changed) == (MAT,)


def test_each_number_can_stand_alone_and_nothing_else_changes() -> None:
    for told in MAT.told:
        changed = as_told(library(), MAT, told)
        lines = [value.number for value in changed.cards["mat"].values if value.key == "light-max"]
        assert lines == [told]
        assert disputes_of(changed) == ()
        assert len(changed.cards["mat"].values) == len(library().cards["mat"].values) - 1
        assert changed.cards["stinger"] is library().cards["stinger"]


def test_only_values_of_animals_with_that_card_rest_on_it() -> None:
    of = survey(tank([spot("ledge")], [animal("m-1", "mat", at="ledge"), animal("s-1", "stinger")]))
    mat, stinger = row(of, "m-1"), row(of, "s-1")
    assert of.disputes_at("light-max", (mat,)) == (MAT,)
    assert of.disputes_at("light-max", (stinger,)) == ()
    assert of.disputes_at("light-min", (mat,)) == ()
    assert of.disputes_at("gap", (mat, stinger)) == ()


def test_a_place_that_animals_vouch_for_may_rest_on_any_such_line() -> None:
    of = survey(tank([spot("ledge")], [animal("m-1", "mat", at="ledge")]))
    assert of.disputes_at("light", (place_row(of, "ledge"),)) == (MAT,)


def test_the_survey_with_the_other_line_has_the_same_rows_and_the_other_number() -> None:
    of = survey(tank([spot("ledge")], [animal("m-1", "mat", at="ledge"), animal("s-1", "stinger")]))
    others = of.as_told(MAT)
    assert [number(other, "light-max", row(other, "m-1")).low for other in others] == [200.0, 300.0]
    for other in others:
        assert other.animals == of.animals
    assert number(of, "light-max", row(of, "m-1")).low == 200.0
    assert of.as_told(MAT)[0] is others[0]
