"""Pages from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.cli import main


def test_one_page_in_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "doc", "not-too-bright"]) == 0
    shown = capsys.readouterr().out
    assert "Where that is not so, it is a danger." in " ".join(shown.split())
    assert max(map(len, shown.splitlines())) <= 80


def test_alone_it_lists_the_rules(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "doc"]) == 0
    assert "keep-clear-of-stingers" in capsys.readouterr().out


def test_the_list_has_a_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "doc"]) == 0
    alone = capsys.readouterr().out
    assert main(["rules", "doc", "index"]) == 0
    assert capsys.readouterr().out == alone


def test_pages_are_written_to_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "doc", "--to", str(tmp_path / "out"), "--html"]) == 0
    assert "begin with index.html" in " ".join(capsys.readouterr().out.split())
    assert (tmp_path / "out" / "index.html").is_file()
    assert (tmp_path / "out" / "rules" / "not-too-bright.html").is_file()
    assert (tmp_path / "out" / "cards" / "torch.html").is_file()
    assert main(["rules", "doc", "--to", str(tmp_path / "out")]) == 0
    assert "of an earlier run removed" in " ".join(capsys.readouterr().out.split())
    assert not list((tmp_path / "out").rglob("*.html"))


def test_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "doc", "light", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["question"], told["name"]) == ("rules doc", "light")


def test_a_folder_that_cannot_be_written_to_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    assert main(["rules", "doc", "light", "--to", str(tmp_path / "file")]) == 2
    assert "files-100" in capsys.readouterr().err
