"""The page of all handling sheets: what a person must mind, with sources, and the words understood."""

from __future__ import annotations

from advisor.language.nodes import Handling, HandlingKind, HandlingLine
from advisor.rulework.documents import Document, Shelf, page, plain, table

HANDLING = "handling"
"""The name of the page."""
_KINDS = {
    HandlingKind.NEVER: "never",
    HandlingKind.WAIT: "at hand first",
    HandlingKind.SAFE: "how",
    HandlingKind.SIGN: "signs of harm",
    HandlingKind.HELP: "help",
    HandlingKind.DEFER: "comes before this",
}


def handling_page(shelf: Shelf) -> Document:
    """Return every handling sheet, and the words by which it is known what somebody is about to do."""
    title = "What a person must mind"
    sheets = [part for sheet in shelf.library.handlings.values() for part in _sheet(sheet)]
    rows = [
        (plain(action.title), plain(", ".join((name, *action.also))))
        for name, action in shelf.library.actions.items()
    ]
    words = ["## Words that are understood", table(("what somebody is about to do", "words"), rows)]
    return Document(f"{HANDLING}.md", title, page(title, *sheets, *(words if rows else [])))


def _sheet(sheet: Handling) -> list[str]:
    """One sheet: its heading, what it is about, and its lines."""
    about = [
        *(f"the hazard {word}" for word in sheet.hazards),
        *(f"the group {word}" for word in sheet.groups),
        *(["any animal"] if sheet.anything else []),
        *(["an animal nobody can name"] if sheet.unknown else []),
    ]
    heads = ("", "of", "what", "source")
    return [
        f"## {plain(sheet.title)}",
        f"Counts for {plain(', '.join(about))}. Written in `{sheet.span.file}`, line {sheet.span.line}.",
        table(heads, [_row(line) for line in sheet.lines]),
    ]


def _row(line: HandlingLine) -> tuple[str, str, str, str]:
    """One line as cells."""
    instead = f" Instead: {plain(line.instead)}" if line.instead else ""
    ground = f"{plain(line.source.text)} ({line.source.grade.value})" if line.source else "none"
    return _KINDS[line.kind], plain(", ".join(line.actions)), plain(line.text) + instead, ground
