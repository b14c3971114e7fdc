"""Pages in Markdown for the terminal, or as HTML that stands on its own."""

from __future__ import annotations

import re
from html import escape
from io import StringIO
from typing import TYPE_CHECKING

from advisor.reports.printer import PLAIN, Look

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

_MAIN = (
    ("All rules", "index"),
    ("Cards", "by-group"),
    ("Readings", "by-reading"),
    ("Definitions", "definitions"),
    ("Numbers", "numbers"),
    ("Words", "words"),
    ("Sources", "by-source"),
)
_SHARES = (2, 5, 3, 1, 1)
"""How columns whose cells have many lines share the width: what is given takes most."""
_PARTS = re.compile(r"(^```[^\n]*\n(?:[^\n]*\n)*?```[^\n]*\n?|(?:^\|[^\n]*\n?)+)", re.MULTILINE)
"""Blocks of text as it is typed, and tables: everything else flows."""
_CODE = re.compile(r"(?<!\\)`([^`]*)`")
_CELLS = re.compile(r"(?<!\\)\|")
_STYLE = """\
:root { color-scheme: light dark; --ink: #1b2430; --paper: #fdfdfb; --line: #c9d1d9;
  --faint: #eef2f5; --link: #0b5c8a; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #e6edf3; --paper: #10151b; --line: #3d4752; --faint: #1b222b; --link: #7cc4f0; } }
body { font: 16px/1.55 system-ui, sans-serif; color: var(--ink); background: var(--paper);
  margin: 0 auto; max-width: 60rem; padding: 1rem; }
a { color: var(--link); }
h1, h2 { line-height: 1.25; }
h2 { margin-top: 2rem; border-bottom: 1px solid var(--line); }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem; border-bottom: 1px solid var(--line); }
th { background: var(--faint); }
code { font-size: .9em; overflow-wrap: anywhere; }
@media print {
  body { max-width: none; font-size: 11pt; }
  a { color: inherit; text-decoration: none; }
  tr { break-inside: avoid; }
  nav { display: none; } }
"""
_LINK = re.compile(r'href="([^":#]+)\.md"')
_BREAK = "\ue000"
"""Stands for the end of a line within a cell while a page is made; no text of a rule file is markup."""
_TABLE = re.compile(r"<table>.*?</table>", re.DOTALL)
_FIRST_CELL = re.compile(r"<tr>\n<td>(.*?)</td>")
_NO_HEAD = re.compile(r"<thead>\s*<tr>\s*(?:<th></th>\s*)+</tr>\s*</thead>\s*")


def html_page(title: str, markdown: str, path: str) -> str:
    """Return a page as HTML of its own: no other file is needed to read it.

    Links to other pages lead to their HTML; a table whose heads are empty has none.
    """
    from markdown_it import MarkdownIt

    body = MarkdownIt("commonmark", {"html": False}).enable("table").render(markdown.replace("<br>", _BREAK))
    body = _LINK.sub(r'href="\1.html"', body.replace(_BREAK, "<br>"))
    body = _TABLE.sub(_accessible, body)
    nav = f"<nav>{_nav('../' * path.count('/'))}</nav>\n"
    return whole_page(title, _STYLE, f"{nav}<main>\n{body}</main>\n")


def whole_page(title: str, style: str, body: str) -> str:
    """Return a page of HTML that stands on its own.

    Parameters
    ----------
    title
        Title of the page, as plain text.
    style
        Its style sheet.
    body
        What it shows, as HTML.
    """
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>\n{style}</style>\n</head>\n<body>\n{body}</body>\n</html>\n"
    )


def _nav(up: str) -> str:
    """The links that stand on every page."""
    return " · ".join(f'<a href="{up}{to}.html">{text}</a>' for text, to in _MAIN)


def _accessible(found: re.Match[str]) -> str:
    """A table that scrolls by itself and says what each of its heads is for."""
    made = _NO_HEAD.sub("", found.group())
    if made == found.group():
        made = made.replace("<th>", '<th scope="col">')
    else:
        made = _FIRST_CELL.sub(r'<tr>\n<th scope="row">\1</th>', made)
    return f'<div class="wide" role="region" tabindex="0">{made}</div>'


def terminal_page(markdown: str, look: Look = PLAIN) -> str:
    """Return a page as text for a terminal."""
    from rich.console import Console
    from rich.markdown import Markdown

    shown = re.sub(r"\[([^\]]*)\]\([^)]*\.md\)", r"\1", markdown)
    out = StringIO()
    console = Console(
        file=out, width=look.width, force_terminal=look.colour, no_color=not look.colour, legacy_windows=False
    )
    for part in _PARTS.split(shown):
        if part.startswith("|"):
            console.print(_table(part.splitlines()))
        elif part.startswith("```"):
            _verbatim(console, part.splitlines()[1:-1])
        elif part.strip():
            console.print(Markdown(part, hyperlinks=False))
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines()).strip("\n") + "\n"


def _verbatim(console: Console, lines: list[str]) -> None:
    """Print what must be read as it is typed: no line of it is broken."""
    from rich.cells import cell_len
    from rich.text import Text

    indent = " " if all(cell_len(line) < console.width for line in lines) else ""
    told = "\n".join(f"{indent}{line}".rstrip() for line in lines)
    console.print(Text(f"\n{told}\n"), no_wrap=True, overflow="ignore", crop=False, soft_wrap=True)


def _table(lines: list[str]) -> Table:
    """A table of a page, each of its cells with its own lines."""
    from rich.box import SIMPLE_HEAD
    from rich.table import Table
    from rich.text import Text

    heads, _, *rows = ([_cell(text) for text in _CELLS.split(line)[1:-1]] for line in lines)
    tall = any("\n" in cell for row in rows for cell in row)
    made = Table(box=SIMPLE_HEAD, show_header=any(heads), pad_edge=False, expand=tall, leading=int(tall))
    for head, share in zip(heads, _SHARES, strict=False):
        made.add_column(Text(head), overflow="fold", ratio=share if tall else None)
    for row in rows:
        made.add_row(*map(Text, row))
    return made


def _cell(text: str) -> str:
    """The plain text of a cell."""
    pieces = _CODE.split(text.strip())
    pieces[::2] = (re.sub(r"(?<!\\)[`*]+", "", piece) for piece in pieces[::2])  # what is code is kept
    plain = "".join(pieces).replace("<br>", "\n")
    return re.sub(r"\\(.)", r"\1", plain)
