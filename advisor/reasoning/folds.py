"""What is made of many members: per holder, and per possibility where it is not certain which a holder has.

An animal whose species is not certain has the weapons of one card or of
another. Each card is reckoned by itself and the results are folded: what all
of them say is sure, else the answer is open, or covers them all.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.language.nodes import Binder
from advisor.model.vocabulary import Kind
from advisor.reasoning import intervals
from advisor.reasoning.columns import MISSING, Bools, Flags, Floats, Ints, Numbers, Truths
from advisor.reasoning.frame import Frame


@dataclass(frozen=True, slots=True)
class Groups:
    """How the members of an aggregate are put together."""

    segment: Ints
    """The possibility each member belongs to."""
    holder: Ints
    """The binding each possibility belongs to."""
    stranger: Bools
    """Members that stand for any number of things nobody told of, or for none."""

    @property
    def size(self) -> int:
        """Number of possibilities."""
        return len(self.holder)


def groups_of(frame: Frame, binder: Binder, rows: Ints, segment: Ints) -> Groups:
    """Return the groups of an aggregate's members.

    Parameters
    ----------
    rows, segment
        The row each member binds, and the binding of `frame` it belongs to; shape (m,) each.
    """
    everyone = np.arange(frame.size)
    if binder.kind.lives or binder.kind is Kind.TANK:
        return Groups(segment, everyone, np.zeros(len(rows), np.bool_))
    listing = frame.tables.listing(binder.kind, apart=True)
    if binder.kind is not Kind.WEAPON:
        return Groups(segment, everyone, listing.stranger[rows])
    parts = listing.parts[frame.rows[binder.weapon_of]]
    first = np.cumsum(parts) - parts
    return Groups(first[segment] + listing.part[rows], np.repeat(everyone, parts), listing.stranger[rows])


def or_absent(of: Truths, stranger: Bools) -> Truths:
    """Return ``of``, open for strangers of which it is not surely true: there may be none."""
    doubt = stranger & ~of.yes
    return Truths(
        of.yes,
        of.no & ~doubt,
        np.where(doubt, 0, of.lean).astype(np.int8),
        np.where(doubt, -np.inf, of.low),
        np.where(doubt, np.nan, of.best),
        np.where(doubt, np.inf, of.high),
        np.where(doubt, of.flags | MISSING, of.flags).astype(np.uint8),
    )


def summed(values: Numbers, member: Truths, groups: Groups) -> Numbers:
    """Return the sum per group; a doubtful member adds at least its least and nothing, at most its most."""
    low = np.where(member.no, 0.0, np.where(member.yes, values.low, np.minimum(values.low, 0.0)))
    high = np.where(member.no, 0.0, np.where(member.yes, values.high, np.maximum(values.high, 0.0)))
    # of strangers there may be any number
    low = np.where(groups.stranger & (low < 0), -np.inf, low)
    high = np.where(groups.stranger & (high > 0), np.inf, high)
    best = np.where(member.lean > 0, values.best, np.where(member.lean < 0, 0.0, np.nan))
    with np.errstate(invalid="ignore"):  # of two without bounds the sum may be anything
        out = [
            np.bincount(groups.segment, weights=part, minlength=groups.size).astype(np.float64)
            for part in (low, best, high)
        ]
    flags = np.zeros(groups.size, np.uint8)
    kept = np.where(member.no, 0, values.flags | member.flags).astype(np.uint8)
    np.bitwise_or.at(flags, groups.segment, kept)
    return intervals.with_open_ends(out[0], out[1], out[2], flags)


def extreme(values: Numbers, member: Truths, groups: Groups, *, most: bool) -> Numbers:
    """Return the largest or smallest per group; without members it is unbounded on the far side."""
    sign = 1.0 if most else -1.0
    near, far = (values.low, values.high) if most else (-values.high, -values.low)
    segment = groups.segment
    low, best, without, high = (np.full(groups.size, -np.inf) for _ in range(4))
    with np.errstate(invalid="ignore"):  # a best value nobody knows stays unknown
        np.maximum.at(low, segment, np.where(member.yes, near, -np.inf))
        np.maximum.at(high, segment, np.where(member.no, -np.inf, far))
        np.maximum.at(best, segment, np.where(member.lean < 0, -np.inf, sign * values.best))
        np.maximum.at(without, segment, np.where(member.lean <= 0, -np.inf, sign * values.best))
    best = np.where(best == without, best, np.nan)  # a member nobody knows of makes the difference
    flags = np.zeros(groups.size, np.uint8)
    np.bitwise_or.at(flags, segment, np.where(member.no, 0, values.flags | member.flags).astype(np.uint8))
    return Numbers(low, best, high, flags) if most else Numbers(-high, -best, -low, flags)


def truths_of_all(of: Truths, groups: Groups, size: int) -> Truths:
    """Return what all possibilities of each holder say; open where they differ."""
    if groups.size == size:
        return of
    yes, no = _all(of.yes, groups, size), _all(of.no, groups, size)
    least, most = (_ends(of.lean.astype(np.float64), groups, size, end) for end in (np.minimum, np.maximum))
    lean = np.where(least == most, least, 0).astype(np.int8)
    flags = np.where(yes | no, 0, _flags(of.flags, groups, size) | MISSING).astype(np.uint8)
    low, high = _ends(of.low, groups, size, np.minimum), _ends(of.high, groups, size, np.maximum)
    return Truths(yes, no, lean, low, _common(of.best, groups, size), high, flags)


def numbers_of_all(of: Numbers, groups: Groups, size: int) -> Numbers:
    """Return the range that covers what the possibilities of each holder say."""
    if groups.size == size:
        return of
    low, high = _ends(of.low, groups, size, np.minimum), _ends(of.high, groups, size, np.maximum)
    flags = _flags(of.flags, groups, size)
    top, bottom = _ends(of.low, groups, size, np.maximum), _ends(of.high, groups, size, np.minimum)
    differ = (low != top) | (high != bottom)
    flags = np.where(differ, flags | MISSING, flags).astype(np.uint8)
    return Numbers(low, _common(of.best, groups, size), high, flags)


def _all(of: Bools, groups: Groups, size: int) -> Bools:
    """Whether something is so in every possibility."""
    found = np.ones(size, np.bool_)
    np.logical_and.at(found, groups.holder, of)
    return found


def _ends(of: Floats, groups: Groups, size: int, pick: np.ufunc) -> Floats:
    """The least or the most of the possibilities."""
    found = np.full(size, np.inf if pick is np.minimum else -np.inf)
    with np.errstate(invalid="ignore"):  # a best value nobody knows carries through on purpose
        pick.at(found, groups.holder, of)
    return found


def _common(best: Floats, groups: Groups, size: int) -> Floats:
    """The best value where the possibilities have one in common."""
    least, most = _ends(best, groups, size, np.minimum), _ends(best, groups, size, np.maximum)
    return np.where(least == most, least, np.nan)


def _flags(of: Flags, groups: Groups, size: int) -> Flags:
    """Every flag of the possibilities."""
    found = np.zeros(size, np.uint8)
    np.bitwise_or.at(found, groups.holder, of)
    return found
