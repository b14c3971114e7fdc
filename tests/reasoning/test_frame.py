"""A frame: rows of every variable, columns computed once, references resolved."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import Numbers
from advisor.reasoning.frame import Frame, Ref
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell, numbers, truth
from tests.reasoning.fixed import frame_of_size, quantity
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import NOWHERE, letters, library_of, ranges

LIBRARY = library_of()
ANIMAL, CORAL, SPOT = Ref("a", Kind.ANIMAL), Ref("a", Kind.CORAL), Ref("a", Kind.CORAL, spot=True)
TANK = Ref("tank", Kind.TANK)


def framed(grid: Grid, rows: list[int], *, hull: bool = False) -> Frame:
    """Return a frame that binds a to some animals."""
    size = len(rows)
    return Frame(grid, population_of(grid), np.zeros(size, np.int64), {"a": np.array(rows, np.int64)},
                 np.zeros(size), hull=hull)  # fmt: skip


def test_a_reference_knows_what_kind_of_row_it_needs() -> None:
    assert [ref.target for ref in (ANIMAL, CORAL, SPOT, TANK)] == [
        Kind.ANIMAL, Kind.ANIMAL, Kind.PLACE, Kind.TANK,
    ]  # fmt: skip
    assert len({ref.key for ref in (ANIMAL, SPOT, TANK)}) == 3


def test_references_resolve_to_rows() -> None:
    grid = random_grid(LIBRARY, 0, animals=3, worlds=0)
    grid.animal_place = np.array([4, 2, 0])
    grid.tank_row_of_world = np.array([7])
    frame = framed(grid, [2, 0])
    assert frame.resolve(ANIMAL).tolist() == [2, 0]
    assert frame.resolve(SPOT).tolist() == [0, 4]
    assert frame.resolve(TANK).tolist() == [7, 7]


def test_an_operation_runs_once_and_is_counted_once() -> None:
    frame = frame_of_size(2)
    op = quantity(ranges((1, 2), (3, 4)))
    assert frame.value(op) is frame.value(op)
    assert frame.operations == 1
    assert frame.columns == {op: frame.value(op)}


def test_two_operations_that_look_alike_are_two() -> None:
    frame = frame_of_size(1)
    frame.value(quantity(ranges((1, 2))))
    frame.value(quantity(ranges((1, 2))))
    assert frame.operations == 2


def cell_of(name: str, *refs: Ref) -> NumberCell:
    """Return the operation that reads a quantity."""
    measure = LIBRARY.vocabulary.measures[name]
    unit = getattr(measure.type, "unit", None)
    assert unit is not None
    return NumberCell(NOWHERE, unit, measure.step, measure, refs)


def test_cells_are_read_at_the_rows_of_each_binding() -> None:
    grid = random_grid(LIBRARY, 5, animals=3, worlds=0)
    found: Numbers = numbers(framed(grid, [2, 0, 2]), cell_of("reach", ANIMAL))
    assert found.low.tolist() == grid.number["reach"][0][[2, 0, 2]].tolist()


def test_the_hull_holds_every_row_there_is() -> None:
    for seed in range(10):
        grid = random_grid(LIBRARY, seed, animals=4, worlds=1, own=2)
        found = numbers(framed(grid, [0], hull=True), cell_of("reach", ANIMAL))
        assert found.low[0] == grid.number["reach"][0].min()
        assert found.high[0] == grid.number["reach"][2].max()


def test_the_hull_of_a_pair_is_all_that_is_possible() -> None:
    grid = random_grid(LIBRARY, 0, animals=3, worlds=0)
    found = numbers(framed(grid, [0], hull=True), cell_of("gap", ANIMAL, Ref("b", Kind.ANIMAL)))
    assert (found.low[0], found.high[0]) == (0.0, 500.0)


def test_the_hull_of_nobody_is_all_that_is_possible() -> None:
    grid = random_grid(LIBRARY, 0, animals=0, worlds=0)
    found = numbers(framed(grid, [0], hull=True), cell_of("reach", ANIMAL))
    assert (found.low[0], found.high[0]) == (0.0, 60.0)


def test_the_hull_of_words_sets_and_relations_leaves_open_what_differs() -> None:
    grid = random_grid(LIBRARY, 0, animals=2, worlds=0)
    domain, weapons = grid.domains["group"], grid.domains["weapons"]
    grid.word["group"] = (
        np.array([[word == "soft" for word in domain], [word == "clam" for word in domain]]),
        np.zeros(2),
    )
    both = np.array([[word != "mucus" for word in weapons], [word == "sweepers" for word in weapons]])
    grid.group_of["weapons"] = (both, both, np.zeros(2))
    frame = framed(grid, [0], hull=True)
    words = WordCell(NOWHERE, LIBRARY.vocabulary.measures["group"], (ANIMAL,)).run(frame)
    assert {word for word, there in zip(domain, words.possible[0], strict=True) if there} == {"soft", "clam"}
    sets = SetCell(NOWHERE, LIBRARY.vocabulary.measures["weapons"], (ANIMAL,)).run(frame)
    assert {w for w, there in zip(weapons, sets.surely[0], strict=True) if there} == {"sweepers"}
    assert {w for w, there in zip(weapons, sets.possibly[0], strict=True) if there} == {
        "filaments",
        "sweepers",
    }
    relation = RelationCell(NOWHERE, LIBRARY.vocabulary.relations["fenced"], (ANIMAL,))
    assert letters(truth(frame, relation)) == "u"


def test_what_cannot_run_says_so() -> None:
    with pytest.raises(TypeError):
        frame_of_size(1).value(Op(NOWHERE))
