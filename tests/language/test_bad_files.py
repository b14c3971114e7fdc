"""One faulty file for each message; what it must say stands in the file itself."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from advisor.errors import Problem
from advisor.language.check import check
from advisor.language.house_dates import as_of
from advisor.language.parse import parse_file
from tests.language.texts import COMPUTED, HERE, base

BAD = sorted((HERE / "bad").glob("*.rules"))
CODE = re.compile(r'"([a-z]+-\d{3})"')
DAY = date(2026, 11, 2)
"""The day the faulty files are read for: house lines may run out."""
PACKAGE = HERE.parent.parent / "advisor" / "language"
# Told where no file of a keeper can hold the fault: files of a megabyte are made in test_parse.py, trees that
# were never read in test_format.py, and a lexer that knows no character in test_mistakes.py, and a
# house card beside shipped ones in test_kin_hazards.py.
ELSEWHERE = {"size-121", "size-122", "size-124", "format-901", "format-902", "word-100", "card-911"}


def told(problem: Problem) -> list[str]:
    """A problem as the faulty files write it."""
    span = problem.span
    assert span is not None
    mend = problem.mend.replace("\n", "\n#        ")
    lines = [
        f"# expected {problem.code} {problem.severity.value} {span.line}:{span.column}-{span.end_column}",
        f"#   {problem.what}",
        f"#   at: {problem.label}",
        f"#   try: {mend}",
    ]
    return lines + [f"#   see: {r.span.file}:{r.span.line} {r.label}" for r in problem.related]


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_faulty_file_says_what_it_must(path: Path) -> None:
    text, mark, expected = path.read_text(encoding="utf-8").partition("# expected")
    assert mark
    file, problems = parse_file(path.name, text)
    library, more = check([base(), file], COMPUTED)
    found = [line for problem in (*problems, *as_of(library, DAY, more)[1]) for line in told(problem)]
    assert "\n".join(line.rstrip() for line in found) == "\n".join(
        line.rstrip() for line in (mark + expected).rstrip().splitlines()
    )


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_faulty_file_is_named_after_its_code(path: Path) -> None:
    code = "-".join(path.stem.split("-")[:2])
    assert f"# expected {code} " in path.read_text(encoding="utf-8")


def test_every_code_has_a_faulty_file() -> None:
    used = {code for path in PACKAGE.glob("*.py") for code in CODE.findall(path.read_text(encoding="utf-8"))}
    shown = {
        code
        for path in BAD
        for code in re.findall(r"# expected ([a-z]+-\d{3})", path.read_text(encoding="utf-8"))
    }
    assert used - shown == ELSEWHERE
    assert shown <= used


def test_every_problem_shows_its_line() -> None:
    for path in BAD:
        text = path.read_text(encoding="utf-8")
        file, problems = parse_file(path.name, text)
        _, more = check([base(), file], COMPUTED)
        lines = text.split("\n")
        for problem in (*problems, *more):
            assert problem.span is not None
            assert problem.span.text == lines[problem.span.line - 1].replace("\r", "")
            assert 1 <= problem.span.column <= len(problem.span.text) + 1
