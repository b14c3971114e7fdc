"""The one form from the command line."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from advisor.cli import main

UNTIDY = "edition 1\nlet   mine=4 cm\n"
TIDY = "edition 1\n\nlet mine = 4 cm\n"


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An untidy file in the folder one works in."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "house.rules"
    path.write_text(UNTIDY, encoding="utf-8")
    return path


def test_a_file_is_rewritten_and_named(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "fmt", "house.rules"]) == 0
    assert capsys.readouterr().out == "WRITTEN   house.rules\n1 file: 1 changed.\n"
    assert file.read_text(encoding="utf-8") == TIDY


def test_changed_line_ends_are_told(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_bytes(TIDY.replace("\n", "\r\n").encode())
    assert main(["rules", "fmt", "house.rules"]) == 0
    assert "WRITTEN   house.rules (its line ends, too: CRLF to LF)" in capsys.readouterr().out


def test_check_only_looks(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "fmt", "--check", "house.rules"]) == 1
    assert "would change" in capsys.readouterr().out
    assert file.read_text(encoding="utf-8") == UNTIDY
    main(["rules", "fmt", "house.rules"])
    assert main(["rules", "fmt", "--check", "house.rules", "--json"]) == 0
    assert json.loads(capsys.readouterr().out.splitlines()[-1])["changed"] == []


def test_a_broken_file_is_left_with_the_reason(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text("edition 1\n\nlet mine = \n", encoding="utf-8")
    assert main(["rules", "fmt", "house.rules"]) == 2
    shown = capsys.readouterr()
    assert "LEFT" in shown.out
    assert "house.rules:3" in shown.err


def test_a_text_can_be_piped_through(
    file: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(UNTIDY))
    assert main(["rules", "fmt", "-"]) == 0
    assert capsys.readouterr().out == TIDY


def test_without_a_file_of_ones_own_it_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["rules", "fmt"]) == 2
    assert "command-106" in capsys.readouterr().err
