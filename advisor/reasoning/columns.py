"""Columns of intervals, words and truths: what every operation of a rule works on.

A column holds one value per binding. Numbers are closed ranges with a best
value (NaN where nothing singles one out); a word is the set of words still
possible; a truth is *surely yes*, *surely no* or neither, with the way it
leans and its margin in steps.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]
Ints: TypeAlias = npt.NDArray[np.int64]
Flags: TypeAlias = npt.NDArray[np.uint8]
Leans: TypeAlias = npt.NDArray[np.int8]
Codes: TypeAlias = npt.NDArray[np.int8]

MISSING = 1
STALE = 2
ASSUMED = 4


@dataclass(frozen=True, slots=True)
class Numbers:
    """Ranges in base units, shape (n,) each; `best` is NaN where unknown."""

    low: Floats
    best: Floats
    high: Floats
    flags: Flags


@dataclass(frozen=True, slots=True)
class Words:
    """Words still possible, shape (n, k) over `domain` of k words."""

    possible: Bools
    domain: tuple[str, ...]
    flags: Flags


@dataclass(frozen=True, slots=True)
class Sets:
    """Words surely and possibly in a set, shape (n, k) over `domain`."""

    surely: Bools
    possibly: Bools
    domain: tuple[str, ...]
    flags: Flags


@dataclass(frozen=True, slots=True)
class Truths:
    """Three-valued truths, shape (n,) each.

    `yes` and `no` are surely true and surely false; `lean` is +1, 0 or -1; the
    margins are in steps, NaN where the truth has none (words).
    """

    yes: Bools
    no: Bools
    lean: Leans
    low: Floats
    best: Floats
    high: Floats
    flags: Flags


Column = Numbers | Words | Sets | Truths
