"""A file cut off anywhere: what stands before the cut is read, and the cut is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.errors import Problem, Severity, Span
from advisor.knowledge.load import read_house
from advisor.language.check import check
from advisor.language.ending import told_of_the_end
from advisor.language.nodes import Declaration
from advisor.language.parse import parse_file
from tests.language.texts import base, errors, shipped_files

WHOLE = dict(shipped_files())
CUT_EVERYWHERE = "kinds.rules"
"""Cut after each byte; the others after every seventh and so on, a prime, so that no column is favoured."""
MOST_AT_ONCE = 6


def place(problem: Problem) -> tuple[int, int]:
    assert problem.span is not None
    return problem.span.line, problem.span.column


def starts(text: str) -> list[int]:
    """The lines that begin a piece."""
    return [number for number, line in enumerate(text.split("\n"), 1) if line[:1].isalpha()]


def says_it_ends(problem: Problem, torn: bool) -> bool:
    """Whether a problem tells that its piece is unfinished, and where, if it is torn within a line."""
    texts = (problem.label, *(related.label for related in problem.related))
    if torn:
        return any("the file ends here" in text for text in texts)
    return problem.code in ("word-106", "word-114", "define-803")


def lines_of(item: Declaration) -> int:
    return item.span.line if item.span is not None else 0


def look_at(name: str, end: int) -> None:
    """What must be so of the first `end` characters of a file."""
    whole, text = WHOLE[name], WHOLE[name][:end]
    file, problems = parse_file("cut.rules", text)
    lines = text.split("\n")
    assert len(problems) <= MOST_AT_ONCE
    for problem in problems:
        line, column = place(problem)
        assert 1 <= line <= len(lines)
        assert 1 <= column <= len(lines[line - 1]) + 1
    begun = starts(text)
    last = begun[-1] if begun else 1
    intact = [item for item in parse_file("cut.rules", whole)[0].declarations if 0 < lines_of(item) < last]
    assert [item for item in file.declarations if lines_of(item) < last] == intact
    failed = errors(problems)
    assert all(place(problem)[0] >= last for problem in failed)
    if failed:
        assert any(says_it_ends(problem, bool(lines[-1].strip())) for problem in failed)
    else:
        word = lines[last - 1].split(" ")[0]
        assert word in ("edition", "") or lines_of(file.declarations[-1]) == last


def test_a_real_file_cut_after_any_letter_says_where_it_ends() -> None:
    for end in range(len(WHOLE[CUT_EVERYWHERE]) + 1):
        look_at(CUT_EVERYWHERE, end)


@pytest.mark.parametrize(
    ("name", "step"), [("trial.rules", 7), ("water.rules", 41), ("corals/large-polyp/torch.rules", 5)]
)
def test_rules_examples_and_cards_cut_off_say_where_they_end(name: str, step: int) -> None:
    for end in range(0, len(WHOLE[name]), step):
        look_at(name, end)


def test_a_real_file_cut_after_any_byte_is_read_from_the_disk(tmp_path: Path) -> None:
    path = tmp_path / "cut.rules"
    whole = WHOLE["water.rules"]
    raw = whole[: whole.index("rule temperature-suits")].encode()
    assert any(byte > 127 for byte in raw)
    for end in range(len(raw) + 1):
        path.write_bytes(raw[:end])
        ((name, text),), problems = read_house([path])
        assert raw.startswith(text.encode())
        assert end - len(text.encode()) <= 3
        cut_inside = end > len(text.encode())
        assert [problem.code for problem in problems] == ["files-708"] * cut_inside
        if cut_inside:
            line, column = place(problems[0])
            assert (line, column) == (text.count("\n") + 1, len(text.split("\n")[-1]) + 1)
        parse_file(name, text)


@settings(max_examples=150)
@given(
    name=st.sampled_from(["kinds.rules", "trial.rules", "corals/large-polyp/torch.rules"]),
    edits=st.lists(
        st.tuples(st.integers(0, 8000), st.integers(0, 12), st.text(max_size=6)), min_size=1, max_size=4
    ),
)
def test_no_change_to_a_real_file_breaks_anything(name: str, edits: list[tuple[int, int, str]]) -> None:
    text = WHOLE[name]
    for at, length, new in edits:
        start = at % (len(text) + 1)
        text = text[:start] + new + text[start + length :]
    file, problems = parse_file("changed.rules", text)
    _, more = check([base(), file], frozenset({"gap"}))
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for problem in (*problems, *more):
        if problem.span is not None and problem.span.file == "changed.rules":
            line, column = place(problem)
            assert 1 <= line <= len(lines)
            assert 1 <= column <= len(lines[line - 1]) + 1


def test_a_fault_at_the_end_says_that_the_file_ends() -> None:
    fault = Problem("word-101", "odd", Span("a", 2, 3, 2, 6, "  abc"), "a label")
    assert told_of_the_end([fault], "a", ["rule x", "  abc"])[0].label == "the file ends here; a label"
    assert told_of_the_end([fault], "a", ["rule x", "  abc", ""]) == [fault]


def test_a_fault_earlier_in_the_last_piece_shows_the_end_too() -> None:
    fault = Problem("word-114", "no level", Span("a", 1, 1, 1, 5, "rule x"), "")
    (told,) = told_of_the_end([fault], "a", ["rule x", "  for animal a"])
    assert [(each.span.line, each.span.column, each.label) for each in told.related] == [
        (2, 15, "the file ends here")
    ]


def test_a_fault_of_an_earlier_piece_is_no_matter_of_the_end() -> None:
    fault = Problem("word-114", "no level", Span("a", 1, 1, 1, 5, "rule x"), "")
    assert told_of_the_end([fault], "a", ["rule x", "let y = 3"]) == [fault]


def test_warnings_stay_as_they_are() -> None:
    fault = Problem("paste-113", "dash", Span("a", 1, 1, 1, 5, "rule"), "", severity=Severity.WARNING)
    assert told_of_the_end([fault], "a", ["rule"]) == [fault]
