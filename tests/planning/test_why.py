"""Why a place is or is not good, and what would help."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from advisor import api
from advisor.errors import UnusableInput
from advisor.model.results import Verdict, Word
from tests.planning.tanks import STANDING, TORCH, coral, opened, spot, two_spots

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo-lagoon"
CANDY = coral("candy-1", "candy cane", f"spot: there, {STANDING}")


def test_every_deciding_reason_is_told_and_not_only_the_first(tmp_path: Path) -> None:
    dark = two_spots("gaps: {candy-1: 8 cm}").replace("115 PAR, error: 6", "900 PAR, error: 6", 1)
    answer = opened(tmp_path, spots=dark, corals=CANDY + TORCH).why("torch-1", "here")
    failing = {
        reason.quantity
        for reason in answer.place.reasons
        if reason.verdict is Verdict.FAILS and reason.level == "danger"
    }
    assert {"gap to candy-1", "light"} <= failing
    assert answer.place.word is Word.NO


def test_dangers_come_first_then_what_is_open_then_what_holds(tmp_path: Path) -> None:
    answer = opened(tmp_path, spots=two_spots("gaps: {candy-1: 8 cm}"), corals=CANDY + TORCH).why(
        "torch-1", "here"
    )
    order = {Verdict.FAILS: 0, Verdict.UNDECIDED: 1, Verdict.HOLDS: 2}
    dangers = [order[r.verdict] for r in answer.place.reasons if r.level == "danger" and not r.until]
    assert dangers == sorted(dangers)
    assert answer.place.reasons[0].level == "danger"


def test_a_better_place_is_named_as_a_cure_and_what_it_makes(tmp_path: Path) -> None:
    spots = spot("here", "gaps: {candy-1: 8 cm}") + spot("there") + spot("far", "gaps: {candy-1: 90 cm}")
    answer = opened(tmp_path, spots=spots, corals=CANDY + TORCH).why("torch-1", "here")
    assert any(
        "far" in cure.text and cure.makes in (Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL)
        for cure in answer.cures
    )


def test_a_gap_that_is_short_is_mended_past_the_error_and_checked_again(tmp_path: Path) -> None:
    """Short by some centimetres, give or take one: the cure asks for the error on top, rounded up."""
    spots = two_spots("gaps: {candy-1: {value: 20 cm, error: 1 cm}}")
    answer = opened(tmp_path, spots=spots, corals=CANDY + TORCH, months=1).why("torch-1", "here")
    (gap,) = [r for r in answer.place.reasons if r.level == "danger" and r.quantity == "gap to candy-1"]
    assert gap.margin is not None
    assert gap.margin.low is not None
    cure = next(cure for cure in answer.cures if "candy-1" in cure.text and " by " in cure.text)
    asked = float(next(word for word in cure.text.split() if word.isdigit()))
    assert asked >= -gap.margin.low
    assert cure.makes not in (Word.NO, Word.NOT_KNOWN)


def test_a_plain_yes_needs_no_cure(tmp_path: Path) -> None:
    answer = opened(tmp_path, spots=spot("here"), months=1).why("torch", "here")
    assert answer.place.word in (Word.YES, Word.YES_SLOWLY)
    assert answer.place.word is not Word.YES or answer.cures == ()


def test_without_a_spot_it_is_the_one_it_stands_on(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=two_spots("gaps: {candy-1: 60 cm}"), corals=CANDY + TORCH)
    assert session.why("candy-1").place.place == "there"
    with pytest.raises(UnusableInput) as refused:
        session.why("torch-1")
    assert refused.value.problems[0].code == "ask-402"


def test_a_spot_nobody_knows_is_refused_with_the_nearest(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=two_spots(""), corals=CANDY + TORCH)
    with pytest.raises(UnusableInput) as refused:
        session.why("torch-1", "ther")
    assert refused.value.problems[0].code == "name-303"
    assert "there" in refused.value.problems[0].mend


def test_a_spot_that_is_taken_can_be_asked_about_and_is_said_to_be(tmp_path: Path) -> None:
    answer = opened(tmp_path, spots=two_spots(""), corals=CANDY + TORCH).why("torch-1", "there")
    assert any("taken" in note for note in answer.notes)


def test_each_level_carries_more_than_the_one_before(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=two_spots("gaps: {candy-1: 8 cm}"), corals=CANDY + TORCH)
    told = [session.why("torch-1", "here", level=level).place.reasons for level in range(1, 5)]
    assert not any(reason.decides or reason.step for reason in told[0])
    assert any(reason.decides for reason in told[1])
    assert not any(reason.step for reason in told[1])
    assert all(reason.step is not None for reason in (*told[2], *told[3]))
    numbers = [{reason.number: reason.id for reason in reasons} for reasons in told]
    assert numbers[1] == numbers[2]
    assert numbers[1].items() <= numbers[3].items()


def test_why_and_where_agree_on_the_same_place(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=two_spots("gaps: {candy-1: 31 cm}"), corals=CANDY + TORCH)
    place = session.where("torch-1").places[0]
    why = session.why("torch-1", place.place).place
    assert (why.word, why.comforts, why.holds) == (place.word, place.comforts, place.holds)


def test_an_animal_is_judged_where_it_stands_exactly_as_the_audit_judges_it() -> None:
    """Its stated gaps, its own light and what was accepted count; it is not thought to be put there anew."""
    session = api.open_tank(DEMO, on=date(2026, 11, 2))
    audited = {finding.reason.id for finding in session.audit(level=2).now}
    for animal in ("stag-1", "leather-1", "acan-1"):
        told = {
            reason.id
            for reason in session.why(animal, level=2).place.reasons
            if reason.verdict is Verdict.FAILS and reason.until is None
        }
        assert {
            found for found in audited if animal in found.partition("(")[2].rstrip(")").split(",")
        } <= told


def test_a_stated_gap_still_counts_where_an_animal_stands() -> None:
    session = api.open_tank(DEMO, on=date(2026, 11, 2))
    told = {
        (reason.here.low, reason.here.best, reason.here.high)
        for reason in session.why("stag-1").place.reasons
        if reason.quantity == "gap to leather-1" and reason.level == "danger" and reason.here is not None
    }
    assert told == {(5.0, 6.0, 7.0)}  # the tape says 6 cm, the usual error of a tape is 1 cm


def test_no_cure_ends_in_a_no() -> None:
    session = api.open_tank(DEMO, on=date(2026, 11, 2))
    for place in ("ridge-top", "left-corner", "arch-step"):
        cures = session.why("torch-2", place).cures
        assert not {cure.makes for cure in cures} & {Word.NO, Word.NOT_KNOWN}
