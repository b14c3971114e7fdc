"""Writing that a kill cannot damage."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.tankfiles import store
from advisor.tankfiles.store import append_line, locked, write_atomically


class Killed(BaseException):
    """The program ends here."""


def test_a_file_is_replaced_as_a_whole_and_keeps_its_mode(tmp_path: Path) -> None:
    file = tmp_path / "tank.yaml"
    file.write_text("old")
    file.chmod(0o640)
    write_atomically(tmp_path, "tank.yaml", "new ±\r\n")
    assert file.read_bytes() == "new ±\r\n".encode()
    assert file.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["tank.yaml"]


@pytest.mark.parametrize("step", ["fsync", "replace", "chmod"])
def test_a_kill_at_any_step_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    def die(*_: object, **__: object) -> None:
        raise Killed

    (tmp_path / "tank.yaml").write_text("old")
    monkeypatch.setattr(os, step, die)
    with pytest.raises(Killed):
        write_atomically(tmp_path, "tank.yaml", "new")
    assert (tmp_path / "tank.yaml").read_text() == "old"


def test_a_full_disk_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    (tmp_path / "tank.yaml").write_text("old")
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="space"):
        write_atomically(tmp_path, "tank.yaml", "new")
    assert [p.name for p in tmp_path.iterdir()] == ["tank.yaml"]
    assert (tmp_path / "tank.yaml").read_text() == "old"


def test_lines_are_only_ever_added(tmp_path: Path) -> None:
    append_line(tmp_path, "journal.jsonl", "a")
    append_line(tmp_path, "journal.jsonl", "b ±")
    assert (tmp_path / "journal.jsonl").read_text(encoding="utf-8") == "a\nb ±\n"


def test_a_torn_last_line_is_closed_off_not_joined(tmp_path: Path) -> None:
    (tmp_path / "journal.jsonl").write_text('{"id": "e-1"}\n{"id": "e-')
    append_line(tmp_path, "journal.jsonl", '{"id": "e-2"}')
    assert (tmp_path / "journal.jsonl").read_text().splitlines() == [
        '{"id": "e-1"}',
        '{"id": "e-',
        '{"id": "e-2"}',
    ]


@pytest.mark.parametrize("name", ["../x", "/etc/x"])
def test_nothing_is_written_outside(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "tank"
    folder.mkdir()
    with pytest.raises(UnusableInput):
        write_atomically(folder, name, "x")
    with pytest.raises(UnusableInput):
        append_line(folder, name, "x")
    assert [p.name for p in tmp_path.iterdir()] == ["tank"]


def test_a_link_outward_is_not_written_through(tmp_path: Path) -> None:
    folder = tmp_path / "tank"
    folder.mkdir()
    (tmp_path / "mine.txt").write_text("precious")
    os.symlink(tmp_path / "mine.txt", folder / "journal.jsonl")
    with pytest.raises(UnusableInput):
        append_line(folder, "journal.jsonl", "x")
    assert (tmp_path / "mine.txt").read_text() == "precious"


def test_two_writers_cannot_hold_one_folder(tmp_path: Path) -> None:
    with locked(tmp_path), pytest.raises(UnusableInput) as caught, locked(tmp_path, seconds=0.05):
        pass
    assert caught.value.problems[0].code == "file-107"
    with locked(tmp_path, seconds=0.05):
        assert (tmp_path / store.LOCK_FILE).exists()
