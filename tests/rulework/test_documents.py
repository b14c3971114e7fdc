"""The parts pages are put together from."""

from __future__ import annotations

from advisor.rulework.documents import definitions_of, link, page, plain, table
from tests.rulework.shelves import shelf


def test_a_text_of_a_file_is_never_markup() -> None:
    assert plain("a | b <script> *x* _y_ [z](q)") == r"a \| b \<script\> \*x\* \_y\_ \[z\](q)"
    assert plain("two\n lines") == "two lines"


def test_a_table_without_rows_is_nothing() -> None:
    assert table(("a", "b"), []) == ""
    assert table(("a", "b"), [("1", "2")]).splitlines() == ["| a | b |", "| --- | --- |", "| 1 | 2 |"]


def test_a_page_leaves_out_empty_parts() -> None:
    assert page("T", "", "x") == "# T\n\nx\n"


def test_links_lead_up_and_down() -> None:
    assert link("light", "readings/light.md", "rules/x.md") == "[light](../readings/light.md)"
    assert link("light", "readings/light.md", "index.md") == "[light](readings/light.md)"


def test_what_a_rule_reads_is_seen_through_its_definitions() -> None:
    assert {"gap", "potency", "defence"} <= shelf().reads["keep-clear-of-stingers"]
    assert "keep-clear-of-stingers" in shelf().rules_reading("potency")
    named = {define.name for define in definitions_of(shelf(), "keep-clear-of-stingers")}
    assert {"can-hurt", "reach-toward"} <= named
