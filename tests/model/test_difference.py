"""Differences as they are published."""

from __future__ import annotations

import json

from advisor.model.difference import DiffAnswer, Flip, Meaning, Side


def flip(meaning: Meaning) -> Flip:
    return Flip(
        meaning=meaning,
        about="tank",
        tank="small",
        rule="r",
        level="danger",
        subjects=("a-1",),
        before=Side(answer="holds"),
        after=Side(answer="fails"),
        causes=("let x",),
    )


def test_less_to_spare_is_no_changed_answer() -> None:
    assert flip(Meaning.REFUSED).answers_change
    assert not flip(Meaning.LESS).answers_change


def test_what_matters_most_to_the_keeper_comes_first() -> None:
    assert [meaning.name for meaning in Meaning][:4] == ["REFUSED", "ALLOWED", "UNDECIDED", "DECIDED"]
    assert list(Meaning)[-1] is Meaning.LESS


def test_as_data() -> None:
    data = json.loads(DiffAnswer(before="a", after="b", flips=(flip(Meaning.REFUSED),)).model_dump_json())
    assert (data["question"], data["flips"][0]["meaning"]) == ("rules diff", "now refused")
    assert data["flips"][0]["causes"] == ["let x"]
