"""``advisor rules lint`` as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.cli import main

DAY = "2026-11-02"
BAD = 'edition 1\nlet spare = 3 cm because "for later"\n'
GOOD = "edition 1\n# nothing of its own yet\n"


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A house file outside of any tank."""
    monkeypatch.chdir(tmp_path)
    return tmp_path / "own.rules"


def test_a_finding_ends_with_one_and_none_with_nought(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own.write_text(BAD, encoding="utf-8")
    assert main(["rules", "lint", "own.rules", "--on", DAY]) == 1
    assert "lint-201  'spare' is never used" in capsys.readouterr().out
    own.write_text(GOOD, encoding="utf-8")
    assert main(["rules", "lint", "own.rules", "--on", DAY]) == 0


def test_a_file_that_cannot_be_used_ends_with_two(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own.write_text("edition 1\nlet spare = 3\n\nlet spare = 4\n", encoding="utf-8")
    assert main(["rules", "lint", "own.rules", "--on", DAY]) == 2
    assert "own.rules:" in capsys.readouterr().err


def test_as_data_and_in_short(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own.write_text(BAD, encoding="utf-8")
    assert main(["rules", "lint", "own.rules", "--json", "--on", DAY]) == 1
    data = json.loads(capsys.readouterr().out)
    assert (data["question"], data["findings"][0]["problem"]["code"]) == ("rules lint", "lint-201")
    main(["rules", "lint", "own.rules", "--short", "--on", DAY])
    assert capsys.readouterr().out == "own.rules:2:1: lint-201 'spare' is never used; try: take it out\n"
