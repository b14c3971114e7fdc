"""Every finding of lint has a faulty file that shows it; shipped rules have none that counts."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from advisor.errors import Severity
from advisor.language.check import check
from advisor.language.parse import parse_file
from advisor.model.lintfindings import LintFinding
from advisor.reasoning.examples import run_examples
from advisor.rulework.linting import each_once, lint, lint_rules
from tests.language.test_bad_files import told
from tests.language.texts import COMPUTED, base
from tests.rulework.lints import END, codes, findings

BAD = sorted((Path(__file__).parent / "bad").glob("*.rules"))
PACKAGE = Path(__file__).parent.parent.parent / "advisor" / "rulework"
CODE = re.compile(r'"((?:logic|lint|data)-\d{3})"')
IN_A_TANK = {"data-602"}
"""Told of a tank; tests/rulework/test_lint_readings.py shows it."""


OF_A_MEASURE = {"lint-232"}
"""Told where the measure is declared, not where the card stands."""


def code_of(path: Path) -> str:
    return "-".join(path.stem.split("-")[:2])


def found_in(path: Path, text: str) -> list[LintFinding]:
    """What lint says of a faulty file that its name promises."""
    file, problems = parse_file(path.name, text)
    library, more = check([base(), file], COMPUTED)
    assert (*problems, *more) == ()
    own = [path.name, *(["base.rules"] if code_of(path) in OF_A_MEASURE else [])]
    return [
        each
        for each in lint(library, house=[path.name]).findings
        if each.code == code_of(path) and each.problem.span is not None and each.problem.span.file in own
    ]


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_faulty_file_says_what_it_must(path: Path) -> None:
    text, mark, expected = path.read_text(encoding="utf-8").partition("# expected")
    assert mark
    lines = [
        line
        for each in found_in(path, text)
        for line in (*told(each.problem), *(f"#   | {line}" for line in each.example.splitlines()))
    ]
    assert [line.rstrip() for line in lines] == (mark + expected).rstrip().splitlines()


@pytest.mark.parametrize(
    "path", [path for path in BAD if "#   | " in path.read_text(encoding="utf-8")], ids=lambda path: path.stem
)
def test_what_is_shown_can_be_pasted_and_comes_out_as_it_says(path: Path) -> None:
    text = path.read_text(encoding="utf-8").partition("# expected")[0]
    shown = [each.example for each in found_in(path, text) if each.example]
    assert shown
    file, problems = parse_file("pasted.rules", text + "\n" + "\n".join(shown))
    library, more = check([base(), file], COMPUTED)
    assert (*problems, *more) == ()
    outcomes = run_examples(library)
    assert len(outcomes) >= len(shown)
    assert [(each.example.title, each.expected, each.got) for each in outcomes if not each.ok] == []


def test_every_code_has_a_faulty_file() -> None:
    used = {code for file in PACKAGE.glob("lint*.py") for code in CODE.findall(file.read_text("utf-8"))}
    assert used - {code_of(path) for path in BAD} == IN_A_TANK
    assert {code_of(path) for path in BAD} <= used


def test_a_sound_file_has_no_findings() -> None:
    text = (
        'let limit = 100 PAR because "a limit"\nrule dim\n  for animal a\n  expect light(a.spot) <= limit'
        + END
    )
    assert codes(text) == []


def test_nothing_that_counts_is_said_of_the_shipped_rules() -> None:
    answer = lint_rules(on=date(2026, 11, 2))
    assert [(each.code, each.problem.what) for each in answer.findings if each.counts] == []
    assert answer.rules > 60
    assert 0 < len(answer.not_analysed) < answer.rules / 4


def test_only_what_is_said_of_the_named_files_is_told(tmp_path: Path) -> None:
    own = tmp_path / "own.rules"
    own.write_text('edition 1\nlet spare = 3 cm because "for later"\n', encoding="utf-8")
    answer = lint_rules([own], on=date(2026, 11, 2))
    assert [each.code for each in answer.findings] == ["lint-201"]


def test_a_rule_that_asks_about_many_is_counted_and_not_judged() -> None:
    text = "rule crowd\n  for animal a\n  expect count of neighbour n of a where (gap(a, n) < 10 cm) <= 0"
    found = findings(text + '\n  level advice\n  because "{a}"\n')
    assert not any(each.code.startswith("logic") for each in found)


def test_a_file_is_read_once_however_it_is_named(tmp_path: Path) -> None:
    path = tmp_path / "a.rules"
    path.touch()
    assert each_once((path, tmp_path / "." / "a.rules")) == (path,)


def test_notes_do_not_count() -> None:
    (note,) = [each for each in findings("rule dim\n  for animal a\n  expect light(a.spot) <= 90 PAR" + END)
               if each.code == "lint-211"]  # fmt: skip
    assert note.problem.severity is Severity.NOTE
    assert not note.counts
