"""What the examples reach, put together."""

from __future__ import annotations

from advisor.rulework.covering import cover
from tests.rulework.little import FAR, NEAR, little


def test_everything_is_told_and_explained_only_where_it_is_asked_for() -> None:
    library = little(FAR, NEAR)
    whole = cover(library)
    assert [(thing.name, thing.kind) for thing in whole.things] == [
        ("tested", "rule"),
        ("room", "definition"),
    ]
    assert not any(thing.gaps for thing in whole.things)
    assert (whole.examples, whole.outcomes, whole.failed) == (2, 2, 0)
    (asked,) = cover(library, ["tested"]).things
    assert asked.gaps
    assert len(asked.gaps) == sum(mark.lacking for mark in asked.marks)


def test_what_failing_examples_reach_counts() -> None:
    wrong = cover(little(FAR.replace("holds by 10 cm", "fails")))
    assert wrong.failed == 1
    assert wrong.total == cover(little(FAR)).total
