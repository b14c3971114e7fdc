"""The page of handling sheets."""

from __future__ import annotations

from advisor.rulework.documents import shelf_of
from advisor.rulework.handling_pages import handling_page
from tests.reasoning.small import library_of

LIBRARY = library_of(
    """
action boil "boiling it"
  also "cook"
handling zoas "zoanthids"
  about hazard palytoxin
  about unknown
  never boil "Never boil it." instead "Leave it." source "A 2015" kind study
  sign "A bitter taste."
"""
)


def test_every_sheet_stands_with_its_sources() -> None:
    text = handling_page(shelf_of(LIBRARY)).markdown
    assert text.startswith("# What a person must mind\n")
    assert "Counts for the hazard palytoxin, an animal nobody can name." in text
    assert "| never | boil | Never boil it. Instead: Leave it. | A 2015 (study) |" in text
    assert "| signs of harm |  | A bitter taste. | none |" in text


def test_the_words_that_are_understood_are_told() -> None:
    assert "| boiling it | boil, cook |" in handling_page(shelf_of(LIBRARY)).markdown


def test_without_sheets_there_is_only_a_title() -> None:
    assert handling_page(shelf_of(library_of(""))).markdown == "# What a person must mind\n"
