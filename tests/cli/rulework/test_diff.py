"""``advisor rules diff`` as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.cli import main

DAY = ("--on", "2026-11-02")
HOUSE = 'edition 1\nhouse\n  level {0} because "a"\n'


@pytest.fixture
def house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A house file outside of any tank that makes a rule graver."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "house.rules"
    path.write_text(HOUSE.format("enough-light from warning to danger"), encoding="utf-8")
    return path


def test_one_side_is_held_against_what_ships(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "diff", house.name, *DAY]) == 1
    out = capsys.readouterr().out
    assert out.startswith("shipped -> house.rules\n")
    assert "rule enough-light: level warning -> danger" in out
    assert "No tank was asked" in out


def test_no_difference_ends_with_nought(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "diff", house.name, house.name, *DAY]) == 0
    assert "Both say the same." in capsys.readouterr().out


def test_as_data(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "diff", "shipped", house.name, "--json", *DAY]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["question"] == "rules diff"
    assert [change["id"] for change in data["changes"]] == ["rule enough-light"]
    assert {tuple(flip["causes"]) for flip in data["flips"]} == {("rule enough-light",)}


def test_three_sides_and_none_that_is_there_are_told(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "diff", "a", "b", "c", *DAY]) == 2
    assert "command-107" in capsys.readouterr().err
    assert main(["rules", "diff", "nowhere", *DAY]) == 2
    assert "ask-405" in capsys.readouterr().err
