"""What is found when the shipped rules, and a keeper's own beside them, are checked."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.knowledge.load import shipped_rules
from advisor.rulework.checking import check_rules, rule_reaches


def test_the_shipped_rules_are_without_fault_and_counted() -> None:
    problems, counts = check_rules()
    assert problems == ()
    assert counts["card"] == 117
    assert counts["rule"] == len(rule_reaches())


def test_a_keeper_file_is_checked_with_what_is_shipped(tmp_path: Path) -> None:
    own = tmp_path / "house.rules"
    own.write_text("house\n  switch off no-such-rule\n", encoding="utf-8")
    problems, _ = check_rules([own])
    assert {(problem.code, problem.span.file) for problem in problems if problem.span} == {
        ("house-502", own.as_posix()),
        ("word-115", own.as_posix()),
    }


def test_a_shipped_file_that_is_named_is_read_once() -> None:
    problems, counts = check_rules([shipped_rules() / "light.rules", shipped_rules()])
    assert problems == ()
    assert counts == check_rules()[1]


def test_a_folder_is_checked_with_every_file_in_it(tmp_path: Path) -> None:
    (tmp_path / "a.rules").write_text("edition 1\nhouse\n  switch off no-such-rule\n", encoding="utf-8")
    (tmp_path / "b.rules").write_text("edition 1\nlet x = 2,5 cm\n", encoding="utf-8")
    assert [problem.code for problem in check_rules([tmp_path])[0]] == ["paste-112", "house-502"]


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        (b"", None),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "files-707"),
        (b"edition 1\n\x00\x00", "files-707"),
        ("edition 1\n".encode("utf-16"), "files-707"),
        (b"x" * 1_000_000, "files-706"),
        (b"edition 1\nrule " + b"x" * 390_000, "size-122"),
    ],
)
def test_odd_files_are_told_and_never_break(tmp_path: Path, raw: bytes, code: str | None) -> None:
    path = tmp_path / "odd.rules"
    path.write_bytes(raw)
    assert [problem.code for problem in check_rules([path])[0]] == ([] if code is None else [code])


def test_a_folder_without_rule_files_and_a_file_that_is_not_there(tmp_path: Path) -> None:
    problems, _ = check_rules([tmp_path, tmp_path / "none.rules"])
    assert [problem.code for problem in problems] == ["files-703", "files-705"]
