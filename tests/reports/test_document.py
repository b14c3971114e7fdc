"""Pages in the terminal and in a browser."""

from __future__ import annotations

from html.parser import HTMLParser

from advisor.reports.document import html_page, terminal_page

TEXT = """# A <rule>

Gap of a \\& b, see [light](../readings/light.md).

## Facts

|  |  |
| --- | --- |
| level | danger |

| case | given |
| --- | --- |
| near \\<b\\> | `gap(a, b) = 5 cm`<br>`x` |
"""


class Seen(HTMLParser):
    """What opens and closes."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.links: list[str] = []
        self.tags: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.links += [value for name, value in attrs if name in ("href", "src") and value]
        if tag not in ("meta", "br", "hr"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def seen(text: str) -> Seen:
    """Return what a page holds; what is not closed fails."""
    parser = Seen()
    parser.feed(text)
    assert parser.open == []
    return parser


def test_a_page_stands_on_its_own_and_is_well_formed() -> None:
    page = html_page("A <rule>", TEXT, "rules/a.md")
    found = seen(page)
    assert found.links[0] == "../index.html"
    assert found.links[-1] == "../readings/light.html"
    assert all(link.startswith("../") and link.endswith(".html") for link in found.links)
    assert {"main", "nav", "h1", "h2", "table", "th", "br"} <= found.tags
    assert not {"script", "b"} & found.tags
    assert "<title>A &lt;rule&gt;</title>" in page
    assert 'name="viewport"' in page
    assert "prefers-color-scheme: dark" in page
    assert "@media print" in page


def test_a_table_without_heads_has_none_and_every_other_has() -> None:
    page = html_page("A", TEXT, "a.md")
    assert page.count("<thead>") == 1
    assert '<th scope="row">level</th>' in page
    assert '<th scope="col">case</th>' in page


def test_only_what_ends_a_line_ends_one() -> None:
    page = html_page("A", r"a \<br\> b" + "\n\n| a |\n| --- |\n| one<br>two |\n", "a.md")
    assert "a &lt;br&gt; b" in page
    assert "one<br>two" in page


def test_lines_of_a_cell_stand_below_each_other_in_the_terminal() -> None:
    lines = [line.strip() for line in terminal_page(TEXT).splitlines()]
    assert any(line.startswith("near <b>") and line.endswith("gap(a, b) = 5 cm") for line in lines)
    assert "x" in lines
    assert any(line.split() == ["level", "danger"] for line in lines)


def test_in_the_terminal_it_fits_and_links_are_their_words() -> None:
    text = terminal_page(TEXT)
    assert max(map(len, text.splitlines())) <= 80
    assert "see light." in text
    assert ".md" not in text
    assert "\x1b" not in text


def test_in_the_terminal_what_is_typed_stays_as_it_is() -> None:
    wide = f"YES  {'x' * 75}"
    text = terminal_page(f"Before.\n\n```text\n{wide}\n     *so*\n\n  more\n```\n\nAfter it.\n")
    assert text == f"Before.\n\n{wide}\n     *so*\n\n  more\n\nAfter it.\n"


def test_in_the_terminal_signs_in_code_are_kept_in_a_cell() -> None:
    text = terminal_page("| a | b |\n|---|---|\n| `x * y \\| z` | *bold* `+ - * /` |\n")
    assert "x * y | z" in text
    assert "bold + - * /" in text
