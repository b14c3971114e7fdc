"""Long texts for codes and words."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

import pytest

import advisor.reports
from advisor.model.results import Verdict, Word
from advisor.reports.glossary import Entry, entries, entry, explained, headings, index_page, text_page
from advisor.reports.printer import render
from tests.reports.samples_of_codes import lint_problems, rule_problems, tank_problems

PACKAGE = Path(advisor.reports.__file__).parent.parent
ABOUT_EDITIONS = {"word-103", "word-115", "word-116", "word-117"}
"""Their samples are whole files; all others stand below the line of the edition."""
WITHOUT_A_SAMPLE = {
    "word-100": "told of a lexer that knows no character; the grammar knows all",
    "card-901": "the shipped vocabulary reads every line of a card",
    "card-911": "it takes shipped cards of one genus beside one of the house",
    "measure-606": "the shipped vocabulary declares what is missing",
    "size-121": "a file of a megabyte",
    "size-122": "a declaration of 60,000 characters",
    "size-123": "a hundred brackets",
    "size-124": "two hundred problems",
    "format-901": "a tree that was built, not read",
    "format-902": "a tree that was built, not read",
}
"""Codes about rule files that a sample of a few lines cannot show; each has its test elsewhere."""


@cache
def codes() -> dict[str, str]:
    """Every code that stands in the package, with the layer it stands in."""
    found: dict[str, str] = {}
    for file in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Constant)
                and isinstance(node.value, str)
                and re.fullmatch(r"[a-z]+-[1-9]\d\d", node.value)
            ):
                found[node.value] = file.relative_to(PACKAGE).parts[0]
    return found


def texts_of_codes() -> tuple[Entry, ...]:
    """Every text that is about one code."""
    return tuple(each for each in entries() if each.title and not each.heading.endswith("-"))


def test_codes_were_found() -> None:
    assert len(codes()) > 120


def test_every_code_of_the_program_is_explained() -> None:
    assert set(codes()) - {each.heading for each in texts_of_codes()} == set()


def test_no_text_is_about_a_code_nothing_says() -> None:
    assert {each.heading for each in texts_of_codes()} - set(codes()) == set()
    families = {each.heading for each in entries() if each.title and each.heading.endswith("-")}
    assert families == {code.rpartition("-")[0] + "-" for code in codes()}


def test_every_text_of_a_code_says_something() -> None:
    for each in texts_of_codes():
        assert len(each.words) > 40, each.heading
        assert len(each.title) <= 50, each.heading
        assert (each.sample("before") is None) == (each.sample("after") is None), each.heading


def test_every_code_about_rule_files_has_a_sample() -> None:
    language = {code for code, layer in codes().items() if layer == "language"}
    bare = {each.heading for each in texts_of_codes() if each.sample("before") is None}
    assert language & bare == set(WITHOUT_A_SAMPLE)


SAMPLES = [each for each in texts_of_codes() if each.sample("before") is not None]


@pytest.mark.parametrize("found", SAMPLES, ids=lambda found: found.heading)
def test_the_sample_before_has_the_fault_and_the_one_after_has_none(found: Entry, tmp_path: Path) -> None:
    before, after = found.sample("before"), found.sample("after")
    assert before is not None
    assert after is not None
    if before.file:
        folders = tmp_path / "before", tmp_path / "after"
        for folder in folders:
            folder.mkdir()
        told = tank_problems(before, folders[0])
        left = tank_problems(after, folders[1])
    elif found.family in ("lint-", "logic-"):
        told = lint_problems(before.text)
        # a sample of a few lines has no examples and no named numbers: only its own fault has to be gone
        left = tuple(problem for problem in lint_problems(after.text) if problem.code == found.heading)
    else:
        bare = found.heading in ABOUT_EDITIONS
        told = rule_problems(before.text, with_edition=not bare)
        left = rule_problems(after.text, with_edition=not bare)
    assert found.heading in {problem.code for problem in told}
    assert [(problem.code, problem.what) for problem in left] == []


@pytest.mark.parametrize(
    "word", [*Verdict, *Word, "danger", "warning", "advice", "stale", "missing", "too close"]
)
def test_every_word_of_an_answer_is_explained(word: str) -> None:
    found = entry(word)
    assert found is not None
    assert len(found.text) > 40


def test_case_does_not_matter_and_a_family_is_found_by_its_word() -> None:
    assert entry("yes, slowly") == entry("YES, SLOWLY")
    assert entry("units") == entry("units-") is not None
    assert entry("UNITS-201") != entry("units-")
    assert entry("units-299") is None


def test_a_family_lists_its_codes() -> None:
    found = entry("units")
    assert found is not None
    shown = render(text_page(found))
    assert "\n  units-202     a number without its unit\n" in shown
    assert "word-101" not in shown


def test_no_word_is_explained_twice() -> None:
    names = headings()
    assert len(set(map(str.lower, names))) == len(names)
    assert all(each.text for each in entries())


def test_a_before_and_after_keeps_its_form() -> None:
    found = entry("units-202")
    assert found is not None
    shown = render(text_page(found))
    assert shown.splitlines()[0] == "units-202  a number without its unit"
    assert "\nbefore:\n  define roomy(animal a, animal b) as gap(a, b) >= 15\nafter:\n" in shown


def test_as_data_the_samples_stand_apart() -> None:
    found = entry("csv-171")
    assert found is not None
    data = explained(found)
    assert data["before"] == "spot,dtae,PAR\nledge,2026-10-20,187\n"
    assert data["file"] == "readings.csv"
    assert "dtae" not in data["text"]


def test_every_text_fits_the_screen() -> None:
    for each in entries():
        assert max(map(len, render(text_page(each)).splitlines())) <= 80


def test_the_list_names_everything() -> None:
    shown = render(index_page())
    assert "undecided" in shown
    assert "units-..." in shown
