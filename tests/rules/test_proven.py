"""The examples reach every verdict, condition and limit of the shipped rules, and notice small changes."""

from __future__ import annotations

import pytest

from advisor.language.library import Library
from advisor.model.coverage import CoverAnswer, ThingCover, tally
from advisor.rulework.covering import cover
from advisor.rulework.mutation import mutate

LEAST_SHOWN = 99.0
"""Share of all marks: what is lacking is listed below, and is what a new rule may lack for a while. [%]"""
LEAST_NOTICED = 99.0
"""Share of all small changes. [%]"""


@pytest.fixture(scope="module")
def covered(library: Library) -> CoverAnswer:
    """What the shipped examples reach."""
    return cover(library)


def lacking(thing: ThingCover, of: str) -> list[str]:
    """Everything a thing lacks of verdicts, limits, truths or cases."""
    if of == "verdicts":
        return [f"{thing.name}: {mark.what}" for mark in thing.verdicts if mark.lacking]
    return [
        f"{thing.name}: {mark.what}: {each.text}"
        for each in thing.conditions
        for mark in each.marks
        if mark.lacking and ("within a step" in mark.what) is (of == "limits")
    ]


@pytest.mark.parametrize("of", ["verdicts", "limits"])
def test_every_rule_comes_out_each_way_and_every_limit_is_approached_from_both_sides(
    covered: CoverAnswer, of: str
) -> None:
    assert [text for thing in covered.things for text in lacking(thing, of)] == []


def test_nearly_every_condition_is_seen_both_ways_and_open(covered: CoverAnswer) -> None:
    left = [text for thing in covered.things for text in lacking(thing, "conditions")]
    assert covered.total.percent >= LEAST_SHOWN, left


def test_there_is_much_to_show_and_the_count_is_that_of_the_marks(covered: CoverAnswer) -> None:
    assert covered.total.needed > 1600
    assert covered.total == tally(mark for thing in covered.things for mark in thing.marks)
    assert covered.failed == 0
    assert {thing.name for thing in covered.things if thing.by_eye} >= {"thickets-stay-open"}


def test_nearly_every_small_change_of_a_rule_is_noticed(library: Library) -> None:
    found = mutate(library)
    assert found.tried > 1000
    left = [
        f"{each.change.thing}, {each.change.kind}: {each.change.before}\n{each.example}"
        for each in found.survivors
    ]
    assert found.percent >= LEAST_NOTICED, "\n".join(left)
