"""Note cards by name, and of animals of the tank at hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.session.cards import card

ON = date(2026, 11, 2)
TANK = """name: test
spots:
  - {id: ledge}
corals:
  - {id: torch-1, is: torch, spot: ledge}
  - {id: torch-2, is: torch}
  - {id: odd-1, is: green star polyps}
"""
HOUSE = """edition 1

house
  change torch light max from 250 PAR to 300 PAR for torch-1 because "it grew up there"
"""


@pytest.fixture(autouse=True)
def _elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No tank is near."""
    monkeypatch.chdir(tmp_path)


@pytest.fixture
def tank(tmp_path: Path) -> Path:
    """A tank folder."""
    folder = tmp_path / "tank"
    folder.mkdir()
    (folder / "tank.yaml").write_text(TANK, encoding="utf-8")
    (folder / "house.rules").write_text(HOUSE, encoding="utf-8")
    return folder


def test_an_id_of_the_tank_is_looked_up_by_what_the_animal_is(tank: Path) -> None:
    (answer,) = card(["odd-1"], on=ON, folder=tank)
    assert (answer.card, answer.called) == ("green-star-polyps", ("odd-1",))


def test_a_card_that_the_house_changes_for_one_animal_is_given_apart_with_its_values(tank: Path) -> None:
    one, other = card(["torch-1", "torch-2"], on=ON, folder=tank, house=[tank / "house.rules"])
    assert (one.card, one.called, other.called) == ("torch", ("torch-1",), ("torch-2",))
    light = [max(line.high or 0 for line in each.lines if line.topic == "light") for each in (one, other)]
    assert light == [300.0, 250.0]
    assert "changed torch light max from 250 PAR to 300 PAR for torch-1: it grew up there" in one.known_as
    assert "300 PAR" not in other.known_as


def test_what_has_no_card_is_refused_or_answered_with_what_is_safe_for_anything() -> None:
    with pytest.raises(UnusableInput) as caught:
        card(["torch", "zzqx"], on=ON)
    assert [problem.code for problem in caught.value.problems] == ["name-304"]
    torch, unknown = card(["torch", "zzqx"], ids=["torch-1", "bag-1"], on=ON, strict=True)
    assert (torch.card, torch.called) == ("torch", ("torch-1",))
    assert (unknown.card, unknown.called, unknown.title) == ("", ("bag-1",), "bag-1")
    assert "counts as a zoanthid" in unknown.cautions[0].text
    assert "palytoxin" in unknown.cautions[0].text
    assert unknown.known_as == "I have no card called 'zzqx'"
