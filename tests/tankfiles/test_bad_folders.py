"""One faulty tank folder for each message; what it must say stands in the sample itself.

A sample is a file of sections: ``=== tank.yaml`` and the other files of the
folder, then ``=== expected``. A coding after the name is that of the file.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import advisor.tankfiles
from advisor.errors import Problem
from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.folder import read_tank

HERE = Path(__file__).parent
PACKAGE = Path(advisor.tankfiles.__file__).parent
BAD = sorted((HERE / "bad").glob("*.txt"))
WORDS = frozenset({"medium", "dim"})
ELSEWHERE = {
    "file-103": "test_folder.py",  # a file of fifty megabytes
    "file-107": "test_store.py",  # a second program at work
    "file-108": "test_starter.py",  # a command that makes a tank
    "scan-218": "test_scans.py",  # a scan of many thousand faces
    "scan-222": "test_scans.py",
    "edit-191": "test_changes.py",  # commands that change a tank
    "edit-192": "test_changes.py",
    "edit-193": "test_unitless.py",
}
"""Codes no sample of a few lines can show, and the test that shows them."""


def sections(path: Path) -> list[tuple[str, str]]:
    """The heading and the text of each section."""
    parts = re.split(r"(?m)^=== (.*)\n", path.read_text(encoding="utf-8"))
    return list(zip(parts[1::2], parts[2::2], strict=True))


def told(problem: Problem) -> list[str]:
    """A problem as the samples write it."""
    span = problem.span
    place = "" if span is None else f" {span.file}:{span.line}:{span.column}"
    lines = [f"{problem.code} {problem.severity.value}{place}", f"  {problem.what}"]
    lines += [f"  at: {problem.label}"] * bool(problem.label) + [f"  try: {problem.mend}"] * bool(
        problem.mend
    )
    return lines + [f"  see: {r.span.file}:{r.span.line}:{r.span.column} {r.label}" for r in problem.related]


def read(path: Path, folder: Path, vocabulary: Vocabulary) -> list[str]:
    """Everything that is said about a sample."""
    for heading, text in sections(path):
        name, _, coding = heading.partition(" ")
        if name != "expected":
            (folder / name).write_bytes(text.encode(coding or "utf-8"))
    _, problems = read_tank(folder, vocabulary, words=WORDS)
    return [line for problem in problems for line in told(problem)]


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_faulty_folder_says_what_it_must(path: Path, tmp_path: Path, vocabulary: Vocabulary) -> None:
    found = "\n".join(read(path, tmp_path, vocabulary)).replace(str(tmp_path), "FOLDER")
    (expected,) = [text for heading, text in sections(path) if heading == "expected"]
    assert found == expected.rstrip("\n")


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_sample_is_named_after_the_first_thing_it_says(path: Path) -> None:
    code = "-".join(path.stem.split("-")[:2])
    assert f"=== expected\n{code} " in path.read_text(encoding="utf-8")


def test_every_code_of_tank_files_has_a_sample() -> None:
    used = {
        node.value
        for file in PACKAGE.glob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and re.fullmatch(r"[a-z]+-\d{3}", node.value)
    }
    shown = {"-".join(path.stem.split("-")[:2]) for path in BAD}
    assert used - shown == set(ELSEWHERE)
    assert shown <= used
    for code, test in ELSEWHERE.items():
        assert code in (HERE / test).read_text(encoding="utf-8"), code
