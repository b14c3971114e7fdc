"""Who is bound where: every binding of a rule, and in other worlds only those with a row of that world."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.nodes import Binder
from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import Bindings, Population, bindings_of, expand, population_of
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import NOWHERE, library_of

LIBRARY = library_of()


def animal(name: str, around: str = "") -> Binder:
    """Return a variable that stands for an animal."""
    return Binder(NOWHERE, Kind.ANIMAL, name, around)


def coral(name: str) -> Binder:
    """Return a variable that stands for a coral."""
    return Binder(NOWHERE, Kind.CORAL, name)


def place(name: str) -> Binder:
    """Return a variable that stands for a place."""
    return Binder(NOWHERE, Kind.PLACE, name)


TANK = Binder(NOWHERE, Kind.TANK, "tank")
SHAPES = {
    "one animal": (animal("a"),),
    "one coral": (coral("c"),),
    "two animals": (animal("a"), animal("b")),
    "animal and neighbour": (animal("a"), animal("n", "a")),
    "coral and neighbour": (coral("c"), animal("n", "c")),
    "three": (animal("a"), animal("n", "a"), animal("m", "n")),
    "two neighbours of one": (animal("a"), animal("n", "a"), animal("m", "a")),
    "animal and place": (animal("a"), place("p")),
    "place first": (place("p"), animal("a"), animal("n", "a")),
    "tank": (TANK,),
}


def grid_of(seed: int, *, animals: int = 3, worlds: int = 2, own: int = 1) -> tuple[Grid, Population]:
    """Return a random grid and who stands in it."""
    grid = random_grid(LIBRARY, seed, animals=animals, worlds=worlds, own=own)
    return grid, population_of(grid)


def present(grid: Grid, world: int) -> list[int]:
    """Return the animal rows that stand in a world, by the definition."""
    return [
        row
        for row, owner in enumerate(grid.animal_world)
        if owner == world or (owner < 0 and not grid.removed[world, row])
    ]


def is_coral(grid: Grid, row: int) -> bool:
    """Return whether an animal may be a coral, by its possible groups."""
    possible, _ = grid.word["group"]
    return any(
        there and word not in ("clam", "anemone")
        for word, there in zip(grid.domains["group"], possible[row], strict=True)
    )


def by_definition(grid: Grid, binders: tuple[Binder, ...], world: int) -> set[tuple[int, ...]]:
    """Return every binding of one world, spelled out."""
    domains = []
    for binder in binders:
        match binder.kind:
            case Kind.TANK:
                domains.append([int(grid.tank_row_of_world[world])])
            case Kind.PLACE:
                domains.append(list(range(grid.place_count)))
            case Kind.CORAL:
                domains.append([row for row in present(grid, world) if is_coral(grid, row)])
            case _:
                domains.append(present(grid, world))
    index = {binder.name: at for at, binder in enumerate(binders)}
    return {
        rows
        for rows in product(*domains)
        if all(
            rows[at] != rows[index[binder.neighbour_of]]
            for at, binder in enumerate(binders)
            if binder.neighbour_of
        )
    }


def listed(found: Bindings, binders: tuple[Binder, ...]) -> list[tuple[int, tuple[int, ...]]]:
    """Return bindings as (world, rows), in their order."""
    columns = [found.rows[binder.name].tolist() for binder in binders]
    return [
        (world, rows) for world, rows in zip(found.worlds.tolist(), zip(*columns, strict=True), strict=True)
    ]


@pytest.mark.parametrize("shape", SHAPES)
@given(seed=st.integers(0, 500))
def test_everywhere_means_every_binding_of_every_world_once(shape: str, seed: int) -> None:
    grid, population = grid_of(seed)
    binders = SHAPES[shape]
    found = listed(bindings_of(grid, population, binders, everywhere=True), binders)
    expected = {(world, rows) for world in range(3) for rows in by_definition(grid, binders, world)}
    assert len(found) == len(set(found))
    assert set(found) == expected


@pytest.mark.parametrize("shape", SHAPES)
@given(seed=st.integers(0, 500), own=st.integers(0, 2))
def test_locally_other_worlds_have_exactly_the_bindings_with_a_row_of_their_own(
    shape: str, seed: int, own: int
) -> None:
    grid, population = grid_of(seed, own=own)
    binders = SHAPES[shape]
    found = listed(bindings_of(grid, population, binders, everywhere=False), binders)
    animals = [at for at, binder in enumerate(binders) if binder.kind in (Kind.ANIMAL, Kind.CORAL)]
    expected = {(0, rows) for rows in by_definition(grid, binders, 0)}
    for world in (1, 2):
        expected |= {
            (world, rows)
            for rows in by_definition(grid, binders, world)
            if any(grid.animal_world[rows[at]] == world for at in animals)
        }
    assert len(found) == len(set(found))
    assert set(found) == expected


def test_a_removed_animal_is_in_no_binding_of_its_world() -> None:
    grid, _ = grid_of(0, worlds=1, own=1)
    grid.removed[:] = False
    grid.removed[1, 0] = True
    population = population_of(grid)
    binders = SHAPES["animal and neighbour"]
    in_world = [
        rows
        for world, rows in listed(bindings_of(grid, population, binders, everywhere=True), binders)
        if world == 1
    ]
    assert in_world
    assert all(0 not in rows for rows in in_world)


def test_an_animal_of_one_world_is_in_no_other() -> None:
    grid, population = grid_of(4, worlds=2, own=2)
    binders = SHAPES["two animals"]
    for world, rows in listed(bindings_of(grid, population, binders, everywhere=True), binders):
        assert all(grid.animal_world[row] in (-1, world) for row in rows)


def test_who_may_be_a_coral_is_bound_and_a_sure_clam_is_not() -> None:
    grid, _ = grid_of(1, animals=3, worlds=0, own=0)
    domain = grid.domains["group"]
    words = ({"clam"}, {"clam", "soft"}, {"stony"})
    possible = np.array([[word in row for word in domain] for row in words])
    grid.word["group"] = (possible, np.zeros(3))
    found = bindings_of(grid, population_of(grid), (coral("c"),), everywhere=False)
    assert found.rows["c"].tolist() == [1, 2]


def test_without_a_word_for_groups_every_animal_may_be_a_coral() -> None:
    library = library_of(
        vocabulary="edition 1\nmeasure size(animal a) in cm between 0 and 9 cm from keeper\n"
    )
    grid = random_grid(library, 0, animals=3, worlds=0)
    assert population_of(grid).coral.all()


def test_an_empty_tank_binds_nobody_but_the_tank() -> None:
    grid = random_grid(LIBRARY, 0, animals=0, worlds=0)
    population = population_of(grid)
    assert population.worlds == 1
    for shape in ("one animal", "animal and neighbour", "three", "one coral"):
        assert len(bindings_of(grid, population, SHAPES[shape], everywhere=True)) == 0
    assert len(bindings_of(grid, population, SHAPES["tank"], everywhere=True)) == 1


def test_expanding_names_the_binding_each_new_one_extends() -> None:
    grid, population = grid_of(2, animals=3, worlds=0, own=0)
    worlds = np.zeros(2, np.int64)
    segment, rows = expand(grid, population, worlds, {"a": np.array([2, 0])}, animal("n", "a"))
    assert segment.tolist() == [0, 0, 1, 1]
    assert rows.tolist() == [0, 1, 1, 2]
    empty, none = expand(grid, population, worlds[:0], {"a": worlds[:0]}, animal("n", "a"))
    assert (len(empty), len(none)) == (0, 0)


def test_bindings_can_be_taken_by_number_or_by_mask() -> None:
    found = Bindings(np.array([0, 1, 2]), {"a": np.array([5, 6, 7])})
    assert found.take(np.array([2, 0])).rows["a"].tolist() == [7, 5]
    assert found.take(np.array([False, True, False])).worlds.tolist() == [1]
    assert len(found) == 3
