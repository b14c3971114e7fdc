"""The parts a printed answer is built from; `printer` alone turns them into text."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Tone(StrEnum):
    """What a piece of text means to the reader; colour follows from it."""

    PLAIN = "plain"
    HEAD = "head"
    GOOD = "good"
    BAD = "bad"
    OPEN = "open"
    QUIET = "quiet"
    CAUTION = "caution"


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of text with one tone."""

    text: str
    tone: Tone = Tone.PLAIN
    sign: str = ""
    """Where it is one, this sign is printed in every column the text would take, in place of the text."""


@dataclass(frozen=True, slots=True)
class Line:
    """A paragraph that wraps under its own indent."""

    parts: tuple[Part, ...]
    indent: int = 0


@dataclass(frozen=True, slots=True)
class Labelled:
    """A label in a narrow column and a paragraph beside it."""

    label: str
    parts: tuple[Part, ...]
    tone: Tone = Tone.HEAD
    indent: int = 0
    width: int = 10
    """Columns kept for the label, its gap included; a longer label takes what it needs."""


@dataclass(frozen=True, slots=True)
class Cells:
    """One row of a grid; a row with fewer cells lets its last one run to the edge."""

    cells: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """Rows whose cells stand under each other; the last column takes the room that is left."""

    rows: tuple[Cells, ...]
    caps: tuple[int, ...]
    """Widest each column but the last may grow."""
    numbers: tuple[int, ...] = ()
    """Columns that are printed flush right."""


@dataclass(frozen=True, slots=True)
class Verbatim:
    """A line printed exactly as it stands, never wrapped: source text above its caret."""

    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Blank:
    """An empty line."""


Block = Line | Labelled | Grid | Verbatim | Blank
Page = tuple[Block, ...]


def line(text: str, tone: Tone = Tone.PLAIN, indent: int = 0) -> Line:
    """Return a paragraph in one tone."""
    return Line((Part(text, tone),), indent)


def labelled(label: str, text: str, tone: Tone = Tone.HEAD, *, indent: int = 0, width: int = 10) -> Labelled:
    """Return a labelled paragraph whose text is plain."""
    return Labelled(label, (Part(text),), tone, indent, width)
