"""Comparisons of words: a cell holds the words still possible, so a comparison may stay open."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import numpy as np

from advisor.language.nodes import IsOp
from advisor.reasoning import truths
from advisor.reasoning.columns import Bools, Sets, Truths, Words
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Op


@dataclass(frozen=True, slots=True, eq=False)
class WordIs(Op):
    """A comparison of words; `words` are literals, `right` another word or set column."""

    op: IsOp
    left: Op
    right: Op | None
    words: tuple[str, ...]
    negated: bool

    @property
    def inputs(self) -> tuple[Op, ...]:
        """The columns compared."""
        return (self.left,) if self.right is None else (self.left, self.right)

    def run(self, frame: Frame) -> Truths:
        """Return whether the words agree, over every word still possible."""
        left = frame.value(self.left)
        right = None if self.right is None else frame.value(self.right)
        if self.op is IsOp.HAS:
            found = _has(cast(Sets, left), self.words)  # the checker has proved the type
        elif isinstance(right, Sets):
            found = _inside(cast(Words, left), right)
        elif isinstance(right, Words):
            found = _same(cast(Words, left), right)
        else:
            found = _listed(cast(Words, left), self.words)
        return truths.negate(found) if self.negated else found


def _listed(left: Words, words: tuple[str, ...]) -> Truths:
    """Whether a word is one of a list."""
    named = np.array([word in words for word in left.domain], np.bool_)
    may = np.logical_or.reduce(left.possible & named, axis=1)
    may_not = np.logical_or.reduce(left.possible & ~named, axis=1)
    return truths.of_bools(may & ~may_not, may_not & ~may, left.flags)


def _has(left: Sets, words: tuple[str, ...]) -> Truths:
    """Whether a set holds every word of a list."""
    wanted = [left.domain.index(word) for word in words if word in left.domain]
    known = len(wanted) == len(words)
    yes = np.logical_and.reduce(left.surely[:, wanted], axis=1) & known
    no = ~np.logical_and.reduce(left.possibly[:, wanted], axis=1) | (not known)
    return truths.of_bools(yes, no, left.flags)


def _aligned(have: Bools, domain: tuple[str, ...], wanted: tuple[str, ...]) -> Bools:
    """Columns of `have` rearranged to another domain; absent words are false."""
    if domain == wanted:
        return have
    index = {word: place for place, word in enumerate(domain)}
    out = np.zeros((have.shape[0], len(wanted)), np.bool_)
    for place, word in enumerate(wanted):
        if word in index:
            out[:, place] = have[:, index[word]]
    return out


def _same(left: Words, right: Words) -> Truths:
    """Whether two words are the same."""
    domain = tuple(dict.fromkeys((*left.domain, *right.domain)))
    a, b = _aligned(left.possible, left.domain, domain), _aligned(right.possible, right.domain, domain)
    may = np.logical_or.reduce(a & b, axis=1)
    single = (np.add.reduce(a, axis=1, dtype=np.int64) == 1) & (np.add.reduce(b, axis=1, dtype=np.int64) == 1)
    return truths.of_bools(may & single, ~may, left.flags | right.flags)


def _inside(left: Words, right: Sets) -> Truths:
    """Whether a word is in a set."""
    domain = tuple(dict.fromkeys((*left.domain, *right.domain)))
    a = _aligned(left.possible, left.domain, domain)
    surely = _aligned(right.surely, right.domain, domain)
    possibly = _aligned(right.possibly, right.domain, domain)
    yes = ~np.logical_or.reduce(a & ~surely, axis=1)
    no = ~np.logical_or.reduce(a & possibly, axis=1)
    return truths.of_bools(yes & ~no, no, left.flags | right.flags)
