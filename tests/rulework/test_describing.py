"""All pages together."""

from __future__ import annotations

import posixpath
import re

import pytest

from advisor.errors import UnusableInput
from advisor.reports.document import html_page
from advisor.rulework.describing import all_pages, pages_of
from tests.reports.test_document import seen
from tests.rulework.shelves import shelf


def test_every_link_leads_somewhere_and_nothing_stands_twice() -> None:
    pages = all_pages()
    paths = {page.path for page in pages}
    assert len(paths) == len(pages) > 250
    for page in pages:
        for target in re.findall(r"\]\(([^)]+)\)", page.markdown):
            there = posixpath.normpath(posixpath.join(posixpath.dirname(page.path), target))
            assert there in paths, (page.path, target)


def test_everything_of_a_name_has_its_page() -> None:
    library, paths = shelf().library, {page.path for page in all_pages()}
    named = [*library.rules, *library.prefers, *library.cards, *library.defines]
    named += [*library.vocabulary.measures, *library.vocabulary.relations]
    assert {shelf().where(name) for name in named} <= paths


def test_every_page_is_sound_html_whose_links_lead_to_pages() -> None:
    pages = all_pages()
    paths = {page.path.removesuffix(".md") + ".html" for page in pages}
    for page in pages:
        for target in seen(html_page(page.title, page.markdown, page.path)).links:
            there = posixpath.normpath(posixpath.join(posixpath.dirname(page.path), target))
            assert there in paths, (page.path, target)


def test_the_same_files_give_the_same_pages() -> None:
    assert all_pages() == all_pages()


def test_a_name_may_be_a_rule_a_reading_or_any_name_of_a_card() -> None:
    assert [
        page.path
        for page in pages_of(["not-too-bright", "light", "can-hurt", "torch", "euphyllia glabrescens"])
    ] == [
        "rules/not-too-bright.md",
        "readings/light.md",
        "definitions/can-hurt.md",
        "cards/torch.md",
        "cards/torch.md",
    ]


def test_the_language_itself_has_a_page() -> None:
    (page,) = pages_of(["language"])
    assert page.markdown.startswith("# The rule language")
    assert "<!--" not in page.markdown


def test_what_nobody_knows_is_answered_with_the_nearest() -> None:
    with pytest.raises(UnusableInput) as refused:
        pages_of(["not-too-brigth"])
    assert refused.value.problems[0].mend == "advisor rules doc not-too-bright"
