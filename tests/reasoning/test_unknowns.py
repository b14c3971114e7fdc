"""Columns with some rows left blank."""

from __future__ import annotations

import numpy as np

from advisor.reasoning.columns import MISSING, Numbers, Sets, Truths, Words
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell
from advisor.reasoning.record import ops_below
from advisor.reasoning.unknowns import blanked, is_blank, taken
from tests.reasoning.test_record import expected, row_of

FORMULA = "gap(a, b) >= 5 cm and group(a) is soft and weapons(a) has mucus and divider(a, b)"
GONE = np.array([True])


def cells() -> list[tuple[Op, object]]:
    """Return a cell of each kind with its column."""
    compiled, row = row_of(FORMULA, {"gap": (12.0,)})
    kinds = (NumberCell, WordCell, SetCell, RelationCell)
    return [(op, row.frame.value(op)) for op in ops_below(expected(compiled)) if isinstance(op, kinds)]


def test_what_is_blank_says_nothing_and_is_flagged_as_missing() -> None:
    for op, column in cells():
        assert isinstance(column, Numbers | Words | Sets | Truths)
        blank = blanked(op, column, GONE)
        assert is_blank(op, blank).tolist() == [True]
        assert blank.flags.tolist() == [MISSING]
        match blank:
            case Numbers():
                assert (blank.low[0], blank.high[0], np.isnan(blank.best[0])) == (0.0, 500.0, True)
            case Words():
                assert blank.possible.all()
            case Sets():
                assert blank.possibly.all()
                assert not blank.surely.any()
            case Truths():
                assert (blank.yes[0], blank.no[0], blank.lean[0]) == (False, False, 0)


def test_other_rows_stay_as_they_are() -> None:
    for op, column in cells():
        assert isinstance(column, Numbers | Words | Sets | Truths)
        twice = taken(column, np.array([0, 0]))
        kept = taken(blanked(op, twice, np.array([True, False])), np.array([1]))
        for name in type(column).__dataclass_fields__:
            before, after = getattr(column, name), getattr(kept, name)
            assert np.array_equal(before, after) if isinstance(before, np.ndarray) else before == after


def test_a_range_beyond_what_is_possible_never_shrinks() -> None:
    op, column = cells()[0]
    assert isinstance(column, Numbers)
    wide = Numbers(column.low - 50, column.best, column.high + 900, column.flags)
    blank = blanked(op, wide, GONE)
    assert isinstance(blank, Numbers)
    assert (blank.low[0], blank.high[0]) == (-38.0, 912.0)


def test_what_is_old_or_known_in_part_is_not_blank() -> None:
    op, column = cells()[0]
    assert isinstance(column, Numbers)
    full = Numbers(column.low * 0, column.best * np.nan, column.high * 0 + 500, column.flags + MISSING)
    assert is_blank(op, full)[0]
    assert not is_blank(op, Numbers(full.low + 1, full.best, full.high, full.flags))[0]
    assert not is_blank(op, Numbers(full.low, full.best, full.high, full.flags + 1))[0]
    assert not is_blank(op, column)[0]
