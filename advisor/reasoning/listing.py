"""Who there is of one kind: in each world, or, of weapons, at each animal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.reasoning.columns import Bools, Ints


@dataclass(frozen=True, slots=True)
class Listing:
    """The rows of one kind's table that belong to each holder, as one list cut at `starts`.

    A holder is a world, or the animal row that carries a weapon. An animal
    whose species is not certain holds the rows of one card or of another:
    `part` tells of which card each row of the table is.
    """

    rows: Ints
    starts: Ints
    world: Ints
    """World of each row of the table, -1 where shared."""
    stranger: Bools
    """Rows of the table that stand for any number of things nobody told of, or for none."""
    part: Ints
    """Which of its holder's possibilities each row of the table belongs to, counted from 0."""
    parts: Ints
    """How many possibilities each holder has; shape (holders,)."""

    def held_by(self, holders: Ints) -> tuple[Ints, Ints]:
        """Return every row of each holder: which of `holders` it belongs to, and the row."""
        counts = self.starts[holders + 1] - self.starts[holders]
        segment = np.repeat(np.arange(len(holders)), counts)
        before = np.cumsum(counts) - counts
        at = np.repeat(self.starts[holders] - before, counts) + np.arange(len(segment))
        return segment, self.rows[at]

    def without_strangers(self) -> Listing:
        """Return the same holders with only what is told of."""
        keep = ~self.stranger[self.rows]
        kept = np.concatenate([[0], np.cumsum(keep)])
        return Listing(
            self.rows[keep],
            kept[self.starts].astype(np.int64),
            self.world,
            self.stranger,
            self.part,
            self.parts,
        )


def listing_of(
    present: Bools, world: Ints, stranger: Bools | None = None, part: Ints | None = None
) -> Listing:
    """Return the listing of a table over worlds.

    Parameters
    ----------
    present
        Whether each row is there; shape (worlds, rows).
    world
        World of each row, -1 where shared.
    """
    holder, rows = np.nonzero(present)
    size = present.shape[1]
    return Listing(
        rows.astype(np.int64),
        np.searchsorted(holder, np.arange(present.shape[0] + 1)).astype(np.int64),
        world,
        np.zeros(size, np.bool_) if stranger is None else stranger,
        np.zeros(size, np.int64) if part is None else part,
        np.ones(present.shape[0], np.int64),
    )


def here_in(worlds: int, world: Ints, gone: Sequence[tuple[int, int]] = ()) -> Bools:
    """Return which rows are there in each world: the shared ones and its own, but for those that are gone."""
    present = (world[None, :] < 0) | (world[None, :] == np.arange(worlds)[:, None])
    for at, row in gone:
        present[at, row] = False
    found: Bools = present
    return found


NOTHING = Listing(*(np.zeros(0, np.int64),) * 3, np.zeros(0, np.bool_), *(np.zeros(0, np.int64),) * 2)
"""The listing of a kind nobody can be of."""
