"""Cells packed into arrays, so that a column is gathered in one step whatever its length."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.model.cells import Cause, Cell, NumberCell, SetCell, WordCell
from advisor.reasoning.columns import (
    ASSUMED,
    MISSING,
    STALE,
    Bools,
    Flags,
    Ints,
    Numbers,
    Sets,
    Words,
)

FLAG_OF = {None: 0, Cause.MISSING: MISSING, Cause.STALE: STALE, Cause.TOO_CLOSE: 0}


def flag_of(cell: Cell, assumed: bool = False) -> int:
    """Return the flags of one cell."""
    return ASSUMED if assumed else FLAG_OF[cell.cause]


def _flags(cells: Sequence[Cell], assumed: Sequence[bool] = ()) -> Flags:
    """Flags of many cells."""
    marks = assumed or (False,) * len(cells)
    return np.array([flag_of(cell, mark) for cell, mark in zip(cells, marks, strict=True)], np.uint8)


def pack_numbers(cells: Sequence[NumberCell], assumed: Sequence[bool] = ()) -> Numbers:
    """Return number cells as a column, one row a cell."""
    return Numbers(
        np.array([cell.low for cell in cells], np.float64),
        np.array([np.nan if cell.best is None else cell.best for cell in cells], np.float64),
        np.array([cell.high for cell in cells], np.float64),
        _flags(cells, assumed),
    )


def take_numbers(column: Numbers, rows: Ints) -> Numbers:
    """Return some rows of a column."""
    return Numbers(column.low[rows], column.best[rows], column.high[rows], column.flags[rows])


def pack_words(cells: Sequence[WordCell], domain: tuple[str, ...]) -> Words:
    """Return word cells as a column over a domain."""
    return Words(_membership([cell.possible for cell in cells], domain), domain, _flags(cells))


def take_words(column: Words, rows: Ints) -> Words:
    """Return some rows of a column."""
    return Words(column.possible[rows], column.domain, column.flags[rows])


def pack_sets(cells: Sequence[SetCell], domain: tuple[str, ...]) -> Sets:
    """Return set cells as a column over a domain."""
    surely = _membership([cell.surely for cell in cells], domain)
    return Sets(surely, _membership([cell.possibly for cell in cells], domain), domain, _flags(cells))


def take_sets(column: Sets, rows: Ints) -> Sets:
    """Return some rows of a column."""
    return Sets(column.surely[rows], column.possibly[rows], column.domain, column.flags[rows])


def _membership(sets: Sequence[frozenset[str] | None], domain: tuple[str, ...]) -> Bools:
    """Which words of a domain each set holds; None holds every word."""
    place = {word: at for at, word in enumerate(domain)}
    found = np.zeros((len(sets), len(domain)), np.bool_)
    for row, words in enumerate(sets):
        if words is None:
            found[row] = True
        else:
            found[row, [place[word] for word in words if word in place]] = True
    return found


def words_in(cells: Sequence[Cell]) -> set[str]:
    """Return every word that occurs in some cells."""
    found: set[str] = set()
    for cell in cells:
        match cell:
            case WordCell(possible=words) | SetCell(possibly=words):
                found |= words or frozenset()
    return found
