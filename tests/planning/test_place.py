"""One place as an answer: what belongs to it, and what it asks for."""

from __future__ import annotations

from pathlib import Path

from advisor.planning.place import getting_used, is_advice_for_the_tank, light_step_rules
from tests.planning.tanks import GOOD, TORCH, WATER, opened, spot, two_spots


def test_a_brighter_place_is_reached_in_steps(tmp_path: Path) -> None:
    bright = spot("here", what=GOOD.replace("115 PAR, error: 6 PAR", "200 PAR, error: 5 PAR"))
    session = opened(tmp_path, spots=bright, corals=TORCH)
    rules = light_step_rules(session._desk.bench)
    assert rules
    place = session.where("torch-1").places[0]
    assert place.light_steps == getting_used(place.reasons, rules) != ""
    assert getting_used((), rules) == ""


def test_advice_about_an_animal_is_advice_for_its_place(tmp_path: Path) -> None:
    place = opened(tmp_path, spots=spot("here"), corals=TORCH).where("torch-1").places[0]
    assert place.reasons
    assert not any(map(is_advice_for_the_tank, place.reasons))


def test_advice_for_the_whole_tank_is_no_row_of_a_place_and_closes_the_answer_once(tmp_path: Path) -> None:
    water = WATER.replace("150 x 60 x 50 cm", "25 x 20 x 30 cm")
    session = opened(tmp_path, spots=two_spots(""), corals=TORCH, water=water, months=1)
    answer = session.where("torch-1")
    for place in (*answer.places, session.why("torch-1", "here").place):
        assert "room-for-all-grown" not in {reason.rule for reason in place.reasons}
        assert not any("floor of the tank" in change for change in place.changes)
    assert sum("floor of the tank" in note for note in answer.notes) == 1
