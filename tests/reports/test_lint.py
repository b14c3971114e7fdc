"""Findings of lint on the screen."""

from __future__ import annotations

from advisor.errors import Problem, Severity, Span
from advisor.model.lintfindings import LintAnswer, LintFinding
from advisor.reports.lint import lint_page
from advisor.reports.printer import render

SPAN = Span("own.rules", 3, 3, 3, 7, "  when group(a) is soft")
CASE = 'example "made" for own\n  given coral-1 is coral\n  then  coral-1 fails'
FOUND = LintFinding(
    problem=Problem("logic-306", "'own' can never hold", SPAN, "never true", "move it", Severity.WARNING),
    example=CASE,
)
NOTE = LintFinding(problem=Problem("lint-211", "5 cm has no name", SPAN, severity=Severity.NOTE))


def shown(answer: LintAnswer, level: int = 1, *, short: bool = False) -> list[str]:
    return render(lint_page(answer, level, short=short)).splitlines()


def test_a_finding_is_followed_by_its_case_as_it_can_be_pasted() -> None:
    lines = shown(LintAnswer(rules=2, findings=(FOUND,)))
    assert lines[0] == "logic-306  'own' can never hold (warning)"
    at = lines.index("  for example:")
    assert "\n".join(lines[at + 1 : at + 4]) == CASE
    assert lines[-1] == "2 rules and preferences looked into: 1 finding."


def test_notes_are_counted_apart() -> None:
    assert shown(LintAnswer(rules=1, findings=(NOTE,)))[-1] == (
        "1 rule or preference looked into: nothing against them, 1 note."
    )


def test_what_was_not_looked_into_is_counted_and_named_on_demand() -> None:
    answer = LintAnswer(rules=3, not_analysed=("crowd", "roomy"), tank="small")
    text = " ".join(shown(answer))
    assert "looked into in small: nothing against them." in text
    assert "2 rules and definitions" in text
    assert "crowd" not in text
    assert "crowd, roomy" in " ".join(shown(answer, 2))


def test_short_is_a_line_for_each() -> None:
    lines = shown(LintAnswer(rules=1, findings=(FOUND, NOTE)), short=True)
    assert lines == [
        "own.rules:3:3: logic-306 'own' can never hold; try: move it",
        "own.rules:3:3: lint-211 5 cm has no name; try: advisor explain lint-211",
    ]


def test_level_nought_only_counts() -> None:
    assert shown(LintAnswer(rules=1, findings=(FOUND,)), 0) == [
        "1 rule or preference looked into: 1 finding."
    ]
