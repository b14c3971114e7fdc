"""Who stands in which world, and every binding of a rule's variables.

World 0 is the tank as it is; every other world is one change laid over it.
Rows of animals with world -1 are shared by all worlds that have not removed
them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.language.nodes import Binder
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Bools, Ints
from advisor.reasoning.tables import Tables

NOT_CORALS = ("clam", "anemone")
"""Words of the measure ``group`` that make an animal something else than a coral."""


@dataclass(frozen=True, slots=True)
class Population:
    """The animal rows of every world, as one list cut at `starts`."""

    rows: Ints
    starts: Ints
    coral: Bools
    """Whether an animal row is, or may be, a coral."""

    @property
    def worlds(self) -> int:
        """Number of worlds."""
        return len(self.starts) - 1


def population_of(tables: Tables) -> Population:
    """Return who stands in each world."""
    owner = tables.animal_world
    shared = np.flatnonzero(owner < 0)
    worlds = len(tables.removed)
    base_world, base_at = np.nonzero(~tables.removed[:, : len(shared)])
    own = np.flatnonzero(owner >= 0)
    world = np.concatenate([base_world, owner[own]])
    rows = np.concatenate([shared[base_at], own])
    order = np.lexsort((rows, world))
    starts = np.searchsorted(world[order], np.arange(worlds + 1))
    return Population(rows[order].astype(np.int64), starts.astype(np.int64), _corals(tables))


def _corals(tables: Tables) -> Bools:
    """Which animal rows may be corals."""
    every = np.arange(len(tables.animal_world))
    if "group" not in tables.library.vocabulary.measures or not len(every):
        return np.ones(len(every), np.bool_)
    group = tables.words("group", (every,))
    others = np.array([word not in NOT_CORALS for word in group.domain], np.bool_)
    may: Bools = np.logical_or.reduce(group.possible & others, axis=1)
    return may


def expand(
    tables: Tables, population: Population, worlds: Ints, rows: dict[str, Ints], binder: Binder
) -> tuple[Ints, Ints]:
    """Return every value of one more variable for each binding.

    Parameters
    ----------
    worlds, rows
        World and bound rows of the bindings so far, shape (n,) each.
    binder
        The variable to bind.

    Returns
    -------
    The binding each new one extends, and the row it binds; shape (m,) each.
    """
    size = len(worlds)
    if binder.kind is Kind.TANK:
        return np.arange(size), tables.tank_rows(worlds)
    if binder.kind is Kind.PLACE:
        count = tables.place_count
        return np.repeat(np.arange(size), count), np.tile(np.arange(count), size)
    counts = population.starts[worlds + 1] - population.starts[worlds]
    segment = np.repeat(np.arange(size), counts)
    first = (
        np.repeat(population.starts[worlds] - np.concatenate([[0], np.cumsum(counts)[:-1]]), counts)
        if size
        else np.zeros(0, np.int64)
    )
    found = population.rows[first + np.arange(len(segment))]
    keep = np.ones(len(found), np.bool_)
    if binder.neighbour_of:
        keep &= found != rows[binder.neighbour_of][segment]
    if binder.kind is Kind.CORAL:
        keep &= population.coral[found]
    return segment[keep].astype(np.int64), found[keep].astype(np.int64)


@dataclass(frozen=True, slots=True)
class Bindings:
    """Bound rows of each variable and the world of each binding."""

    worlds: Ints
    rows: dict[str, Ints]

    def take(self, keep: Ints | Bools) -> Bindings:
        """Return some of the bindings."""
        return Bindings(self.worlds[keep], {name: rows[keep] for name, rows in self.rows.items()})

    def __len__(self) -> int:
        return len(self.worlds)


def bindings_of(
    tables: Tables, population: Population, binders: Sequence[Binder], *, everywhere: bool
) -> Bindings:
    """Return every binding of `binders` in world 0, and in the other worlds.

    Parameters
    ----------
    everywhere
        False: in the other worlds only bindings that involve a row of that
        world alone, which is where a rule without aggregates can differ.
    """
    worlds = np.arange(population.worlds if everywhere else 1)
    found = _product(tables, population, worlds, binders)
    if everywhere or population.worlds == 1 or all(binder.kind is Kind.TANK for binder in binders):
        return found
    parts = [found]
    for place in range(len(binders)):
        parts.append(_with_own(tables, population, binders, place))
    return _joined(parts, binders)


def _product(tables: Tables, population: Population, worlds: Ints, binders: Sequence[Binder]) -> Bindings:
    """All bindings in some worlds."""
    rows: dict[str, Ints] = {}
    for binder in binders:
        segment, new = expand(tables, population, worlds, rows, binder)
        rows = {**{name: old[segment] for name, old in rows.items()}, binder.name: new}
        worlds = worlds[segment]
    return Bindings(worlds, rows)


def _with_own(tables: Tables, population: Population, binders: Sequence[Binder], place: int) -> Bindings:
    """Bindings whose variable `place` is the first to hold a row of its world alone."""
    pivot = binders[place]
    if pivot.kind not in (Kind.ANIMAL, Kind.CORAL):
        return Bindings(np.zeros(0, np.int64), {binder.name: np.zeros(0, np.int64) for binder in binders})
    own = np.flatnonzero(tables.animal_world >= 0)
    if pivot.kind is Kind.CORAL:
        own = own[population.coral[own]]
    worlds = tables.animal_world[own]
    rows: dict[str, Ints] = {pivot.name: own.astype(np.int64)}
    for index, binder in enumerate(binders):
        if index == place:
            continue
        around = binder.neighbour_of or (pivot.name if pivot.neighbour_of == binder.name else "")
        wide = Binder(binder.span, binder.kind, binder.name, around if around in rows else "")
        segment, new = expand(tables, population, worlds, rows, wide)
        if index < place and binder.kind in (Kind.ANIMAL, Kind.CORAL):
            shared = tables.animal_world[new] < 0
            segment, new = segment[shared], new[shared]
        rows = {**{name: old[segment] for name, old in rows.items()}, binder.name: new}
        worlds = worlds[segment]
    apart = np.ones(len(worlds), np.bool_)
    for binder in binders:
        if binder.neighbour_of:
            apart &= rows[binder.name] != rows[binder.neighbour_of]
    return Bindings(worlds, rows).take(apart)


def _joined(parts: Sequence[Bindings], binders: Sequence[Binder]) -> Bindings:
    """The parts one after another."""
    return Bindings(
        np.concatenate([part.worlds for part in parts]).astype(np.int64),
        {
            binder.name: np.concatenate([part.rows[binder.name] for part in parts]).astype(np.int64)
            for binder in binders
        },
    )
