"""What spots and animals without a spot share."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.model.tank import Animal, Spot, Tank
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]


def only(tank: Tank) -> Spot | Animal:
    return tank.spots[0] if tank.spots else tank.animals[0]


@pytest.mark.parametrize("head", ["spots:\n  - {id: a", "corals:\n  - {id: a, is: torch"])
def test_a_neighbourhood_may_be_closed(tank_of: Make, head: str) -> None:
    tank = tank_of(head + ", nothing else within: 25 cm, gaps complete: yes}\n").tank
    thing = only(tank)
    assert thing.nothing_else_within_cm == 25.0
    assert thing.gaps_complete
    assert thing.closed_on is None


@pytest.mark.parametrize("head", ["spots:\n  - {id: a", "corals:\n  - {id: a, is: torch"])
def test_a_closure_may_be_dated(tank_of: Make, head: str) -> None:
    tank = tank_of(head + ", nothing else within: {value: 250 mm, on: 2026-10-01}}\n").tank
    thing = only(tank)
    assert (thing.nothing_else_within_cm, thing.closed_on) == (25.0, date(2026, 10, 1))


@pytest.mark.parametrize("head", ["spots:\n  - {id: a", "corals:\n  - {id: a, is: torch"])
def test_no_gaps_at_all_says_they_are_complete(tank_of: Make, head: str) -> None:
    tank = tank_of(head + ", gaps: none}\n").tank
    thing = only(tank)
    assert thing.gaps_complete


def test_what_is_not_said_is_not_closed(tank_of: Make) -> None:
    (spot,) = tank_of(
        "spots:\n  - {id: a, nothing else within: unknown, gaps complete: unknown}\n"
    ).tank.spots
    assert spot.nothing_else_within_cm is None
    assert not spot.gaps_complete


def test_a_closure_that_is_no_length_is_noted(tank_of: Make) -> None:
    assert tank_of("spots:\n  - {id: a, nothing else within: far}\n").codes == ["value-131"]


def test_a_note_is_free(tank_of: Make) -> None:
    assert (
        tank_of("note: a: b\n".replace("a: b", "'a: b'") + "spots:\n  - {id: a, note: what I saw}\n").problems
        == ()
    )
