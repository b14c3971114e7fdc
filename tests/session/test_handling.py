"""A coral in hand: found in the tank or by name, whatever else cannot be read."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from advisor.session.handling import handle

ON = date(2026, 11, 2)
TANK = """name: test
corals:
  - {id: brown-1, is: zoanthus}
  - {id: green-1, is: star polyps}
"""


@pytest.fixture(autouse=True)
def _elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No tank is near."""
    monkeypatch.chdir(tmp_path)


def tank(folder: Path, house: str = "", text: str = TANK) -> Path:
    """A tank folder."""
    made = folder / "tank"
    made.mkdir()
    (made / "tank.yaml").write_text(text, encoding="utf-8")
    if house:
        (made / "house.rules").write_text("edition 1\n\n" + house, encoding="utf-8")
    return made


def test_without_a_tank_any_name_will_do() -> None:
    answer = handle("zoanthus", on=ON)
    assert (answer.cards, answer.stricter, answer.notes) == (("zoanthus",), "", ())
    assert handle("Zoanthus", "boil", on=ON).refused


def test_an_animal_of_the_tank_is_known_by_its_id(tmp_path: Path) -> None:
    answer = handle("brown-1", "scrub", on=ON, folder=tank(tmp_path))
    assert answer.cards == ("zoanthus",)
    assert "zoanthus" in answer.known_as
    assert answer.refused


def test_a_name_that_speaks_of_zoanthids_anywhere_counts_as_one() -> None:
    answer = handle("green star polyps with zoas", on=ON)
    assert "palytoxin" in answer.stricter
    assert any("boil" in step.text for step in answer.never)


def test_an_unknown_coral_gets_the_stricter_sheet() -> None:
    answer = handle("qqqqqqqq", "boil", on=ON)
    assert answer.cards == ()
    assert "palytoxin" in answer.stricter
    assert answer.refused[0].about.startswith("zoanthids")


def test_a_house_file_adds_and_is_marked(tmp_path: Path) -> None:
    mine = 'handling mine "my own"\n  about anything\n  never cut "Not here." source "me" kind experience\n'
    answer = handle("torch", "cut", on=ON, folder=tank(tmp_path, mine))
    (own,) = [step for step in answer.refused if step.own]
    assert own.text == "Not here."


@pytest.mark.parametrize(
    "house",
    [
        'handling palytoxin "mine"\n  about hazard palytoxin\n  safe touch "Bare." source "me" kind guess\n',
        'handling mine "mine"\n  about hazard palytoxin\n  safe boil "Fine." source "me" kind guess\n',
        'action boil "nothing"\n',
        "house\n  change zoanthus hazard from palytoxin to none because \"mine is harmless\"\n",
        'handling mine "mine"\n  about anything\n  safe boil, scrub "Fine." source "me" kind guess\n',
        "house\n  switch of everything\n",
        'card my-zoas "my zoas"\n  also "zoanthus"\n  hazard none  source "me" kind guess\n',
    ],
)  # fmt: skip
def test_no_house_file_takes_a_shipped_caution_away(house: str, tmp_path: Path) -> None:
    before = handle("zoanthus", on=ON)
    after = handle("zoanthus", on=ON, folder=tank(tmp_path, house))
    for part in ("never", "first", "ways", "signs", "helps", "defers"):
        told = {step.text for step in getattr(after, part)}
        assert {step.text for step in getattr(before, part)} <= told, part
    refused = handle("zoanthus", "boil and scrub it", on=ON, folder=tmp_path / "tank")
    assert {"boiling it", "scrubbing or brushing it"} <= {
        title for step in refused.refused for title in step.actions
    }
    assert not any("Fine." in step.text for step in (*after.ways, *refused.ways))
    assert house.startswith("card ") or after.notes


def test_spoilt_rule_files_are_told_and_what_ships_counts(tmp_path: Path) -> None:
    answer = handle("zoanthus", on=ON, folder=tank(tmp_path, "house\n  switch of everything\n"))
    assert "rules check" in answer.notes[0]


def test_a_spoilt_tank_is_told_and_the_name_looked_up(tmp_path: Path) -> None:
    answer = handle("zoanthus", on=ON, folder=tank(tmp_path, text="- : ][\n"))
    assert "tank check" in answer.notes[-1]
    assert answer.cards == ("zoanthus",)
    assert handle("torch", on=ON, folder=tmp_path / "nowhere").cards == ("torch",)


def test_other_rules_do_not_replace_the_sheets(tmp_path: Path) -> None:
    other = tmp_path / "rules"
    other.mkdir()
    (other / "a.rules").write_text('edition 1\n\nlet x = 1\n  source "me" kind guess\n', encoding="utf-8")
    assert handle("zoanthus", "boil", on=ON, rules=other).refused


@pytest.mark.parametrize(
    "name",
    [
        "encrusting anemone",
        "hammer with zoanthds",
        "rock with button polps",
        "leather with buttons",
        "sun polyps",
    ],
)
def test_what_may_be_a_zoanthid_in_any_spelling_gets_the_stricter_sheet(name: str) -> None:
    assert handle(name, "scrub it", on=ON).refused


@pytest.mark.parametrize("name", ["zoas", "zoanthid", "brown-1"])
def test_a_card_of_ones_own_takes_no_refusal_from_a_name_that_others_know(tmp_path: Path, name: str) -> None:
    own = f'card {name} "my zoas"\n  group soft\n  hazard none\n  source "mine" kind guess\n'
    folder = tank(tmp_path, own, TANK.replace("zoanthus", "zoas"))
    assert handle(name, "scrub it", on=ON, folder=folder).refused
