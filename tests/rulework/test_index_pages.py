"""The index pages lead to everything."""

from __future__ import annotations

from advisor.rulework.index_pages import index_pages
from tests.rulework.shelves import shelf


def test_everything_is_listed() -> None:
    pages = {page.path: page.markdown.replace("\\", "") for page in index_pages(shelf())}
    library = shelf().library
    for name in (*library.rules, *library.prefers):
        assert f"(rules/{name}.md)" in pages["index.md"]
    for name in (*library.vocabulary.measures, *library.vocabulary.relations):
        assert f"(readings/{name}.md)" in pages["by-reading.md"]
    for name in library.cards:
        assert f"(cards/{name}.md)" in pages["by-group.md"]
        assert f"(cards/{name}.md)" in pages["by-source.md"]
    for name in library.lets:
        assert f"| {name} |" in pages["numbers.md"]
