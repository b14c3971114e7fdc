"""Drafts from the command line."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from advisor.cli import main

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A tank's folder to work in."""
    folder = Path(shutil.copytree(ROOT / "examples" / "first-shelf", tmp_path / "shelf"))
    monkeypatch.chdir(folder)
    return folder


def test_a_rule_goes_beside_the_tank_and_is_in_force(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "new", "rule", "my-room"]) == 0
    shown = capsys.readouterr().out
    assert "own.rules,line3" in "".join(shown.split())
    assert "advisor rules test --only my-room" in " ".join(shown.split())
    assert (shelf / "own.rules").is_file()
    assert main(["rules", "check"]) == 0
    assert main(["rules", "test", "--only", "my-room"]) == 0


def test_a_card_goes_there_too(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["rules", "new", "card", "my-brain", "--taxon", "Platygyra lamellina", "--group", "large-polyp"]
    assert main([*words, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["name"] == "my-brain"
    assert main(["card", "my-brain"]) == 0


def test_a_card_needs_its_taxon(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "new", "card", "my-brain", "--group", "soft"]) == 2
    assert "--taxon" in capsys.readouterr().err


def test_outside_a_tank_a_file_must_be_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["rules", "new", "rule", "my-room"]) == 2
    assert "--to" in capsys.readouterr().err
    assert main(["rules", "new", "rule", "my-room", "--to", "mine.rules"]) == 0
