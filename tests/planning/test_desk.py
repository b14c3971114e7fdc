"""Who is asked about, and what is said of them first."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.model.changes import CardChoice
from advisor.model.results import Verdict
from advisor.planning.desk import cautions_for, spot_named, subject_named
from tests.planning.tanks import STANDING, TORCH, WAITING, WATER, coral, opened, spot
from tests.properties.demo import desk


def test_an_animal_is_found_by_id_and_by_name(tmp_path: Path) -> None:
    named = coral("torch-9", "torch", f"{WAITING}, name: the purple one")
    own = opened(tmp_path, spots=spot("here"), corals=named)._desk
    for text in ("torch-9", "the purple one"):
        found = subject_named(own, text)
        assert (found.animal.id, found.in_tank, found.placed) == ("torch-9", True, False)


def test_a_coral_that_is_no_animal_of_the_tank_is_found_by_its_card(tmp_path: Path) -> None:
    own = opened(tmp_path, spots=spot("here"), corals=TORCH)._desk
    found = subject_named(own, "candy cane")
    assert not found.in_tank
    assert len(found.choice.cards) == 1
    assert found.animal.id not in {animal.id for animal in own.tank.animals}


def test_an_empty_name_is_nobodys_name(tmp_path: Path) -> None:
    own = opened(tmp_path, spots=spot("here"), corals=TORCH)._desk
    with pytest.raises(UnusableInput):
        subject_named(own, "")


def test_a_placed_animal_is_known_to_be_placed(tmp_path: Path) -> None:
    own = opened(tmp_path, spots=spot("here"), corals=coral("t", "torch", f"spot: here, {STANDING}"))._desk
    assert subject_named(own, "t").placed


def test_a_spot_is_found_by_id_and_by_name(tmp_path: Path) -> None:
    own = opened(tmp_path, spots=spot("here", "name: the good ledge"))._desk
    assert spot_named(own, "here").id == spot_named(own, "the good ledge").id == "here"


def test_in_a_tank_without_spots_the_way_to_add_one_is_named(tmp_path: Path) -> None:
    own = opened(tmp_path)._desk
    with pytest.raises(UnusableInput) as refused:
        spot_named(own, "here")
    assert "add" in refused.value.problems[0].mend


def test_cautions_of_every_card_an_animal_may_have_are_told_once() -> None:
    own = desk()
    stinging = [name for name, card in own.library.cards.items()
                if any(value.key == "hazard-text" for value in card.values)]  # fmt: skip
    assert len(stinging) > 1
    both = cautions_for(own, CardChoice((stinging[0], stinging[1], stinging[0])))
    texts = [caution.text for caution in both]
    assert len(texts) == len(set(texts))
    alone = cautions_for(own, CardChoice((stinging[0],)))
    assert {caution.text for caution in alone} <= set(texts)
    (unknown,) = cautions_for(own, CardChoice(()))
    assert "counts as a zoanthid" in unknown.text
    assert "palytoxin" in unknown.text


@pytest.mark.parametrize(
    ("line", "wrong", "rule"),
    [
        ("temperature: 25.4 °C", "temperature: 33 °C", "temperature-can-be-borne"),
        ("salinity: 35 ppt", "salinity: 22 ppt", "salinity-can-be-borne"),
        ("alkalinity: 8.4 dKH", "alkalinity: 3 dKH", "alkalinity-can-be-borne"),
    ],
)
def test_water_that_no_coral_bears_is_a_danger_and_keeps_everything_out(
    tmp_path: Path, line: str, wrong: str, rule: str
) -> None:
    session = opened(tmp_path, spots=spot("shelf"), corals=TORCH, water=WATER.replace(line, wrong), months=1)
    answer = session.where("torch-1")
    (gate,) = answer.gates
    assert (gate.rule, gate.level, gate.verdict) == (rule, "danger", Verdict.FAILS)
    assert answer.tonight is None
    assert answer.tonight_note.startswith("put nothing into this tank")


def test_what_is_not_measured_is_asked_for_what_can_be_borne_and_for_what_is_wanted(tmp_path: Path) -> None:
    water = WATER.replace("salinity: 35 ppt, ", "")
    session = opened(tmp_path, spots=spot("shelf"), corals=TORCH, water=water, months=1)
    gates = session.where("torch-1").gates
    assert [(gate.rule, gate.level) for gate in gates] == [
        ("salinity-can-be-borne", "danger"),
        ("salinity-suits", "warning"),
    ]
