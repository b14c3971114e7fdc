"""Cures by levers: the cheapest first, no two of a kind, each one better, and what else then changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.model.results import Word
from advisor.planning.cures import better, candidates, merged
from advisor.reasoning.flips import cost_of
from tests.planning.tanks import STANDING, TORCH, coral, opened, spot, two_spots

CANDY = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
CLOSE = two_spots("gaps: {candy-1: {value: 20 cm, error: 1 cm}}")


def test_the_cheapest_lever_comes_first_and_no_two_are_of_a_kind(tmp_path: Path) -> None:
    cures = opened(tmp_path, spots=CLOSE, corals=CANDY + TORCH, months=1).why("torch-1", "here").cures
    texts = [cure.text for cure in cures]
    assert texts[0].startswith("put a divider between")
    assert texts[1].startswith("move candy-1 away from torch-1 by ")
    assert len(texts) == 2


def test_a_cure_says_what_nobody_could_check(tmp_path: Path) -> None:
    cures = opened(tmp_path, spots=CLOSE, corals=CANDY + TORCH, months=1).why("torch-1", "here").cures
    moved = next(cure for cure in cures if cure.text.startswith("move "))
    assert any(
        change.startswith("not checked: what candy-1 would then stand beside") for change in moved.changes
    )


def test_what_has_no_lever_is_never_offered(tmp_path: Path) -> None:
    """Too bright by far: no mesh makes a sun of 900 PAR right, and nobody is told to buy another coral."""
    dark = two_spots("").replace("115 PAR, error: 6", "20 PAR, error: 1", 1)
    answer = opened(tmp_path, spots=dark, corals=TORCH, months=1).why("torch-1", "here")
    assert answer.place.word is Word.NO
    assert all("there" in cure.text for cure in answer.cures)


def test_a_house_file_may_add_a_lever_of_its_own(tmp_path: Path) -> None:
    lever = (
        "lever raise-lamp(place p) changes light(p) up by 5 PAR cost 1\n"
        '  say "lower the lamp over {p}"  not-checked "the light at every other place"\n'
    )
    dark = two_spots("").replace("115 PAR, error: 6", "20 PAR, error: 1", 1)
    answer = opened(tmp_path, spots=dark, corals=TORCH, house=lever, months=1).why("torch-1", "here")
    found = [cure for cure in answer.cures if cure.text.startswith("lower the lamp over here by ")]
    assert len(found) == 1
    assert better(found[0].makes, Word.NO)
    assert "not checked: the light at every other place" in found[0].changes


def test_two_neighbours_that_are_too_near_need_two_levers(tmp_path: Path) -> None:
    spots = (
        spot("here", "gaps: {candy-1: 8 cm, candy-2: 9 cm}") + spot("there") + spot("yonder")
    )  # fmt: skip
    corals = CANDY + coral("candy-2", "candy cane", f"spot: yonder, {STANDING}") + TORCH
    cures = opened(tmp_path, spots=spots, corals=corals, months=1).why("torch-1", "here").cures
    both = [cure.text for cure in cures if "candy-1" in cure.text and "candy-2" in cure.text]
    assert both
    assert " and " in both[0]


def test_where_an_animal_stands_its_cures_are_judged_too(tmp_path: Path) -> None:
    corals = CANDY + coral("torch-1", "torch", f"spot: here, {STANDING}")
    session = opened(tmp_path, spots=CLOSE, corals=corals, months=1)
    answer = session.why("torch-1")
    assert answer.place.word is Word.NO
    assert [cure.text.split()[0] for cure in answer.cures] == ["put", "move"]
    assert all(better(cure.makes, Word.NO) for cure in answer.cures)


def test_of_two_flips_of_one_thing_the_further_one_stays(tmp_path: Path) -> None:
    from advisor.planning.desk import subject_named

    session = opened(tmp_path, spots=CLOSE, corals=CANDY + TORCH, months=1)
    desk = session._desk
    subject = subject_named(desk, "torch-1")
    from advisor.planning.rounds import judged, sitting_for

    place = desk.tank.spots[0]
    found = judged(desk, (place,), sitting_for(desk, subject, (place,))[1])
    every = candidates(desk, subject, place, found, Word.NO)
    assert [cost_of(item.way) for item in every] == sorted(cost_of(item.way) for item in every)
    moves = [flip for item in every for flip in item.way if flip.lever.name == "move-apart"]
    assert merged([*moves, *moves]) == merged(moves)
    assert len({flip.key for flip in moves}) == len(merged(moves)) == 1


@pytest.mark.parametrize(
    ("word", "than", "expected"),
    [
        (Word.YES, Word.NO, True),
        (Word.LIKELY, Word.NOT_KNOWN, True),
        (Word.YES_BUT, Word.YES_BUT, False),
        (Word.NOT_KNOWN, Word.NO, False),
        (Word.YES, Word.YES_BUT, True),
        (Word.YES_BUT, Word.YES, False),
    ],
)
def test_only_what_helps_and_is_better_counts(word: Word, than: Word, expected: bool) -> None:
    assert better(word, than) is expected
