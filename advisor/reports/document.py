"""Pages in Markdown for the terminal, or as HTML that stands on its own."""

from __future__ import annotations

import re
from html import escape
from io import StringIO

from advisor.reports.printer import PLAIN, Look

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
_NO_HEAD = re.compile(r"<thead>\s*<tr>\s*(?:<th></th>\s*)+</tr>\s*</thead>\s*")


def html_page(title: str, markdown: str, path: str) -> str:
    """Return a page as HTML of its own: no other file is needed to read it.

    Links to other pages lead to their HTML; a table whose heads are empty has none.
    """
    from markdown_it import MarkdownIt

    body = MarkdownIt("commonmark", {"html": False}).enable("table").render(markdown)
    body = body.replace("&lt;br&gt;", "<br>")
    body = _NO_HEAD.sub("", _LINK.sub(r'href="\1.html"', body))
    body = body.replace("<table>", '<div class="wide"><table>').replace("</table>", "</table></div>")
    home = "../" * path.count("/") + "index.html"
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>\n{_STYLE}</style>\n</head>\n<body>\n"
        f'<nav><a href="{home}">All rules</a></nav>\n<main>\n{body}</main>\n</body>\n</html>\n'
    )


def terminal_page(markdown: str, look: Look = PLAIN) -> str:
    """Return a page as text for a terminal."""
    from rich.console import Console
    from rich.markdown import Markdown

    shown = re.sub(r"\[([^\]]*)\]\([^)]*\.md\)", r"\1", markdown).replace("<br>", " · ")
    out = StringIO()
    console = Console(
        file=out, width=look.width, force_terminal=look.colour, no_color=not look.colour, legacy_windows=False
    )
    console.print(Markdown(shown, hyperlinks=False))
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines()).strip("\n") + "\n"
