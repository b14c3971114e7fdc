"""``advisor rules doc``: pages about rules, cards and readings."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from advisor.cli.output import Output, look_of, write


def options(parser: argparse.ArgumentParser) -> None:
    """Add whose pages, and where to write them."""
    parser.add_argument("names", metavar="NAME", nargs="*", help="rules, cards, readings, index, or language")
    parser.add_argument("--to", metavar="FOLDER", type=Path, help="write the pages there, print none")
    parser.add_argument("--html", action="store_true", help="as HTML for a browser, not Markdown")


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print the pages of some names, or write pages to a folder."""
    from advisor import api
    from advisor.reports.as_json import Json, document_json
    from advisor.reports.document import html_page, terminal_page
    from advisor.reports.page import Tone, line
    from advisor.reports.wording import counted
    from advisor.rulework.describing import all_pages, pages_of
    from advisor.rulework.publishing import publish

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
    texts = {
        page.path.removesuffix(".md") + ".html" if arguments.html else page.path: (
            html_page(page.title, page.markdown, page.path) if arguments.html else page.markdown
        )
        for page in pages
    }
    done = publish(arguments.to, texts, everything=not arguments.names)
    said = f"{counted(len(done.written), 'page')} written to {arguments.to}; begin with {done.written[0]}."
    summary = [line(said, Tone.GOOD)]
    if done.removed:
        summary.append(line(f"{counted(len(done.removed), 'page')} of an earlier run removed.", Tone.QUIET))
    summary += [line(f"{name} was changed since it was written, and stays.", Tone.OPEN) for name in done.kept]
    data: dict[str, Json] = {
        "pages": list(done.written),
        "removed": list(done.removed),
        "kept": list(done.kept),
    }
    out.document(document_json("rules doc", data), tuple(summary))
    return 0
