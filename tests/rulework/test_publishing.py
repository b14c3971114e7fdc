"""Pages in a folder: old ones go, anybody else's files stay."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.rulework.publishing import MANIFEST, publish


def files(folder: Path) -> dict[str, str]:
    """Every file but the list of pages, by its path."""
    return {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8")
        for path in folder.rglob("*")
        if path.is_file() and path.name != MANIFEST
    }


def test_pages_of_an_earlier_run_go_and_other_files_stay(tmp_path: Path) -> None:
    publish(tmp_path, {"index.md": "1", "rules/old.md": "old"}, everything=True)
    (tmp_path / "rules" / "mine.md").write_text("mine", encoding="utf-8")
    done = publish(tmp_path, {"index.md": "2"}, everything=True)
    assert (done.written, done.removed, done.kept) == (("index.md",), ("rules/old.md",), ())
    assert files(tmp_path) == {"index.md": "2", "rules/mine.md": "mine"}


def test_some_pages_alone_remove_nothing(tmp_path: Path) -> None:
    publish(tmp_path, {"index.md": "1", "rules/old.md": "old"}, everything=True)
    publish(tmp_path, {"index.md": "2"}, everything=False)
    assert files(tmp_path) == {"index.md": "2", "rules/old.md": "old"}
    assert publish(tmp_path, {"index.md": "2"}, everything=True).removed == ("rules/old.md",)


def test_a_page_that_somebody_changed_is_neither_removed_nor_written_over(tmp_path: Path) -> None:
    publish(tmp_path, {"index.md": "1", "old.md": "old"}, everything=True)
    (tmp_path / "old.md").write_text("with notes of mine", encoding="utf-8")
    assert publish(tmp_path, {"index.md": "1"}, everything=True).kept == ("old.md",)
    with pytest.raises(UnusableInput) as fault:
        publish(tmp_path, {"index.md": "3", "old.md": "new"}, everything=True)
    assert [problem.code for problem in fault.value.problems] == ["command-114"]
    assert files(tmp_path) == {"index.md": "1", "old.md": "with notes of mine"}


def test_a_list_that_leads_out_of_the_folder_or_cannot_be_read_removes_nothing(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear", encoding="utf-8")
    folder = tmp_path / "pages"
    publish(folder, {"index.md": "1"}, everything=True)
    (folder / MANIFEST).write_text(json.dumps({"../letter.txt": "x", "index.md": "y"}), encoding="utf-8")
    publish(folder, {"index.md": "1"}, everything=True)
    (folder / MANIFEST).write_text("{", encoding="utf-8")
    publish(folder, {"index.md": "1"}, everything=True)
    assert files(tmp_path) == {"letter.txt": "dear", "pages/index.md": "1"}
