"""Arithmetic of ranges: every result holds all values its inputs allow.

What cannot be bounded is unbounded, never a number: an aggregate without
members is infinitely large or small, and the difference of two such is open.
"""

from __future__ import annotations

import numpy as np

from advisor.reasoning.columns import Flags, Floats, Numbers


def plus(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a + b``."""
    with np.errstate(invalid="ignore"):
        return _open_ends(a.low + b.low, a.best + b.best, a.high + b.high, a.flags | b.flags)


def minus(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a - b``."""
    with np.errstate(invalid="ignore"):
        return _open_ends(a.low - b.high, a.best - b.best, a.high - b.low, a.flags | b.flags)


def times(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a * b``; nothing of what is unbounded is nothing."""
    with np.errstate(invalid="ignore"):
        corners = [x * y for x in (a.low, a.high) for y in (b.low, b.high)]
        best = a.best * b.best
    clean = [np.where(np.isnan(corner), 0.0, corner) for corner in corners]
    return Numbers(np.minimum.reduce(clean), best, np.maximum.reduce(clean), a.flags | b.flags)


def over(a: Numbers, b: Numbers) -> Numbers:
    """Return the range of ``a / b``; unbounded where the divisor may be zero."""
    through_zero = (b.low <= 0) & (b.high >= 0)
    ends = [_quotients(x, y) for x in (a.low, a.high) for y in (b.low, b.high)]
    low, high = np.minimum.reduce([end[0] for end in ends]), np.maximum.reduce([end[1] for end in ends])
    with np.errstate(invalid="ignore"):
        best = np.where(b.best == 0, np.nan, a.best / np.where(b.best == 0, 1.0, b.best))
        least = a.low / np.where(b.high > 0, b.high, np.inf)
    # a divisor that is surely not negative keeps the sign of what is divided
    floor = np.where((a.low >= 0) & (b.low >= 0) & ~np.isnan(least), least, -np.inf)
    return Numbers(
        np.where(through_zero, floor, low), best, np.where(through_zero, np.inf, high), a.flags | b.flags
    )


def _quotients(x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Least and largest value of one corner; unbounded over unbounded may be anything of its sign."""
    with np.errstate(divide="ignore", invalid="ignore"):
        found = x / y
        widest = np.where(np.isnan(found), np.sign(x) * np.sign(y) * np.inf, found)
    clean = np.where(np.isnan(found), 0.0, found)
    return np.fmin(clean, widest), np.fmax(clean, widest)


def _open_ends(low: Floats, best: Floats, high: Floats, flags: Flags) -> Numbers:
    """A range whose ends are unbounded where they are no number."""
    return Numbers(np.where(np.isnan(low), -np.inf, low), best, np.where(np.isnan(high), np.inf, high), flags)
