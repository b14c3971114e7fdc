"""Turns a page into text: wraps, aligns and colours; nothing gets wider than it is told."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import assert_never

from rich.cells import cell_len
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from advisor.reports.clean import clean, to_ascii
from advisor.reports.page import Blank, Block, Cells, Grid, Labelled, Line, Page, Part, Tone, Verbatim

WIDTH = 80
"""No answer is wider than this. [columns]"""

_GAP = 2
_NARROWEST = 14
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
    out = io.StringIO()
    console = Console(
        file=out,
        width=look.width,
        force_terminal=look.colour,
        legacy_windows=False,
        color_system="standard" if look.colour else None,
        no_color=not look.colour,
        markup=False,
        highlight=False,
        emoji=False,
        _environ={},
    )
    write = _writer(look)
    for block in page:
        _print_block(console, block, write, look.width)
    return _TRAILING.sub(lambda tail: tail.group().replace(" ", ""), out.getvalue())


Writer = Callable[[Sequence[Part]], Text]


def _writer(look: Look) -> Writer:
    def write(parts: Sequence[Part]) -> Text:
        text = Text(overflow="fold")
        for part in parts:
            shown = clean(part.text)
            text.append(shown if look.unicode else to_ascii(shown), _STYLES[part.tone])
        return text

    return write


def _print_block(console: Console, block: Block, write: Writer, width: int) -> None:
    match block:
        case Line():
            console.print(Padding(write(block.parts), (0, 0, 0, block.indent)))
        case Labelled():
            console.print(Padding(_labelled(block, write), (0, 0, 0, block.indent)))
        case Grid():
            _print_grid(console, block, write, width)
        case Verbatim():
            console.print(write(block.parts), no_wrap=True, overflow="ignore", crop=False)
        case Blank():
            console.print()
        case _:
            assert_never(block)


def _labelled(block: Labelled, write: Writer) -> Table:
    label = write([Part(block.label, block.tone)])
    table = Table.grid()
    table.add_column(width=max(block.width, cell_len(label.plain) + 1))
    table.add_column(overflow="fold")
    table.add_row(label, write(block.parts))
    return table


def _print_grid(console: Console, grid: Grid, write: Writer, width: int) -> None:
    written = [[write([cell]) for cell in row.cells] for row in grid.rows]
    widths = _column_widths(grid, written, width)
    for row, texts in zip(grid.rows, written, strict=True):
        console.print(_grid_row(row, texts, widths, grid.numbers))


def _column_widths(grid: Grid, written: list[list[Text]], width: int) -> list[int]:
    last = len(grid.caps)
    widths = [0] * last
    for texts in written:
        for column, text in enumerate(texts[:-1] if len(texts) <= last else texts[:last]):
            widths[column] = min(grid.caps[column], max(widths[column], cell_len(text.plain)))
    while last and width - sum(widths) - _GAP * last < _NARROWEST and max(widths) > 4:
        widths[widths.index(max(widths))] -= 1
    return [*widths, max(1, width - sum(widths) - _GAP * last)]


def _grid_row(row: Cells, texts: list[Text], widths: list[int], numbers: tuple[int, ...]) -> Table:
    table = Table.grid(padding=(0, _GAP, 0, 0), pad_edge=False)
    shown = len(row.cells)
    for column in range(shown):
        rest = widths[column:]
        room = widths[column] if column < shown - 1 else sum(rest) + _GAP * (len(rest) - 1)
        flush = column in numbers and column < shown - 1
        table.add_column(width=room, overflow="fold", justify="right" if flush else "left")
    table.add_row(*texts)
    return table
