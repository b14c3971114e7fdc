"""Turns a page into text: wraps, aligns and colours; nothing gets wider than it is told."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from typing import assert_never

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from advisor.reports.clean import clean, to_ascii
from advisor.reports.page import Blank, Block, Grid, Labelled, Line, Page, Part, Tone, Verbatim

WIDTH = 80
"""No answer is wider than this. [columns]"""

_GAP = 2
_NARROWEST = 14
_TIGHTEST = 4
_STYLES = {
    Tone.PLAIN: "",
    Tone.HEAD: "bold",
    Tone.GOOD: "bold green",
    Tone.BAD: "bold red",
    Tone.OPEN: "yellow",
    Tone.QUIET: "dim",
    Tone.CAUTION: "bold red",
}
_TRAILING = re.compile(r"(?: |\x1b\[[0-9;]*m)+$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Look:
    """How an answer is to be shown."""

    width: int = WIDTH
    colour: bool = False
    unicode: bool = True


PLAIN = Look()


def render(page: Page, look: Look = PLAIN) -> str:
    """Return `page` as text that ends in a line break (an empty page gives empty text)."""
    printer = _Printer(look)
    lines = [line for block in page for line in printer.lines(block)]
    if not lines:
        return ""
    printer.console.print(Text("\n").join(lines), no_wrap=True, overflow="ignore", crop=False)
    return _TRAILING.sub(lambda tail: tail.group().replace(" ", ""), printer.out.getvalue())


@dataclass(slots=True)
class _Printer:
    """Lays blocks out as lines of styled text, none wider than the look allows."""

    look: Look
    out: io.StringIO = field(default_factory=io.StringIO)
    console: Console = field(init=False)

    def __post_init__(self) -> None:
        colour = self.look.colour
        self.console = Console(
            file=self.out,
            width=self.look.width,
            force_terminal=colour,
            no_color=not colour,
            color_system="standard" if colour else None,
            legacy_windows=False,
            markup=False,
            highlight=False,
            emoji=False,
            _environ={},
        )

    def lines(self, block: Block) -> Iterator[Text]:
        """Yield the lines of one block."""
        match block:
            case Line():
                yield from self._beside([_Column(block.indent, 0, Text())], self._text(block.parts))
            case Labelled():
                yield from self._labelled(block)
            case Grid():
                yield from self._grid(block)
            case Verbatim():
                yield self._text(block.parts)
            case Blank():
                yield Text()
            case _:
                assert_never(block)

    def _text(self, parts: Sequence[Part]) -> Text:
        text = Text()
        for part in parts:
            shown = clean(part.text)
            shown = shown if self.look.unicode else to_ascii(shown)
            text.append(part.sign * cell_len(shown) if part.sign else shown, _STYLES[part.tone])
        return text

    def _wrapped(self, text: Text, width: int) -> list[Text]:
        if cell_len(text.plain) <= width:
            return [text]
        return list(text.wrap(self.console, max(1, width), overflow="fold"))

    def _beside(self, columns: Sequence[_Column], last: Text) -> Iterator[Text]:
        """Yield the lines of some columns of fixed width and of a last one that takes the rest."""
        room = self.look.width - sum(column.width for column in columns)
        wrapped = [self._wrapped(column.text, column.width - column.gap) for column in columns]
        for pieces in zip_longest(*wrapped, self._wrapped(last, room)):
            line = Text()
            for column, piece in zip(columns, pieces, strict=False):
                shown = piece or Text()
                line.append_text(shown).append(" " * (column.width - cell_len(shown.plain)))
            yield line.append_text(pieces[-1] or Text())

    def _labelled(self, block: Labelled) -> Iterator[Text]:
        label = self._text([Part(block.label, block.tone)])
        most = max(2, self.look.width - block.indent - _NARROWEST)
        width = min(max(block.width, cell_len(label.plain) + 1), most)
        columns = [_Column(block.indent, 0, Text()), _Column(width, 1, label)]
        yield from self._beside(columns, self._text(block.parts))

    def _grid(self, grid: Grid) -> Iterator[Text]:
        written = [[self._text([cell]) for cell in row.cells] for row in grid.rows]
        widths = _column_widths(grid, written, self.look.width)
        for texts in written:
            columns = []
            for number, text in enumerate(texts[:-1]):
                flush = number in grid.numbers
                blanks = " " * max(0, widths[number] - cell_len(text.plain)) if flush else ""
                columns.append(_Column(widths[number] + _GAP, _GAP, Text(blanks).append_text(text)))
            yield from self._beside(columns, texts[-1])


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of fixed width, its gap to the next included."""

    width: int
    gap: int
    text: Text


def _column_widths(grid: Grid, written: list[list[Text]], width: int) -> list[int]:
    """The widths of all columns but the last: what they hold up to their caps, narrower if need be."""
    last = len(grid.caps)
    widths = [0] * last
    for texts in written:
        for column, text in enumerate(texts[:-1]):
            widths[column] = min(grid.caps[column], max(widths[column], cell_len(text.plain)))
    while last and width - sum(widths) - _GAP * last < _NARROWEST and max(widths) > _TIGHTEST:
        widths[widths.index(max(widths))] -= 1
    return widths
