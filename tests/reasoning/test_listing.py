"""Who there is of a kind, holder by holder."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from advisor.reasoning.listing import NOTHING, Listing, here_in, listing_of

WORLD = np.array([-1, -1, 1, 2], np.int64)


def held(listing: Listing, *holders: int) -> list[tuple[int, int]]:
    """Return the rows of some holders, each with the place of its holder."""
    segment, rows = listing.held_by(np.array(holders, np.int64))
    return list(zip(segment.tolist(), rows.tolist(), strict=True))


def test_a_world_has_what_is_shared_and_what_is_its_own() -> None:
    found = listing_of(here_in(3, WORLD), WORLD)
    assert held(found, 0, 1, 2) == [(0, 0), (0, 1), (1, 0), (1, 1), (1, 2), (2, 0), (2, 1), (2, 3)]
    assert held(found, 2, 0, 2)[:3] == [(0, 0), (0, 1), (0, 3)]


def test_what_another_row_stands_for_is_gone() -> None:
    found = listing_of(here_in(3, WORLD, [(1, 0), (2, 3)]), WORLD)
    assert held(found, 1) == [(0, 1), (0, 2)]
    assert held(found, 2) == [(0, 0), (0, 1)]
    assert held(found, 0) == [(0, 0), (0, 1)]


def test_strangers_can_be_left_out() -> None:
    stranger = np.array([False, True, False, False])
    found = listing_of(here_in(3, WORLD), WORLD, stranger).without_strangers()
    assert held(found, 0, 1) == [(0, 0), (1, 0), (1, 2)]
    assert found.stranger.tolist() == stranger.tolist()


def test_nothing_is_held_by_nobody() -> None:
    assert held(listing_of(here_in(1, WORLD[:0]), WORLD[:0]), 0) == []
    assert len(NOTHING.rows) == 0


@given(st.lists(st.lists(st.booleans(), min_size=4, max_size=4), min_size=1, max_size=5), st.data())
def test_every_row_is_held_once_by_each_that_has_it(present: list[list[bool]], data: st.DataObject) -> None:
    table = np.array(present, np.bool_)
    found = listing_of(table, np.full(4, -1, np.int64))
    holders = data.draw(st.lists(st.integers(0, len(present) - 1), max_size=6))
    held_rows = [np.flatnonzero(table[holder]).tolist() for holder in holders]
    expected = [(at, row) for at, rows in enumerate(held_rows) for row in rows]
    assert held(found, *holders) == expected
