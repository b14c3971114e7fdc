from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.model.tank import Box, RockPart
from advisor.tankfiles.sampled import MOST_PLACES
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]
TANK = """name: t
glass: {length: 120 cm, width: 60 cm, height: 50 cm, water: 46 cm}
rocks:
  - {id: block, shape: block, at: "30, 30 cm", size: 20 x 20 x 10 cm}
"""


def test_without_being_asked_for_there_is_no_grid(tank_of: Make) -> None:
    assert tank_of(TANK).tank.spots == ()
    assert tank_of(TANK + "places every: none\n").tank.spots == ()


def test_places_say_by_their_ids_where_they_are(tank_of: Make) -> None:
    spots = {spot.id: spot for spot in tank_of(TANK + "places every: 10 cm\n").tank.spots}
    assert len(spots) == 55
    block, floor = spots["block-30-30-10"], spots["floor-60-10-0"]
    assert (block.rock, floor.rock) == ("block", "")
    assert block.sampled
    assert block.place == "30, 30, 10 cm"
    assert block.box is not None
    assert block.box.z == pytest.approx((10.0, 10.0))
    assert floor.box == Box(x=(60.0, 60.0), y=(10.0, 10.0), z=(0.0, 0.0))


def test_they_come_after_the_named_spots_and_can_be_spoken_of(tank_of: Make) -> None:
    folder = tank_of(
        TANK
        + "places every: 10 cm\nspots: [ledge]\ncorals:\n"
        + "  - {id: torch-1, is: torch, spot: block-30-30-10, size: 8 cm}\n"
        + "readings:\n  - {spot: floor-60-10-0, on: 2026-10-01, light: 80 PAR}\n"
    )
    tank = folder.tank
    assert tank.spots[0].id == "ledge"
    assert not tank.spots[0].sampled
    assert tank.animals[0].spot == "block-30-30-10"
    assert len(folder.said("light", "floor-60-10-0")) == 1


def test_a_place_whose_id_is_taken_is_left_out(tank_of: Make) -> None:
    tank = tank_of(TANK + "places every: 10 cm\nspots: [block-30-30-10]\n").tank
    assert [spot.sampled for spot in tank.spots if spot.id == "block-30-30-10"] == [False]


def test_the_distance_that_is_offered_keeps_below_the_limit(tank_of: Make) -> None:
    folder = tank_of(TANK + "places every: 3 cm\n")
    (problem,) = folder.problems
    assert problem.code == "place-155"
    again = tank_of(TANK + problem.mend + "\n").tank
    assert MOST_PLACES / 2 < len(again.spots) <= MOST_PLACES


def test_a_grid_of_millions_is_refused_before_it_is_made(tank_of: Make) -> None:
    codes = tank_of("glass: 900 x 900 x 90 cm\nplaces every: 1 cm\n").codes
    assert codes == ["value-136", "place-155"]  # glass that no house holds, and too many places


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("name: t\nplaces every: 5 cm\n", "key-123"),
        (TANK + "places every: 2 mm\n", "value-132"),
        (TANK + "places every: often\n", "value-131"),
    ],
)
def test_a_grid_that_cannot_be_made_says_why(tank_of: Make, text: str, code: str) -> None:
    assert tank_of(text).codes == [code]


ON = TANK + "places every: 10 cm\n"


def test_tops_alone_are_looked_at_where_nothing_else_is_asked_for(tank_of: Make) -> None:
    told = tank_of(ON + "places on: tops\n").tank.spots
    assert told == tank_of(ON).tank.spots
    assert {spot.part for spot in told} == {RockPart.TOP}


def test_sides_and_undersides_are_named_for_what_they_are(tank_of: Make) -> None:
    roof = '  - {id: roof, shape: shelf, at: "30, 30 cm", size: 28 x 28 x 4 cm, foot: 26 cm}\n'
    grown = TANK.replace("size: 20 x 20 x 10 cm}", "size: 20 x 20 x 22 cm}") + roof
    spots = {
        spot.id: spot
        for spot in tank_of(grown + "places every: 10 cm\nplaces on: sides, undersides\n").tank.spots
    }
    assert spots["block-facing-left-20-30-10"].part is RockPart.SIDE
    assert spots["roof-underside-30-30-26"].part is RockPart.UNDERSIDE
    assert all(spot.sampled and spot.part is not RockPart.TOP for spot in spots.values())
    assert len(spots) == len({spot.box for spot in spots.values()})


def test_what_is_wanted_may_stand_in_a_list_and_in_the_singular(tank_of: Make) -> None:
    one, other = (tank_of(ON + f"places on: {said}\n").tank.spots for said in ("[top, sides]", "sides, tops"))
    assert one == other


def test_another_rock_moves_no_side(tank_of: Make) -> None:
    more = ON.replace(
        "rocks:\n", "rocks:\n  - {id: other, shape: arch, at: '90, 30 cm', size: 30 x 20 x 30 cm}\n"
    )
    alone, both = (tank_of(text + "places on: sides\n").tank.spots for text in (ON, more))
    assert [spot.id for spot in alone] == [spot.id for spot in both if spot.rock != "other"]


def test_the_distance_that_is_offered_keeps_below_the_limit_with_sides_too(tank_of: Make) -> None:
    folder = tank_of(TANK + "places every: 3 cm\nplaces on: tops, sides, undersides\n")
    (problem,) = folder.problems
    again = tank_of(TANK + problem.mend + "\nplaces on: tops, sides, undersides\n").tank
    assert MOST_PLACES / 2 < len(again.spots) <= MOST_PLACES


def test_a_part_nobody_knows_is_named_with_what_may_be_meant(tank_of: Make) -> None:
    (problem,) = tank_of(ON + "places on: tops, undersdes\n").problems
    assert (problem.code, problem.mend) == ("value-133", "undersides")


def test_places_on_alone_says_nothing(tank_of: Make) -> None:
    assert tank_of(TANK + "places on: sides\n").codes == ["key-123"]
