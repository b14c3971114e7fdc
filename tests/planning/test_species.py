"""An answer left open by a species that is not certain says which species it hangs on."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.model.results import Reason, Verdict, WhyAnswer
from tests.planning.tanks import coral, opened, spot

STANDING = "size: 8 cm, placed: 2025-05-10, doing: well since 2025-07-01, fixing: glued"
NEW = coral("zoa-1", "zoas", "size: 4 cm, comes from: 110 PAR")
STINGERS = "keep-clear-of-stingers"
BETWEEN = "{value: 11.2 cm, error: 0.3 cm}"
"""From the middle of the spot: about 9 cm between the two, which is enough for some brain corals only."""


def why(folder: Path, kind: str, gap: str) -> WhyAnswer:
    """Return why a zoanthid may stand so far from a coral of a kind."""
    spots = spot("here", f"gaps: {{other-1: {gap}}}, moat: 12 cm, islet: yes") + spot("there")
    corals = coral("other-1", kind, f"spot: there, {STANDING}") + NEW
    return opened(folder, spots=spots, corals=corals).why("zoa-1", "here")


def stung(answer: WhyAnswer) -> Reason:
    """Return the reason that the other coral may sting."""
    found = [
        reason
        for reason in answer.place.reasons
        if reason.rule == STINGERS and reason.subjects[0] == "other-1"
    ]
    return found[0]


def test_the_species_that_would_harm_and_those_that_would_not_are_named(tmp_path: Path) -> None:
    reason = stung(why(tmp_path, "brain coral", BETWEEN))
    assert reason.verdict is Verdict.UNDECIDED
    assert "fails if other-1 is dipsastraea, favites or platygyra" in reason.sentence
    assert "holds if it is goniastrea, leptoria, lobophyllia or open-brain" in reason.sentence
    first = reason.needs[0]
    assert (first.measure, first.subjects) == ("taxon", ("other-1",))
    assert first.ask == "What is other-1, by its scientific name?"
    assert not any(need.measure == "reach-most" for need in reason.needs)


@pytest.mark.parametrize(("card", "harms"), [("favites", True), ("leptoria", False)])
def test_each_species_by_itself_says_so(tmp_path: Path, card: str, harms: bool) -> None:
    answer = why(tmp_path, card, BETWEEN)
    failing = [
        reason.subjects
        for reason in answer.place.reasons
        if reason.rule == STINGERS and reason.verdict is Verdict.FAILS
    ]
    assert (("other-1", "zoa-1") in failing) is harms


def test_what_every_species_would_do_is_a_plain_no(tmp_path: Path) -> None:
    reason = stung(why(tmp_path, "euphyllia", "3 cm"))
    assert reason.verdict is Verdict.FAILS
    assert " is " in reason.sentence
    assert "if other-1 is" not in reason.sentence


def test_where_all_species_leave_it_open_nothing_is_said_of_them(tmp_path: Path) -> None:
    spots = spot("here", "moat: 12 cm, islet: yes") + spot("there")
    corals = coral("other-1", "euphyllia", f"spot: there, {STANDING}") + NEW
    answer = opened(tmp_path, spots=spots, corals=corals).why("zoa-1", "here")
    reason = stung(answer)
    assert reason.verdict is Verdict.UNDECIDED
    assert "if other-1 is" not in reason.sentence
    assert {need.measure for need in reason.needs} >= {"gap"}
