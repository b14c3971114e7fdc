"""The shapes every operation relies on."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from advisor.reasoning.columns import ASSUMED, MISSING, STALE, Column, Numbers, Sets, Truths, Words
from tests.reasoning.grids import random_grid
from tests.reasoning.small import library_of

ALL = (MISSING, STALE, ASSUMED)


def test_flags_can_be_told_apart_when_joined() -> None:
    """Each is a bit of its own, and all fit the small integers they are kept in."""
    assert all(flag & other == 0 for flag in ALL for other in ALL if flag is not other)
    assert all(bin(flag).count("1") == 1 for flag in ALL)
    assert np.uint8(MISSING | STALE | ASSUMED) == sum(ALL)


@pytest.mark.parametrize("kind", [Numbers, Words, Sets, Truths])
def test_columns_cannot_be_changed_once_made(kind: type[Column]) -> None:
    grid = random_grid(library_of(), 0)
    rows = (np.arange(2),)
    made: dict[type[Column], Column] = {
        Numbers: grid.numbers("size", rows, None, True),
        Words: grid.words("group", rows),
        Sets: grid.sets("weapons", rows),
        Truths: grid.truths("fenced", rows, None),
    }
    column = made[kind]
    with pytest.raises(dataclasses.FrozenInstanceError):
        column.flags = np.zeros(2, np.uint8)  # type: ignore[misc]  # on purpose
