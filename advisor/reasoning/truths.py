"""Strong Kleene logic on columns, with margins carried along.

Tables: S. C. Kleene, Introduction to Metamathematics, 1952, section 64.
Margins: ``and`` takes the least, ``or`` the largest, ``not`` changes the sign.
A truth of words counts as unboundedly far from its limit.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.reasoning.columns import MISSING, STALE, Bools, Flags, Floats, Ints, Leans, Truths


def of_bools(yes: Bools, no: Bools, flags: Flags, lean: Leans | None = None) -> Truths:
    """Return truths that have no margin of their own: surely yes, surely no, or open."""
    leans = np.where(yes, 1, np.where(no, -1, 0 if lean is None else lean)).astype(np.int8)
    low = np.where(yes, np.inf, -np.inf)
    high = np.where(no, -np.inf, np.inf)
    best = np.where(yes, np.inf, np.where(no, -np.inf, np.nan))
    return Truths(yes, no, leans, low, best, high, np.where(yes | no, 0, flags).astype(np.uint8))


def of_margin(low: Floats, best: Floats, high: Floats, flags: Flags, strict: bool) -> Truths:
    """Return the truth of ``margin >= 0`` (``> 0`` if `strict`), margins in steps.

    An open one leans the way its best value points; without a best value it
    leans the way the larger part of its range lies, if anything was said that still counts.
    """
    yes = low > 0 if strict else low >= 0
    no = high <= 0 if strict else high < 0
    good = best > 0 if strict else best >= 0
    with np.errstate(invalid="ignore"):
        middle = np.where((flags & (MISSING | STALE)) != 0, 0.0, np.sign(low + high))
    larger_part = np.where(np.isfinite(middle), middle, 0.0)
    lean = np.where(np.isnan(best), larger_part, np.where(good, 1, -1))
    lean = np.where(yes, 1, np.where(no, -1, lean)).astype(np.int8)
    return Truths(yes, no, lean, low, best, high, np.where(yes | no, 0, flags).astype(np.uint8))


def constant(value: bool, size: int) -> Truths:
    """Return `size` copies of a plain truth."""
    full = np.full(size, value)
    return of_bools(full, ~full, np.zeros(size, np.uint8))


def negate(of: Truths) -> Truths:
    """Return strong Kleene ``not``."""
    return Truths(of.no, of.yes, -of.lean, -of.high, -of.best, -of.low, of.flags)


def all_of(items: Sequence[Truths]) -> Truths:
    """Return strong Kleene ``and``; flags only of what is still open."""
    yes = np.logical_and.reduce([item.yes for item in items])
    no = np.logical_or.reduce([item.no for item in items])
    lean = np.minimum.reduce([item.lean for item in items])
    flags = np.bitwise_or.reduce([item.flags for item in items])
    low = np.minimum.reduce([item.low for item in items])
    high = np.minimum.reduce([item.high for item in items])
    best = np.minimum.reduce([item.best for item in items])
    decided = yes | no
    lean = np.where(yes, 1, np.where(no, -1, lean)).astype(np.int8)
    return Truths(yes, no, lean, low, best, high, np.where(decided, 0, flags).astype(np.uint8))


def any_of(items: Sequence[Truths]) -> Truths:
    """Return strong Kleene ``or``."""
    return negate(all_of([negate(item) for item in items]))


def take(of: Truths, rows: Ints) -> Truths:
    """Return the truths of some rows."""
    return Truths(
        of.yes[rows], of.no[rows], of.lean[rows], of.low[rows], of.best[rows], of.high[rows], of.flags[rows]
    )


def segment_all(of: Truths, segment: Ints, size: int) -> Truths:
    """Return ``and`` within each segment; an empty segment is true (nothing speaks against it)."""
    yes = np.ones(size, np.bool_)
    no = np.zeros(size, np.bool_)
    lean = np.ones(size, np.int8)
    flags = np.zeros(size, np.uint8)
    low, best, high = (np.full(size, np.inf) for _ in range(3))
    np.logical_and.at(yes, segment, of.yes)
    np.logical_or.at(no, segment, of.no)
    np.minimum.at(lean, segment, of.lean)
    np.bitwise_or.at(flags, segment, of.flags)
    with np.errstate(invalid="ignore"):  # not knowing (NaN) carries through on purpose
        np.minimum.at(low, segment, of.low)
        np.minimum.at(best, segment, of.best)
        np.minimum.at(high, segment, of.high)
    return Truths(
        yes,
        no,
        np.where(yes, 1, np.where(no, -1, lean)).astype(np.int8),
        low,
        best,
        high,
        np.where(yes | no, 0, flags).astype(np.uint8),
    )
