"""One printed clause and the file lines it comes from."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.errors import Span
from advisor.language.format_expr import WIDTH, wrap

CLAUSE = 9
"""Columns that the first word of a rule's clause takes."""
BODY = 2 + CLAUSE


@dataclass(slots=True)
class Clause:
    """One clause, printed, and where it stood; 0 where that is not known."""

    lines: list[str]
    start: int = 0
    end: int = 0
    apart: bool = False
    """Whether an empty line stands above it in any case."""


def at(span: Span | None) -> tuple[int, int]:
    """Return first and last line of a span."""
    return (span.line, max(span.line, span.end_line)) if span is not None else (0, 0)


def clause(word: str, text: str, span: Span | None = None, pad: int = CLAUSE, most: int = WIDTH) -> Clause:
    """Return ``  word     text``, wrapped."""
    return Clause(wrap("  " + f"{word} ".ljust(pad), text, 2 + pad, most), *at(span))
