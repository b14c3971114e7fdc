"""Disputed card lines: which there are, which values rest on them, and the rules as each source has them."""

from __future__ import annotations

from advisor.reasoning.survey_disputes import Dispute, as_told, disputes_of
from tests.reasoning.survey_samples import animal, library, number, place_row, row, spot, survey, tank

MAT = Dispute("mat", "light-max", "", (200.0, 300.0))
"""The one card of the samples whose sources disagree."""


def test_two_numbers_for_one_line_are_a_dispute_and_two_weapons_are_none() -> None:
    assert disputes_of(library()) == (MAT,)


def test_each_number_can_stand_alone_and_nothing_else_changes() -> None:
    for told in MAT.numbers:
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
