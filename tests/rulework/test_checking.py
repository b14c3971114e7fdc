"""What is found when the shipped rules, and a keeper's own beside them, are checked."""

from __future__ import annotations

from pathlib import Path

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
