"""Files of a folder, kept inside it and bounded."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.sources import find_tank_folder, house_files, inside, mend_of_access, read_text


@pytest.mark.parametrize("name", ["../x", "a/../../x", "/etc/passwd", "", "a\0b"])
def test_a_path_that_leaves_the_folder_is_none(tmp_path: Path, name: str) -> None:
    assert inside(tmp_path, name) is None


def test_a_path_inside_is_kept(tmp_path: Path) -> None:
    assert inside(tmp_path, "sub/../tank.yaml") == (tmp_path / "tank.yaml").resolve()


def test_a_link_outward_is_refused_and_a_link_inward_is_not(tmp_path: Path) -> None:
    folder = tmp_path / "tank"
    folder.mkdir()
    (tmp_path / "secret").write_text("x")
    (folder / "real.yaml").write_text("name: t")
    os.symlink(tmp_path / "secret", folder / "out.yaml")
    os.symlink(folder / "real.yaml", folder / "in.yaml")
    ledger = Ledger()
    assert read_text(folder, "out.yaml", ledger, 100) is None
    assert read_text(folder, "in.yaml", ledger, 100) == "name: t"
    assert [p.code for p in ledger.problems] == ["file-105"]


def test_a_loop_of_links_is_refused(tmp_path: Path) -> None:
    os.symlink(tmp_path / "b", tmp_path / "a")
    os.symlink(tmp_path / "a", tmp_path / "b")
    ledger = Ledger()
    assert read_text(tmp_path, "a", ledger, 100) is None
    assert [p.code for p in ledger.problems] in (["file-105"], ["file-101"], [])


def test_size_is_bounded_to_the_byte(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("x" * 100)
    assert read_text(tmp_path, "a", Ledger(), 100) == "x" * 100
    ledger = Ledger()
    assert read_text(tmp_path, "a", ledger, 99) is None
    assert [p.code for p in ledger.problems] == ["file-103"]


def test_a_folder_in_place_of_a_file_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").mkdir()
    ledger = Ledger()
    assert read_text(tmp_path, "tank.yaml", ledger, 100_000, needed=True) is None
    assert [p.code for p in ledger.problems] == ["file-101"]
    assert ledger.problems[0].mend == "put a file there, tank.yaml is a folder"


def test_what_the_system_refuses_has_its_mend(tmp_path: Path) -> None:
    (tmp_path / "house.rules").write_text("edition 1\n")
    near, lost = str(tmp_path / "hose.rules"), str(tmp_path / "rules" / "mine.rules")
    assert mend_of_access(FileNotFoundError(2, "none", near), near) == str(tmp_path / "house.rules")
    far = str(tmp_path / "zzz")
    assert mend_of_access(FileNotFoundError(2, "none", far), far) == "there is no zzz: correct the name"
    assert str(tmp_path / "rules") in mend_of_access(FileNotFoundError(2, "none", lost), lost)
    assert near in mend_of_access(PermissionError(13, "no", near), near)
    assert mend_of_access(OSError(errno.ENOSPC, "full", near), near).startswith("make room")
    assert mend_of_access(OSError(errno.EIO, "broken", near), near) == ""


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"\xef\xbb\xbfname: t")
    assert read_text(tmp_path, "a", Ledger(), 100) == "name: t"


def test_house_files_are_sorted_and_only_rule_files(tmp_path: Path) -> None:
    for name in ("b.rules", "a.rules", "c.txt"):
        (tmp_path / name).write_text("")
    (tmp_path / "d.rules").mkdir()
    assert house_files(tmp_path) == ("a.rules", "b.rules")


def test_no_tank_anywhere_above_is_none(tmp_path: Path) -> None:
    assert find_tank_folder(tmp_path) is None
