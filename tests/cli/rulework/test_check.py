"""The verbs for those who edit rules."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.errors import Problem, Severity, Span
from advisor.model.fixes import FileFix, FixedPlace
from tests.cli.fake import FakeApi


@pytest.mark.parametrize(
    ("severities", "code", "said"),
    [
        ((), 0, "34 rules, 1 card: nothing to mend."),
        ((Severity.NOTE,), 0, "34 rules, 1 card: 1 problem."),
        ((Severity.WARNING,), 1, "34 rules, 1 card: 1 problem."),
        ((Severity.WARNING, Severity.ERROR), 2, "34 rules, 1 card: 2 problems."),
    ],
)
def test_check_ends_by_the_worst_it_found(
    api: FakeApi, capsys: pytest.CaptureFixture[str], severities: tuple[Severity, ...], code: int, said: str
) -> None:
    api.rule_problems = tuple(Problem("word-101", "slip", severity=severity) for severity in severities)
    assert main(["rules", "check"]) == code
    shown = capsys.readouterr()
    assert shown.out.startswith(said + "\n")
    assert ("ASKED" in shown.out) == (code < 2)
    assert shown.err.count("word-101  slip") == len(severities)


def test_check_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "check", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["counts"] == {"rule": 34, "card": 1}


def test_a_house_line_that_comes_to_nothing_is_told_unless_it_has_a_fault_of_its_own(
    api: FakeApi, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second = Span("house.rules", 2), Span("house.rules", 3)
    api.rule_problems = (Problem("house-502", "no such rule", first),)
    api.idle = (Problem("house-514", "idle", first), Problem("house-514", "idle", second))
    assert main(["rules", "check", "--short"]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert [line.split()[:2] for line in lines] == [
        ["house.rules:2:1:", "house-502"],
        ["house.rules:3:1:", "house-514"],
    ]


def test_fix_mends_the_named_files_first_and_says_so(
    api: FakeApi, capsys: pytest.CaptureFixture[str]
) -> None:
    place = FixedPlace(line=4, column=9, code="paste-111", was="\u2265", now=">=")
    api.fixes = (FileFix(file="house.rules", places=(place,)),)
    assert main(["rules", "check", "--fix", "house.rules"]) == 0
    assert api.fixed == [(Path("house.rules"),)]
    assert capsys.readouterr().out.startswith("FIXED  house.rules: 1 place\n  4     \u2265 is >=\n")


def test_fix_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.fixes = (FileFix(file="house.rules", refused="it cannot be read"),)
    assert main(["rules", "check", "--fix", "house.rules", "--json"]) == 0
    (fixed,) = json.loads(capsys.readouterr().out)["fixed"]
    assert (fixed["file"], fixed["refused"]) == ("house.rules", "it cannot be read")


def test_fix_alone_rewrites_nothing(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "check", "--fix"]) == 2
    assert api.fixed == []
    assert "try: advisor rules check --fix house.rules" in capsys.readouterr().err
