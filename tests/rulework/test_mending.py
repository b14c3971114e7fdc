"""Rule files mended on the disk."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from advisor.knowledge.load import shipped_rules
from advisor.rulework import mending
from advisor.rulework.mending import fix_files, not_in_force, rule_files

PASTED = "edition 1\r\nhouse  # “mine”\r\n  switch off x because “sold”\r\n"


def write(path: Path, text: str = PASTED) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode())
    return path


def test_a_file_is_mended_and_the_rest_kept_byte_for_byte(tmp_path: Path) -> None:
    path = write(tmp_path / "house.rules")
    path.chmod(0o600)
    (fix,) = fix_files([path])
    assert path.read_bytes() == PASTED.replace("“sold”", '"sold"').encode()
    assert path.stat().st_mode & 0o777 == 0o600
    assert (fix.file, fix.refused) == (path.as_posix(), "")
    assert [(place.line, place.was, place.now) for place in fix.places] == [(3, "“sold”", '"sold"')]
    assert fix_files([path]) == ()


def test_a_folder_stands_for_its_files_each_once(tmp_path: Path) -> None:
    one, two = write(tmp_path / "a.rules"), write(tmp_path / "sub" / "b.rules")
    write(tmp_path / ".hidden.rules")
    assert rule_files([tmp_path, one]) == (one, two)
    assert [fix.file for fix in fix_files([tmp_path])] == [one.as_posix(), two.as_posix()]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    real = write(tmp_path / "real" / "house.rules")
    link = tmp_path / "house.rules"
    link.symlink_to(real)
    fix_files([link])
    assert link.is_symlink()
    assert b'"sold"' in real.read_bytes()


@pytest.mark.parametrize("raw", [b"\xff\xfe", b"edition 1\n\0", b"# x" * 200_000])
def test_what_is_no_text_is_left_alone(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "house.rules"
    path.write_bytes(raw)
    (fix,) = fix_files([path, tmp_path / "not-there.rules"])[:1]
    assert fix.refused == "it cannot be read"
    assert path.read_bytes() == raw


def test_a_mend_that_would_say_something_else_is_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write(tmp_path / "house.rules")
    monkeypatch.setattr("advisor.language.fixes.same_tree", lambda a, b: False)
    (fix,) = fix_files([path])
    assert "something else" in fix.refused
    assert path.read_bytes() == PASTED.encode()


def test_a_kill_while_writing_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write(tmp_path / "house.rules")

    def fail(*names: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(os, "replace", fail)
    (fix,) = fix_files([path])
    assert fix.refused == "it cannot be written to"
    assert path.read_bytes() == PASTED.encode()
    assert [each.name for each in tmp_path.iterdir()] == ["house.rules"]


def test_rules_in_force_are_not_read_a_second_time(tmp_path: Path) -> None:
    own = write(tmp_path / "own" / "house.rules")
    shipped = shipped_rules() / "light.rules"
    assert not_in_force([own, shipped], None) == (own,)
    assert not_in_force([own, shipped], tmp_path / "own") == (shipped,)


def test_the_rules_that_came_along_are_never_named_by_themselves() -> None:
    assert mending.fix_files([]) == ()
