"""Kinds, grades and the small facts that measures tell of themselves."""

from __future__ import annotations

import pytest

from advisor.model.vocabulary import (
    YES_NO,
    Grade,
    Kind,
    Measure,
    NumberType,
    Param,
    Supplier,
    Vocabulary,
)
from advisor.units import Dimension, unit_named


@pytest.mark.parametrize(
    ("given", "wanted", "fits"),
    [
        (Kind.CORAL, Kind.CORAL, True),
        (Kind.CORAL, Kind.ANIMAL, True),
        (Kind.ANIMAL, Kind.CORAL, False),
        (Kind.PLACE, Kind.ANIMAL, False),
        (Kind.TANK, Kind.TANK, True),
    ],
)
def test_a_coral_may_stand_for_an_animal_but_not_the_other_way(given: Kind, wanted: Kind, fits: bool) -> None:
    assert given.fits(wanted) is fits


def test_grades_are_ordered_from_a_study_down_to_a_guess() -> None:
    assert sorted(Grade, key=lambda grade: grade.rank) == [
        Grade.STUDY,
        Grade.MAKER,
        Grade.EXPERIENCE,
        Grade.GUESS,
    ]


def test_only_a_gap_is_the_same_both_ways_round() -> None:
    cm = NumberType(Dimension.LENGTH, unit_named("cm"))
    gap = Measure("gap", (Param(Kind.ANIMAL, "a"), Param(Kind.ANIMAL, "b")), cm, (Supplier.KEEPER,))
    height = Measure("clear-height", gap.params, cm, (Supplier.KEEPER,))
    assert gap.symmetric
    assert not height.symmetric


def test_an_empty_vocabulary_knows_nothing() -> None:
    assert Vocabulary().measures == {}
    assert Vocabulary().relations == {}
    assert YES_NO.words == ("yes", "no")
