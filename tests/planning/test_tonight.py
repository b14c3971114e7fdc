"""The first night: the calmest place, or a box of its own."""

from __future__ import annotations

from pathlib import Path

from advisor.model.results import Word
from advisor.planning.tonight import NO_PLACE_TONIGHT, speaks_against
from tests.planning.tanks import GOOD, STANDING, TORCH, coral, opened, spot


def test_a_temporary_spot_is_for_tonight_and_not_for_good(tmp_path: Path) -> None:
    spots = spot("here") + spot("rack", "temporary: yes")
    answer = opened(tmp_path, spots=spots).where("torch")
    assert [place.place for place in answer.places] == ["here"]
    assert answer.tonight is not None
    assert answer.tonight.place in ("here", "rack")


def test_no_night_is_spent_where_it_could_not_live(tmp_path: Path) -> None:
    hole, bright = (
        GOOD.replace("value: 115 PAR, error: 6 PAR", told)
        for told in ("value: 9 PAR, error: 1 PAR", "value: 140 PAR, error: 6 PAR")
    )
    spots = spot("hole", what=hole) + spot("open", what=bright)
    answer = opened(tmp_path, spots=spots, corals=TORCH).where("torch-1")
    assert {place.place: place.word for place in answer.places}["hole"] is Word.NO
    assert answer.tonight is not None
    assert answer.tonight.place == "open"


def test_where_every_place_is_deadly_tonight_is_a_box_of_its_own(tmp_path: Path) -> None:
    galaxy = coral("galaxy-1", "galaxy coral", f"spot: there, {STANDING}")
    session = opened(tmp_path, spots=spot("here", "gaps: {galaxy-1: 3 cm}") + spot("there"), corals=galaxy)
    answer = session.where("candy cane")
    assert answer.places[0].word is Word.NO
    assert answer.tonight is None
    assert answer.tonight_note == NO_PLACE_TONIGHT


def test_a_place_for_tonight_says_what_fails_there(tmp_path: Path) -> None:
    """Nothing is said to speak for a place above a row that fails."""
    strong = spot("here", what=GOOD.replace("10 cm/s", "30 cm/s"))
    answer = opened(tmp_path, spots=strong, corals=TORCH).where("torch-1")
    assert answer.tonight is not None
    assert any(map(speaks_against, answer.tonight.reasons))
    assert "but " in answer.tonight_note
    assert "nothing known speaks against it" not in answer.tonight_note


def test_nothing_hangs_from_a_side_for_one_night(tmp_path: Path) -> None:
    head = (
        "glass: {length: 90 cm, width: 60 cm, height: 50 cm, water: 45 cm}\n"
        "rocks:\n  - {id: stone, shape: block, at: '45, 30 cm', size: 40 x 30 x 20 cm}\n"
        "places every: 10 cm\nplaces on: tops, sides\n"
    )
    session = opened(tmp_path, water=head, spots=spot("here"), corals=TORCH)
    answer = session.where("torch-1")
    assert answer.tonight is not None
    assert "-facing-" not in answer.tonight.place
