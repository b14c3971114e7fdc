"""One run of compiled operations over a set of bindings."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import Population
from advisor.reasoning.columns import Column, Floats, Ints
from advisor.reasoning.tables import Tables

if TYPE_CHECKING:
    from advisor.reasoning.ops import Op


@dataclass(frozen=True, slots=True)
class Ref:
    """A thing an operation is about: a variable, or the place where it stands."""

    var: str
    kind: Kind
    spot: bool = False

    @property
    def target(self) -> Kind:
        """The kind of row this resolves to."""
        return Kind.PLACE if self.spot else (Kind.ANIMAL if self.kind is Kind.CORAL else self.kind)

    @property
    def key(self) -> str:
        """The reference as text, unique in a rule."""
        return f"{self.var}.spot" if self.spot else self.var


@dataclass(slots=True)
class Frame:
    """Rows of every variable, one entry per binding, and the columns computed so far.

    The columns are what a recording is made of: an explanation runs the same
    operations on a frame of few rows and reads them afterwards.
    """

    tables: Tables
    population: Population
    worlds: Ints
    rows: dict[str, Ints]
    months: Floats
    assume: bool = True
    hull: bool = False
    """Judge one row that stands for every possible binding at once."""
    columns: dict[Op, Column] = field(default_factory=dict)
    inner: dict[Op, tuple[Frame, Ints]] = field(default_factory=dict)
    """For each aggregate: the frame of its bindings, and which outer row each belongs to."""
    operations: int = 0
    """How many operations ran; independent of the number of bindings (tested)."""

    @property
    def size(self) -> int:
        """Number of bindings."""
        return len(self.worlds)

    def value(self, op: Op) -> Column:
        """Return the column of `op`, computing it at most once."""
        found = self.columns.get(op)
        if found is None:
            self.operations += 1
            found = op.run(self)
            self.columns[op] = found
        return found

    def resolve(self, ref: Ref) -> Ints:
        """Return the table rows of `ref`, one per binding."""
        if ref.kind is Kind.TANK:
            return self.tables.tank_rows(self.worlds)
        rows = self.rows[ref.var]
        return self.tables.animal_place[rows] if ref.spot else rows

    def all_rows(self, ref: Ref) -> Ints:
        """Return every row a reference could have, for the hull."""
        match ref.target:
            case Kind.TANK:
                return np.zeros(1, np.int64)
            case Kind.PLACE:
                return np.arange(self.tables.place_count)
            case kind if not kind.lives:
                return np.arange(len(self.tables.listing(kind).world))
            case _:
                return np.arange(len(self.tables.animal_world))
