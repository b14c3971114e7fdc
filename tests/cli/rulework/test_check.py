"""The verbs for those who edit rules."""

from __future__ import annotations

import json

import pytest

from advisor.cli import main
from advisor.errors import Problem, Severity
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
    assert shown.err.count("word-101") == len(severities)


def test_check_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "check", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["counts"] == {"rule": 34, "card": 1}
