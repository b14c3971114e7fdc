"""What pasting leaves behind, and the comments."""

from __future__ import annotations

from advisor.errors import Severity
from advisor.language.pasted import scan
from tests.language.texts import codes, faults, read


def test_pasted_signs_are_read_and_told_once_a_kind() -> None:
    problems = faults("define x(animal a) as size(a) ≥ 3 cm and size(a) ≤ 9 cm and a.group ≠ b")
    assert codes(problems) == ["paste-111"]
    assert problems[0].severity is Severity.WARNING
    assert len(problems[0].related) == 2


def test_signs_inside_a_text_are_left_alone() -> None:
    assert faults('let x = 3 cm because "≥ 3 cm – as he “said”, 2,5 and μ"') == ()


def test_a_decimal_comma_is_an_error_and_read_on_as_a_point() -> None:
    result = scan("x", ["let x = 2,5 cm"])
    assert result.lines == ["let x = 2.5 cm"]
    assert [(problem.code, problem.severity) for problem in result.problems] == [
        ("paste-112", Severity.ERROR)
    ]


def test_lists_are_no_decimal_commas() -> None:
    assert scan("x", ["  then torch-1, zoa-2 holds", "  then torch-1,zoa-2 holds"]).problems == []


def test_comments_are_kept_but_not_those_inside_texts() -> None:
    file = read('# one\nlet x = 3 cm because "no # comment"  # two\n')
    assert [comment.text for comment in file.comments] == ["# one", "# two"]
    assert file.comments[1].span.column == 38


def test_columns_stay_true_after_hard_spaces() -> None:
    problems = faults("let x =\u00a03\u00a0parsecs")
    assert codes(problems) == ["paste-114", "units-203"]
    assert problems[1].span is not None
    assert problems[1].span.column == 11
