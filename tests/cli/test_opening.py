"""A node is found by id or number in the question asked again."""

from __future__ import annotations

import io

import pytest

from advisor.cli.opening import open_nodes
from advisor.cli.output import Output
from advisor.errors import UnusableInput
from advisor.model.results import WhyAnswer
from tests.reports import samples

STUNG = samples.STUNG_ID


class Asked:
    """A question whose deepest answer numbers its reasons otherwise, and leaves one out."""

    def __init__(self) -> None:
        self.levels: list[int] = []
        self.shown = samples.why_not_torch()
        reasons = samples.numbered(samples.GAP_OK, samples.STUNG)
        place = self.shown.place.model_copy(update={"reasons": reasons})
        self.whole = self.shown.model_copy(update={"place": place})

    def __call__(self, level: int) -> list[WhyAnswer]:
        """Return the answer at a level."""
        self.levels.append(level)
        return [self.whole if level >= 4 else self.shown]


def opened(ask: Asked, *wanted: str) -> str:
    """Return what is printed of some nodes."""
    out = io.StringIO()
    assert open_nodes(Output(out=out, err=io.StringIO()), ask, wanted) == [ask.whole]
    return out.getvalue()


def test_a_number_means_what_is_printed_under_it() -> None:
    text = opened(Asked(), "1")
    assert "1    danger keep-clear-of-stingers  fails" in text
    assert f"node      {STUNG}" in text


def test_an_id_is_looked_for_in_all_there_is() -> None:
    ask = Asked()
    assert f"node      {STUNG}/expect/2" in opened(ask, f"{STUNG}/expect/2")
    assert ask.levels == [4]


def test_what_only_a_shallower_answer_holds_is_opened_from_there() -> None:
    assert "flow-for-big-polyps" in opened(Asked(), "2")


def test_cautions_come_first() -> None:
    assert opened(Asked(), "1").startswith("CAUTION   ")


def test_an_unknown_node_gets_the_nearest() -> None:
    with pytest.raises(UnusableInput) as fault:
        opened(Asked(), f"{STUNG}/expct")
    (problem,) = fault.value.problems
    assert problem.code == "command-104"
    assert f"--open '{STUNG}/expect'" in problem.mend
    with pytest.raises(UnusableInput) as fault:
        opened(Asked(), "77")
    assert fault.value.problems[0].mend


def test_several_are_told_in_their_order_with_each_caution_once() -> None:
    ask = Asked()
    text = opened(ask, "2", "1")
    assert text.index("flow-for-big-polyps") < text.index("1    danger keep-clear-of-stingers  fails")
    assert text.count("CAUTION") == opened(Asked(), "1").count("CAUTION")
    assert sorted(ask.levels) == [3, 4], "each level is asked once"


def test_what_only_the_deepest_answer_numbers_is_opened_too() -> None:
    ask = Asked()
    reasons = (*ask.whole.place.reasons, samples.GAP_OK.model_copy(update={"number": "9", "id": "late(x)"}))
    place = ask.whole.place.model_copy(update={"reasons": reasons})
    ask.whole = ask.whole.model_copy(update={"place": place})
    assert "node      late(x)" in opened(ask, "9")


def test_every_number_that_is_missing_is_told_and_nothing_printed() -> None:
    out = io.StringIO()
    with pytest.raises(UnusableInput) as fault:
        open_nodes(Output(out=out, err=io.StringIO()), Asked(), ["1", "77", "78"])
    assert len(fault.value.problems) == 2
    assert out.getvalue() == ""
