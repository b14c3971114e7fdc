"""Several examples as one set of tables: each is a world of its own, so that they are judged in one run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Example
from advisor.model.cells import Cell
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Bools, Ints
from advisor.reasoning.givens import Givens, givens_of


@dataclass(slots=True)
class SideBySide(Givens):
    """The tables of several examples, their things numbered through; each has a tank of its own."""

    parts: tuple[Givens, ...] = ()
    owner: Ints = field(default_factory=lambda: np.zeros(0, np.int64))
    """Which part each row of a thing belongs to."""
    first: Ints = field(default_factory=lambda: np.zeros(0, np.int64))
    """The first row of each part."""

    @property
    def animal_world(self) -> Ints:
        """Every animal stands in the world of its example, and what is no animal in none."""
        found: Ints = np.where(self.lives, self.owner, -1)
        return found

    def _world_of_names(self) -> Ints:
        """Every thing is in the world of its example."""
        return self.owner

    @property
    def removed(self) -> Bools:
        """No animal is shared, so none is removed."""
        return np.ones((len(self.parts), int(np.count_nonzero(~self.lives))), np.bool_)

    def tank_rows(self, worlds: Ints) -> Ints:
        """Each example has a tank of its own."""
        return worlds

    def cell(self, name: str, rows: tuple[int, ...], month: float = 0.0, assume: bool = True) -> Cell:
        """Return the value as its own example has it."""
        part, own = self._within(name, rows)
        return part.cell(name, own, month, assume)

    def label(self, kind: Kind, row: int) -> str:
        """Return the name the thing's own example gives."""
        if kind is Kind.TANK:
            return "tank"
        part = int(self.owner[row])
        return self.parts[part].label(kind, row - int(self.first[part]))

    def _labels(self, name: str, rows: tuple[int, ...]) -> list[str]:
        """The things a measure or relation is about, as their own example calls them."""
        part, own = self._within(name, rows)
        return part._labels(name, own)

    def _within(self, name: str, rows: tuple[int, ...]) -> tuple[Givens, tuple[int, ...]]:
        """The tables a cell stands in, and its rows there."""
        if self._of_tank(name):
            return self.parts[rows[0]], (0,)
        part = int(self.owner[rows[0]]) if rows else 0
        first = int(self.first[part]) if len(self.first) else 0
        return self.parts[part], tuple(row - first for row in rows)

    def _domain(self, measure: str) -> tuple[str, ...]:
        """Every word a measure can have in any of the examples."""
        return tuple(dict.fromkeys(word for part in self.parts for word in part._domain(measure)))


def side_by_side(examples: Sequence[Example], library: Library) -> SideBySide:
    """Return the tables of several examples as one."""
    parts = tuple(givens_of(example, library) for example in examples)
    sizes = [len(part.names) for part in parts]
    return SideBySide(
        library,
        tuple(name for part in parts for name in part.names),
        {},
        kinds=tuple(kind for part in parts for kind in part.kinds),
        whose=tuple(
            row + before if row >= 0 else -1
            for part, before in zip(parts, np.cumsum(sizes) - sizes, strict=True)
            for row in part.whose
        ),
        parts=parts,
        owner=np.repeat(np.arange(len(parts)), sizes).astype(np.int64),
        first=(np.cumsum(sizes) - sizes).astype(np.int64),
    )
