"""Candidate spots: which are free, and what each stands for."""

from __future__ import annotations

from pathlib import Path

from advisor.model.changes import Add, Move
from advisor.planning.desk import Desk, subject_named
from advisor.planning.rounds import change_for, free_spots, judged, judged_tonight, sitting_for
from tests.planning.tanks import STANDING, TORCH, coral, opened, spot, two_spots


def desk_of(folder: Path, spots: str, corals: str) -> Desk:
    return opened(folder, spots=spots, corals=corals)._desk


def test_a_newcomer_is_added_and_one_that_stands_is_moved(tmp_path: Path) -> None:
    desk = desk_of(
        tmp_path,
        spot("here") + spot("there"),
        TORCH + coral("hammer-1", "hammer", f"spot: there, {STANDING}"),
    )
    new, old = subject_named(desk, "torch-1"), subject_named(desk, "hammer-1")
    here = desk.tank.spots[0]
    assert change_for(new, here) == (Add(new.animal, "here"),)
    assert change_for(old, here) == (Move("hammer-1", "here"),)
    assert [each.id for each in free_spots(desk, new)[0]] == ["here"]
    assert [each.id for each in free_spots(desk, old)[0]] == ["here", "there"]


def test_for_a_first_night_no_rule_is_asked_that_only_matters_later(tmp_path: Path) -> None:
    desk = desk_of(tmp_path, spot("here"), TORCH)
    subject = subject_named(desk, "torch-1")
    free, _ = free_spots(desk, subject)
    lasting = judged(desk, free, sitting_for(desk, subject, free)[1])
    tonight = judged_tonight(desk, lasting)
    assert {plane.compiled.rule.stage.value for plane in tonight.planes} == {"always", "tonight"}
    assert {plane.compiled.rule.stage.value for plane in lasting.planes} == {"always", "settled"}
    assert tonight.spot(tonight.order[0][1]).id == "here"


def test_a_full_spot_is_not_offered_and_is_counted(tmp_path: Path) -> None:
    candy = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
    answer = opened(tmp_path, spots=two_spots("gaps: {candy-1: 60 cm}"), corals=candy + TORCH).where(
        "torch-1"
    )
    assert [place.place for place in answer.places] == ["here"]
    assert any("1 of 2 spots" in note for note in answer.notes)


def test_a_spot_that_holds_two_is_offered_until_it_is_full(tmp_path: Path) -> None:
    candy = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
    spots = spot("here") + spot("there", "holds: 2, extent: 60 cm")
    assert {"here", "there"} == {
        place.place for place in opened(tmp_path, spots=spots, corals=candy + TORCH).where("torch-1").places
    }
