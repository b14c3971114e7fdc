"""Arithmetic of ranges: every result holds all values its inputs allow.

The least of nobody is more than any amount and the most of nobody less, so an
end without bound may be a value itself. None of anything is none. What no
arithmetic tells (one such less another, a division by nothing) may be any
amount, and says that something is missing.
"""

from __future__ import annotations

import numpy as np

from advisor.reasoning.columns import MISSING, Bools, Flags, Floats, Numbers


def plus(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a + b``."""
    with np.errstate(invalid="ignore"):
        return with_open_ends(a.low + b.low, a.best + b.best, a.high + b.high, a.flags | b.flags)


def minus(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a - b``."""
    with np.errstate(invalid="ignore"):
        return with_open_ends(a.low - b.high, a.best - b.best, a.high - b.low, a.flags | b.flags)


def above(a: Numbers, b: Numbers) -> Numbers:
    """Return how far ``a`` lies above ``b``, for a comparison: two that know no bounds are level."""
    with np.errstate(invalid="ignore"):
        low, high = a.low - b.high, a.high - b.low
        best = a.best - b.best
    level = (a.best == b.best) & np.isinf(a.best)
    return Numbers(
        np.where(np.isnan(low), 0.0, low),
        np.where(level, 0.0, best),
        np.where(np.isnan(high), 0.0, high),
        a.flags | b.flags,
    )


def where(chosen: Bools, a: Numbers, b: Numbers) -> Numbers:
    """Return the ranges of ``a`` where they are chosen, those of ``b`` elsewhere."""
    return Numbers(
        np.where(chosen, a.low, b.low),
        np.where(chosen, a.best, b.best),
        np.where(chosen, a.high, b.high),
        np.where(chosen, a.flags, b.flags).astype(np.uint8),
    )


def times(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a * b``; none of what is unbounded is none."""
    with np.errstate(invalid="ignore"):
        corners = [x * y for x in (a.low, a.high) for y in (b.low, b.high)]
        best = a.best * b.best
    clean = [np.where(np.isnan(corner), 0.0, corner) for corner in corners]
    best = np.where((a.best == 0) | (b.best == 0), 0.0, best)
    return Numbers(np.minimum.reduce(clean), best, np.maximum.reduce(clean), a.flags | b.flags)


def over(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a / b``; an amount divided by nothing is more than any amount."""
    ends = [_quotients(x, y) for x in (a.low, a.high) for y in (b.low, b.high)]
    through_zero = (b.low <= 0) & (b.high >= 0)
    low = np.where(through_zero, _floor(a, b), np.minimum.reduce([end[0] for end in ends]))
    high = np.where(through_zero, np.inf, np.maximum.reduce([end[1] for end in ends]))
    with np.errstate(invalid="ignore"):
        best = np.where(b.best == 0, np.nan, a.best / np.where(b.best == 0, 1.0, b.best))
    untold = (a.low == a.high) & (b.low == b.high) & (low < high)
    return Numbers(low, best, high, np.where(untold, a.flags | b.flags | MISSING, a.flags | b.flags))


def _floor(a: Numbers, b: Numbers) -> Floats:
    """The least quotient by what may be nothing; a divisor that is surely not negative keeps the sign."""
    with np.errstate(invalid="ignore"):
        least = np.where(
            b.high > 0, a.low / np.where(b.high > 0, b.high, 1.0), np.where(a.low > 0, np.inf, 0.0)
        )
    return np.where((a.low >= 0) & (b.low >= 0), np.where(np.isnan(least), 0.0, least), -np.inf)


def _quotients(x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Least and largest value of one corner; unbounded over unbounded may be anything of its sign."""
    with np.errstate(divide="ignore", invalid="ignore"):
        found = x / y
        widest = np.where(np.isnan(found), np.sign(x) * np.sign(y) * np.inf, found)
    clean = np.where(np.isnan(found), 0.0, found)
    return np.fmin(clean, widest), np.fmax(clean, widest)


def with_open_ends(low: Floats, best: Floats, high: Floats, flags: Flags) -> Numbers:
    """Return a range whose ends are unbounded where they are no number, and which then misses something."""
    lost, gained = np.isnan(low), np.isnan(high)
    flags = np.where(lost | gained, flags | MISSING, flags).astype(np.uint8)
    return Numbers(np.where(lost, -np.inf, low), best, np.where(gained, np.inf, high), flags)
