"""``advisor rules doc``: pages about rules, cards and readings."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from advisor.cli.output import Output, look_of, write


def options(parser: argparse.ArgumentParser) -> None:
    """Add whose pages, and where to write them."""
    parser.add_argument("names", metavar="NAME", nargs="*", help="rules, cards, readings, or language")
    parser.add_argument("--to", metavar="FOLDER", type=Path, help="write the pages there, print none")
    parser.add_argument("--html", action="store_true", help="as HTML for a browser, not Markdown")


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print the pages of some names, or write pages to a folder."""
    from advisor import api
    from advisor.reports.as_json import document_json
    from advisor.reports.document import html_page, terminal_page
    from advisor.reports.page import Tone, line
    from advisor.rulework.describing import all_pages, pages_of

    house = (*api.house_rules(arguments.tank), *arguments.house)
    day = arguments.on or date.today()
    if arguments.names:
        pages = pages_of(arguments.names, rules=arguments.rules, house=house, on=day)
    else:
        pages = all_pages(rules=arguments.rules, house=house, on=day)
        if arguments.to is None:
            pages = pages[:1]
    if arguments.to is None:
        for page in pages:
            text = html_page(page.title, page.markdown, page.path) if arguments.html else ""
            if out.json:
                told = {"name": page.title, "text": text or page.markdown}
                write(out.out, document_json("rules doc", told) + "\n")
            else:
                write(out.out, text or terminal_page(page.markdown, look_of(out.out, out.plain)))
        return 0
    for page in pages:
        name = page.path.removesuffix(".md") + ".html" if arguments.html else page.path
        text = html_page(page.title, page.markdown, page.path) if arguments.html else page.markdown
        target = arguments.to / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    first = "index.html" if arguments.html else "index.md"
    summary = line(f"{len(pages)} pages written to {arguments.to}; begin with {first}.", Tone.GOOD)
    out.document(document_json("rules doc", {"pages": [page.path for page in pages]}), (summary,))
    return 0
