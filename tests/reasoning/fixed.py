"""Operations whose columns a test writes down, and a frame to run others over them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import Numbers, Sets, Truths, Words
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Op, Quantity
from advisor.units import UNITS
from tests.reasoning.grids import random_grid
from tests.reasoning.small import NOWHERE, library_of

CM = UNITS["cm"]
_GRID = random_grid(library_of(), 0)


@dataclass(frozen=True, slots=True, eq=False)
class FixedNumbers(Quantity):
    """A quantity with a given column."""

    column: Numbers

    def run(self, frame: Frame) -> Numbers:
        """Return it."""
        return self.column


@dataclass(frozen=True, slots=True, eq=False)
class FixedTruths(Op):
    """A truth with a given column."""

    column: Truths

    def run(self, frame: Frame) -> Truths:
        """Return it."""
        return self.column


@dataclass(frozen=True, slots=True, eq=False)
class FixedWords(Op):
    """Words or sets with a given column."""

    column: Words | Sets

    def run(self, frame: Frame) -> Words | Sets:
        """Return it."""
        return self.column


def quantity(column: Numbers, step: float = 1.0) -> FixedNumbers:
    """Return an operation that gives a column of centimetres."""
    return FixedNumbers(NOWHERE, CM, step, column)


def truth_op(column: Truths) -> FixedTruths:
    """Return an operation that gives a column of truths."""
    return FixedTruths(NOWHERE, column)


def words_op(column: Words | Sets) -> FixedWords:
    """Return an operation that gives a column of words."""
    return FixedWords(NOWHERE, column)


def frame_of_size(size: int) -> Frame:
    """Return a frame of some bindings about nothing."""
    return Frame(_GRID, population_of(_GRID), np.zeros(size, np.int64), {}, np.zeros(size))
