"""Columns with some cells left blank: what a cell is when nothing is known of it.

A quantity is its whole physical range, a word any word, a set anything, and a
relation may hold or not; the last is a state nobody can write down, since a
relation that is declared given does not hold unless it is told.
"""

from __future__ import annotations

import numpy as np

from advisor.reasoning import truths
from advisor.reasoning.columns import MISSING, Bools, Column, Flags, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.ops import NumberCell, Op


def taken(column: Column, rows: Ints) -> Column:
    """Return some rows of a column, in the order given."""
    match column:
        case Numbers():
            return Numbers(column.low[rows], column.best[rows], column.high[rows], column.flags[rows])
        case Words():
            return Words(column.possible[rows], column.domain, column.flags[rows])
        case Sets():
            return Sets(column.surely[rows], column.possibly[rows], column.domain, column.flags[rows])
        case Truths():
            return truths.take(column, rows)


def blanked(op: Op, column: Column, gone: Bools) -> Column:
    """Return the column of a cell with some rows not known."""
    match column:
        case Numbers():
            least, most = _range(op)
            return Numbers(
                np.where(gone, np.minimum(column.low, least), column.low),
                np.where(gone, np.nan, column.best),
                np.where(gone, np.maximum(column.high, most), column.high),
                _flags(column.flags, gone),
            )
        case Words():
            return Words(column.possible | gone[:, None], column.domain, _flags(column.flags, gone))
        case Sets():
            line = gone[:, None]
            return Sets(
                column.surely & ~line, column.possibly | line, column.domain, _flags(column.flags, gone)
            )
        case Truths():
            lean = np.where(gone, 0, column.lean).astype(np.int8)
            return truths.of_bools(column.yes & ~gone, column.no & ~gone, _flags(column.flags, gone), lean)


def is_blank(op: Op, column: Column) -> Bools:
    """Return which rows of the column of a cell say nothing."""
    match column:
        case Numbers():
            least, most = _range(op)
            nothing = (column.low <= least) & (column.high >= most) & np.isnan(column.best)
        case Words():
            nothing = np.logical_and.reduce(column.possible, axis=1)
        case Sets():
            nothing = ~np.logical_or.reduce(column.surely | ~column.possibly, axis=1)
        case Truths():
            nothing = (column.lean == 0) & ~(column.yes | column.no)
    found: Bools = nothing & (column.flags == MISSING)
    return found


def _range(op: Op) -> tuple[float, float]:
    """The physical range of a quantity. [base unit]"""
    return (op.measure.low, op.measure.high) if isinstance(op, NumberCell) else (-np.inf, np.inf)


def _flags(flags: Flags, gone: Bools) -> Flags:
    """Flags with what is forgotten missing."""
    return np.where(gone, MISSING, flags).astype(np.uint8)
