"""Who stands in which world, and every binding of a rule's variables.

World 0 is the tank as it is; every other world is one change laid over it.
Rows of animals with world -1 are shared by all worlds that have not removed
them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

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
    tables: Tables,
    population: Population,
    worlds: Ints,
    rows: dict[str, Ints],
    binder: Binder,
    *,
    inner: bool = False,
) -> tuple[Ints, Ints]:
    """Return every value of one more variable for each binding.

    Parameters
    ----------
    worlds, rows
        World and bound rows of the bindings so far, shape (n,) each.
    binder
        The variable to bind.
    inner
        Whether it is the variable of an aggregate, which must also reckon with
        things nobody told of; of them no rule can be asked by name.

    Returns
    -------
    The binding each new one extends, and the row it binds; shape (m,) each.
    """
    size = len(worlds)
    if binder.kind is Kind.TANK:
        return np.arange(size), tables.tank_rows(worlds)
    if not binder.kind.lives:
        listing = tables.listing(binder.kind, apart=inner)
        if binder.kind is Kind.WEAPON:
            return listing.held_by(rows[binder.weapon_of])
        return (listing if inner else listing.without_strangers()).held_by(worlds)
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
        world alone (an animal, a changed place, thing or tank), which is where a
        rule without aggregates can differ.
    """
    worlds = np.arange(population.worlds if everywhere else 1)
    found = _product(tables, population, worlds, binders)
    if everywhere or population.worlds == 1:
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
    worlds, own = _own(tables, population, pivot.kind)
    rows: dict[str, Ints] = {pivot.name: own}
    for index, binder in enumerate(binders):
        if index == place:
            continue
        around = binder.neighbour_of or (pivot.name if pivot.neighbour_of == binder.name else "")
        wide = replace(binder, neighbour_of=around if around in rows else "")
        segment, new = expand(tables, population, worlds, rows, wide)
        if index < place and binder.kind is not Kind.WEAPON:
            shared = ~of_its_world(tables, binder.kind, new)
            segment, new = segment[shared], new[shared]
        rows = {**{name: old[segment] for name, old in rows.items()}, binder.name: new}
        worlds = worlds[segment]
    apart = np.ones(len(worlds), np.bool_)
    for binder in binders:
        if binder.neighbour_of:
            apart &= rows[binder.name] != rows[binder.neighbour_of]
    return Bindings(worlds, rows).take(apart)


def _own(tables: Tables, population: Population, kind: Kind) -> tuple[Ints, Ints]:
    """World and row of everything of a kind that a world has to itself, weapons left out."""
    if kind is Kind.WEAPON:
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    if kind is Kind.TANK:
        every = np.arange(population.worlds)
        worlds = every[of_its_world(tables, kind, tables.tank_rows(every))]
        return worlds, tables.tank_rows(worlds)
    if kind.lives:
        own = np.flatnonzero(tables.animal_world >= 0)
        own = own[population.coral[own]] if kind is Kind.CORAL else own
        return tables.animal_world[own], own.astype(np.int64)
    listing = tables.listing(kind)
    worlds, rows = listing.held_by(np.arange(population.worlds))
    alone = listing.world[rows] >= 0
    return worlds[alone], rows[alone]


def of_its_world(tables: Tables, kind: Kind, rows: Ints) -> Bools:
    """Return which rows of a kind's table a world has to itself."""
    if kind is Kind.TANK:
        changed: Bools = rows != tables.tank_rows(np.zeros(1, np.int64))
        return changed
    world = tables.animal_world if kind.lives else tables.listing(kind).world
    found: Bools = world[rows] >= 0
    return found


def _joined(parts: Sequence[Bindings], binders: Sequence[Binder]) -> Bindings:
    """The parts one after another."""
    return Bindings(
        np.concatenate([part.worlds for part in parts]).astype(np.int64),
        {
            binder.name: np.concatenate([part.rows[binder.name] for part in parts]).astype(np.int64)
            for binder in binders
        },
    )
