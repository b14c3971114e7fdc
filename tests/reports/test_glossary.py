"""Long texts for codes and words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import advisor.reports
from advisor.model.results import Verdict, Word
from advisor.reports.glossary import entries, entry, headings, index_page, text_page
from advisor.reports.printer import render

PACKAGE = Path(advisor.reports.__file__).parent.parent
CODES = sorted(
    {
        code
        for file in PACKAGE.rglob("*.py")
        for code in re.findall(r'"([a-z]+-[1-9]\d\d)"', file.read_text(encoding="utf-8"))
    }
)


def test_codes_were_found() -> None:
    assert len(CODES) > 30


@pytest.mark.parametrize("code", CODES)
def test_every_code_the_program_can_print_is_explained(code: str) -> None:
    assert entry(code) is not None


@pytest.mark.parametrize(
    "word", [*Verdict, *Word, "danger", "warning", "advice", "stale", "missing", "too close"]
)
def test_every_word_of_an_answer_is_explained(word: str) -> None:
    found = entry(word)
    assert found is not None
    assert len(found.text) > 40


def test_case_does_not_matter_and_a_family_answers_for_its_codes() -> None:
    assert entry("yes, slowly") == entry("YES, SLOWLY")
    assert entry("units-299") == entry("units-")
    assert entry("units-201") != entry("units-")
    assert entry("xyzzy-1") is None


def test_no_word_is_explained_twice() -> None:
    names = headings()
    assert len(set(map(str.lower, names))) == len(names)
    assert all(each.text for each in entries())


def test_a_before_and_after_keeps_its_form() -> None:
    found = entry("units-202")
    assert found is not None
    shown = render(text_page(found))
    assert shown.splitlines()[0] == "units-202"
    assert "\n  before   expect gap(c, n) >= 15\n  after    expect gap(c, n) >= 15 cm\n" in shown


def test_every_text_fits_the_screen() -> None:
    for each in entries():
        assert max(map(len, render(text_page(each)).splitlines())) <= 80


def test_the_list_names_everything() -> None:
    shown = render(index_page())
    assert "undecided" in shown
    assert "units-..." in shown
