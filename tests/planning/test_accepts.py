"""What a keeper has accepted: in force where the animals stand, until its day, and never out of sight."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from advisor.language.nodes import HouseEdit, HouseVerb
from advisor.model.results import AuditAnswer, Verdict, Word
from advisor.planning.accepts import days_left, in_force
from tests.planning.tanks import ON, coral, opened, spot
from tests.planning.test_where import STANDING, at
from tests.reasoning.small import NOWHERE

RULE = "keep-clear-of-stingers"
WHY = "glass rod between them"
CORALS = coral("torch-1", "torch", f"spot: here, {STANDING}") + coral(
    "candy-1", "candy cane", f"spot: there, {STANDING}"
)


def spots(gap: str) -> str:
    """Return two spots that are taken and two that are free."""
    return (
        spot("here", f"gaps: {{candy-1: {gap}}}")
        + spot("there")
        + spot("near", "gaps: {candy-1: 12 cm}")
        + spot("far", "gaps: {candy-1: 120 cm}")
    )


def accepting(entities: str = "torch-1, candy-1", *, until: str = "2027-11-02", rule: str = RULE) -> str:
    """Return a house file that accepts a finding."""
    end = f" until {until}" if until else ""
    return f'house\n  accept {rule} for {entities} because "{WHY}"{end}\n'


def audited(folder: Path, house: str, gap: str = "15 cm") -> AuditAnswer:
    """Return the audit of a tank whose torch reaches its neighbour."""
    return opened(folder, spots=spots(gap), corals=CORALS, house=house).audit(months=0)


def stung(answer: AuditAnswer) -> list[str]:
    """Return in which part of an audit the two are found."""
    parts = {
        "now": [finding.reason for finding in answer.now],
        "later": [finding.reason for finding in answer.later],
        "open": list(answer.open),
        "accepted": list(answer.accepted),
    }
    return [part for part, found in parts.items() if any(reason.rule == RULE for reason in found)]


def test_an_accepted_danger_is_listed_as_accepted_with_its_ground_and_both_numbers(tmp_path: Path) -> None:
    answer = audited(tmp_path, accepting())
    assert stung(answer) == ["accepted"]
    (accepted,) = [reason for reason in answer.accepted if reason.rule == RULE]
    assert accepted.verdict is Verdict.ACCEPTED
    assert any(WHY in text for text in accepted.house)
    assert accepted.here is not None
    assert accepted.wanted_low is not None


def test_nothing_accepted_is_a_finding(tmp_path: Path) -> None:
    assert stung(audited(tmp_path, "")) == ["now"]


def test_it_binds_the_two_in_either_order(tmp_path: Path) -> None:
    assert stung(audited(tmp_path, accepting("candy-1, torch-1"))) == ["accepted"]


def test_it_covers_what_is_open_too(tmp_path: Path) -> None:
    assert stung(audited(tmp_path, accepting(), gap="30.2 cm")) == ["accepted"]


def test_an_accepted_animal_is_harmed_by_nothing_and_moved_for_nothing(tmp_path: Path) -> None:
    answer = audited(tmp_path, accepting())
    assert answer.harmed_now == 0
    assert answer.move_first == ()


@pytest.mark.parametrize(("until", "part"), [
    ("2026-11-03", "accepted"), ("2026-11-02", "accepted"), ("2026-11-01", "now"),
])  # fmt: skip
def test_its_last_day_counts_and_the_day_after_does_not(tmp_path: Path, until: str, part: str) -> None:
    answer = audited(tmp_path, accepting(until=until))
    assert stung(answer) == [part]
    if part == "now":
        assert any("ran out" in note and until in note for note in answer.notes)
    else:
        assert any(until in text for reason in answer.accepted for text in reason.house)


def test_what_no_longer_occurs_is_said_to(tmp_path: Path) -> None:
    answer = audited(tmp_path, accepting(), gap="120 cm")
    assert stung(answer) == []
    assert any("torch-1 and candy-1" in note for note in answer.notes)


def test_it_lapses_for_a_place_the_animal_would_move_to(tmp_path: Path) -> None:
    """The rod stands where the torch stands now; at the next spot it is judged afresh."""
    session = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())
    assert at(session.where("torch-1"), "near").word is Word.NO


def test_it_covers_no_other_pair_and_no_other_rule(tmp_path: Path) -> None:
    more = coral("candy-2", "candy cane", f"spot: near, {STANDING}")
    close = spots("15 cm").replace("gaps: {candy-1: 15 cm}", "gaps: {candy-1: 15 cm, candy-2: 15 cm}")
    session = opened(tmp_path, spots=close, corals=CORALS + more, house=accepting())
    found = [
        finding.reason.subjects for finding in session.audit(months=0).now if finding.reason.rule == RULE
    ]
    assert found == [("torch-1", "candy-2")]


def test_days_are_counted_from_the_day_that_is_asked_about() -> None:
    def edit(until: str) -> HouseEdit:
        """Return an accept that ends on a day."""
        return HouseEdit(NOWHERE, HouseVerb.ACCEPT, RULE, entities=("a", "b"), until=until)

    assert days_left(edit("2026-11-12"), ON) == 10
    assert days_left(edit(""), ON) is None
    assert in_force(edit(""), date(2999, 1, 1))
    assert [in_force(edit("2026-11-02"), date(2026, 11, day)) for day in (1, 2, 3)] == [True, True, False]
