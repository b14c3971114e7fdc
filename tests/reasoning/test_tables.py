"""Whatever can be judged offers the same calls: the survey and the givens of an example."""

from __future__ import annotations

import inspect

import pytest

from advisor.reasoning.givens import Givens
from advisor.reasoning.survey import Survey
from advisor.reasoning.tables import Tables
from tests.properties.demo import sitting
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import library_of

CALLS = [name for name, value in vars(Tables).items() if inspect.isfunction(value) and name[0] != "_"]
READ = [name for name, value in vars(Tables).items() if isinstance(value, property)]


@pytest.mark.parametrize("kind", [Survey, Givens, Grid])
@pytest.mark.parametrize("name", CALLS)
def test_every_call_takes_the_same_arguments(kind: type[object], name: str) -> None:
    asked = inspect.signature(getattr(Tables, name)).parameters
    offered = inspect.signature(getattr(kind, name)).parameters
    assert list(asked) == list(offered)
    assert [item.default for item in asked.values()] == [item.default for item in offered.values()]


def test_there_is_something_to_call_and_to_read() -> None:
    assert set(CALLS) >= {"numbers", "words", "sets", "truths", "cell", "label", "tank_rows"}
    assert set(READ) >= {"animal_world", "animal_place", "removed", "place_count", "library"}


def test_every_kind_of_tables_can_be_read() -> None:
    made: list[Tables] = [
        sitting().tables,
        Givens(library_of(), ("a", "b"), {}),
        random_grid(library_of(), 0, animals=2, worlds=0),
    ]
    for tables in made:
        animals = len(tables.animal_world)
        assert animals == len(tables.animal_place)
        assert tables.removed.shape[1] <= animals
        assert (tables.animal_place < tables.place_count).all()
        assert all(hasattr(tables, name) for name in READ)
