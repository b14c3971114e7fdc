"""What the language server answers, apart from its wire: places, problems and names in an editor's terms.

Editors count lines from 0 and characters in units of their own encoding;
spans count both from 1, characters as such. `Text` turns one into the other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from lsprotocol import types
from pygls.workspace import PositionCodec

from advisor.editors.desk import Desk
from advisor.editors.help import Entry, entries, explained
from advisor.editors.words import words
from advisor.errors import Problem, Severity, Span
from advisor.language.library import Library
from advisor.language.nodes import Example

_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_SEVERITY = {
    Severity.ERROR: types.DiagnosticSeverity.Error,
    Severity.WARNING: types.DiagnosticSeverity.Warning,
    Severity.NOTE: types.DiagnosticSeverity.Information,
}
_ITEM = {
    "measure": types.CompletionItemKind.Field,
    "relation": types.CompletionItemKind.Interface,
    "let": types.CompletionItemKind.Constant,
    "define": types.CompletionItemKind.Function,
    "rule": types.CompletionItemKind.Class,
    "prefer": types.CompletionItemKind.Class,
    "card": types.CompletionItemKind.Module,
}
RUN_EXAMPLE = "coral-rules.run-example"
"""The command behind the line above each example."""
_WANTED_AFTER: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"^\s*(level|accept|switch\s+off)\s+\S*$", ("rule",)),
    (r"^\s*change\s+\S*$", ("let", "card")),
    (r'^example\s+"[^"]*"\s+for\s+\S*$', ("rule", "prefer")),
    (r"^\s*(when|expect|unless|want|define)\b.*$", ("measure", "relation", "let", "define")),
)
"""By the line so far: which names may come next."""


@dataclass(frozen=True, slots=True)
class Text:
    """One open file: its lines as typed, and how its editor counts characters."""

    lines: tuple[str, ...]
    codec: PositionCodec

    def place(self, position: types.Position) -> tuple[str, int]:
        """Return the line of a position and the character index in it, from 0."""
        if position.line >= len(self.lines):
            return "", 0
        there = self.codec.position_from_client_units(list(self.lines), position)
        return self.lines[position.line].rstrip("\n"), there.character

    def range(self, span: Span) -> types.Range:
        """Return a span in the editor's terms; one without an end is one character."""
        start = types.Position(max(0, span.line - 1), max(0, span.column - 1))
        end_line = (span.end_line or span.line) - 1
        end = types.Position(max(0, end_line), max(span.end_column - 1, 0) or start.character + 1)
        if start.line >= len(self.lines):
            return types.Range(start, start)
        return self.codec.range_to_client_units(list(self.lines), types.Range(start, end))


def name_at(line: str, at: int) -> str:
    """Return the name that stands at a character of a line, empty if none does."""
    return next((found.group() for found in _NAME.finditer(line) if found.start() <= at <= found.end()), "")


def diagnostics(problems: Iterable[Problem], name: str, text: Text) -> list[types.Diagnostic]:
    """Return the problems of one file, each with its code, its mend and the other places that matter."""
    return [
        types.Diagnostic(
            range=text.range(problem.span),
            message=_message(problem),
            severity=_SEVERITY[problem.severity],
            code=problem.code,
            source="advisor",
        )
        for problem in problems
        if problem.span is not None and problem.span.file == name
    ]


def _message(problem: Problem) -> str:
    """Headline, label and mend on lines of their own."""
    mend = f"try: {problem.mend}" if problem.mend else ""
    also = [f"{other.label}: {other.span.file}:{other.span.line}" for other in problem.related]
    return "\n".join(part for part in (problem.what, problem.label, *also, mend) if part)


def hover(line: str, at: int, library: Library) -> str:
    """Return what is known of the name at a place as Markdown, empty where nothing is."""
    found = entries(library).get(name_at(line, at), ())
    return "\n\n---\n\n".join(explained(entry, library) for entry in found)


def completions(line: str, at: int, library: Library) -> list[types.CompletionItem]:
    """Return what may be typed next: names that fit the line so far, and the words of the language."""
    before = line[:at]
    kinds = next((kinds for pattern, kinds in _WANTED_AFTER if re.search(pattern, before)), ())
    if not before.strip() or (_NAME.fullmatch(before) and not before.startswith(" ")):
        return [_word(word) for word in words().beginning]
    every = [entry for found in entries(library).values() for entry in found]
    named = [_item(entry, library) for entry in every if not kinds or entry.kind in kinds]
    fixed = (
        () if kinds in (("rule",), ("let", "card"), ("rule", "prefer")) else (*words().clause, *words().logic)
    )
    return [*named, *(_word(word) for word in fixed)]


def _item(entry: Entry, library: Library) -> types.CompletionItem:
    """One name as an offer."""
    return types.CompletionItem(
        label=entry.name,
        kind=_ITEM[entry.kind],
        detail=entry.kind,
        documentation=types.MarkupContent(types.MarkupKind.Markdown, explained(entry, library)),
    )


def _word(word: str) -> types.CompletionItem:
    """One word of the language as an offer."""
    return types.CompletionItem(label=word, kind=types.CompletionItemKind.Keyword)


def definitions(line: str, at: int, library: Library, desk: Desk) -> Iterator[tuple[Path, Span]]:
    """Yield where the name at a place is declared."""
    for entry in entries(library).get(name_at(line, at), ()):
        if entry.span.file:
            yield desk.path(entry.span.file), entry.span


def lenses(examples: Iterable[Example], text: Text, uri: str) -> list[types.CodeLens]:
    """Return a line to click above each example."""
    return [
        types.CodeLens(
            range=text.range(example.span),
            command=types.Command("run example", RUN_EXAMPLE, arguments=[uri, example.rule, example.title]),
        )
        for example in examples
    ]


def ran(example_rule: str, title: str, library: Library) -> list[dict[str, object]]:
    """Return what came of an example: for each outcome whether it is as it says, and what came out."""
    from advisor.reasoning.examples import run_examples

    chosen = [item for item in library.examples if (item.rule, item.title) == (example_rule, title)]
    return [
        {"ok": item.ok, "expected": item.expected, "got": item.got, "line": item.then.span.line}
        for item in run_examples(library, chosen)
    ]
