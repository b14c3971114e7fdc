"""Findings of lint as they are published."""

from __future__ import annotations

import json

from advisor.errors import Problem, Severity, Span
from advisor.model.lintfindings import LintAnswer, LintFinding


def test_a_note_does_not_count_and_a_warning_does() -> None:
    note = LintFinding(problem=Problem("lint-211", "a", severity=Severity.NOTE))
    assert not note.counts
    assert LintFinding(problem=Problem("logic-304", "a", severity=Severity.WARNING)).counts
    assert note.code == "lint-211"


def test_as_data_a_finding_has_its_place_and_its_example() -> None:
    found = LintFinding(problem=Problem("logic-304", "what", Span("a.rules", 3)), example="example …")
    data = json.loads(LintAnswer(rules=1, findings=(found,)).model_dump_json())
    assert (data["edition"], data["question"]) == (1, "rules lint")
    (first,) = data["findings"]
    assert (first["problem"]["code"], first["problem"]["span"]["line"], first["example"]) == (
        "logic-304",
        3,
        "example …",
    )
