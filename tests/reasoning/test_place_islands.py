from __future__ import annotations

import pytest

from advisor.model.lighting import RockShape
from advisor.model.tank import Rock
from advisor.reasoning.place_islands import Islands, islands_of
from advisor.reasoning.place_numbers import place_numbers
from tests.reasoning.lying import lying_library, rock


def found(*rocks: Rock) -> Islands:
    numbers = place_numbers(lying_library())
    assert numbers is not None
    islands = islands_of(rocks, numbers)
    assert islands is not None
    return islands


def block(name: str, x: float) -> Rock:
    return rock(name, RockShape.BLOCK, (x, 30.0), (20.0, 20.0, 10.0))


@pytest.mark.parametrize(("second", "touches"), [(50.0, True), (50.9, True), (53.0, None), (54.5, False)])
def test_rocks_touch_keep_apart_or_are_too_near_to_tell(second: float, touches: bool | None) -> None:
    assert found(block("a", 30.0), block("b", second)).neighbours("a") == {"b": touches}


def test_an_island_is_all_that_hangs_together_and_its_moat_is_to_the_next() -> None:
    islands = found(block("a", 20.0), block("b", 40.0), block("c", 72.0), block("d", 103.0))
    assert islands.island("a") == islands.island("b") == {"a", "b"}
    assert islands.moat_cm("a") == pytest.approx(12.0, abs=1.0)
    assert islands.moat_cm("d") == pytest.approx(11.0, abs=1.0)


def test_rocks_that_may_touch_make_no_moat() -> None:
    assert found(block("a", 30.0), block("b", 53.0)).moat_cm("a") is None


def test_fewer_than_two_bodies_are_no_islands() -> None:
    numbers = place_numbers(lying_library())
    assert numbers is not None
    assert islands_of([block("a", 30.0), Rock(id="b")], numbers) is None
