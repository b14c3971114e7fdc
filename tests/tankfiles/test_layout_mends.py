"""Lines to try where a file's layout cannot be read: each makes the file readable, or none is shown."""

from __future__ import annotations

import pytest

from advisor.tankfiles.layout_mends import MOST_TRIED, line_to_try, no_character
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import read_yaml

LINES = {
    "name: a: b\n": 'name: "a: b"',
    "name: @reef\n": 'name: "@reef"',
    "name: `reef`\n": 'name: "`reef`"',
    "name: %reef\n": 'name: "%reef"',
    'name: "a\n': 'name: "a"',
    'name: "C:\\quay"\n': "name: 'C:\\quay'",
    'name: 5" pot: left\n': "name: '5\" pot: left'",
    "spots: [ledge, shelf\nname: t\n": "line 1: spots: [ledge, shelf]",
    "spots: [[ledge, shelf\n": "spots: [[ledge, shelf]]",
    "spots:\n  - {id: ledge, light: 110 PAR\n": "- {id: ledge, light: 110 PAR}",
    "rocks: - arch\n": "rocks: [arch]",
    "name t\nglass: 60 x 40 x 40 cm\n": "line 1: name: t",
    "name: t\nspots\n  - id: ledge\n": "line 2: spots:",
}


@pytest.mark.parametrize("text", LINES, ids=lambda text: text.partition("\n")[0])
def test_a_line_is_shown_that_makes_the_file_readable(text: str) -> None:
    ledger = Ledger()
    assert read_yaml(text, "tank.yaml", ledger) is None
    (problem,) = ledger.problems
    assert (problem.code, problem.mend) == ("yaml-111", LINES[text])
    assert problem.span is not None
    lines = text.splitlines()
    above, _, shown = problem.mend.partition(": ")
    at = int(above.removeprefix("line ")) - 1 if above.startswith("line ") else problem.span.line - 1
    line = shown if above.startswith("line ") else problem.mend
    lines[at] = lines[at][: len(lines[at]) - len(lines[at].lstrip())] + line
    after = Ledger()
    assert read_yaml("\n".join((*lines, "")), "tank.yaml", after) is not None
    assert after.problems == ()


def test_no_line_is_shown_where_none_helps() -> None:
    assert line_to_try("name: t\n  : :\n - ]\n", 1) == ""
    assert line_to_try("", 0) == ""


def test_a_long_file_is_not_tried_again() -> None:
    text = "name: a: b\n" + "# quiet\n" * (MOST_TRIED // 8)
    assert line_to_try(text, 0) == ""


def test_an_escape_that_is_no_character_has_its_place_and_is_taken_as_written_with_another_stroke() -> None:
    text = 'name: "reef \\UFFFFFFFF"\n'
    assert no_character(text) == (12, "\\UFFFFFFFF")
    assert no_character('name: "\\U0001F41F"\n') == (-1, "")
    ledger = Ledger()
    assert read_yaml(text, "tank.yaml", ledger) is None
    (problem,) = ledger.problems
    assert problem.span is not None
    assert (problem.span.line, problem.span.column, problem.mend) == (1, 13, "\\\\UFFFFFFFF")
    assert read_yaml(text.replace("\\U", "\\\\U"), "tank.yaml", after := Ledger()) is not None
    assert after.problems == ()
