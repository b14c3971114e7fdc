from __future__ import annotations

import math

import pytest

from advisor.fields.places import Lie, Look, count_every, lies_near, places_every
from advisor.fields.rock_shapes import Body, rock_body
from advisor.fields.rooms import room_of
from advisor.model.lighting import RockShape
from advisor.model.tank import Glass

ROOM = room_of(Glass(length_cm=120.0, width_cm=60.0, height_cm=50.0, water_cm=46.0))
LOOK = Look(patch_cm=3.0, reach_cm=8.0, side_deg=60.0, under_deg=120.0)
BLOCK = rock_body(RockShape.BLOCK, (30.0, 30.0), 0.0, (20.0, 20.0, 10.0))
SHELF = rock_body(RockShape.SHELF, (30.0, 30.0), 20.0, (28.0, 24.0, 4.0))
ARCH = rock_body(RockShape.ARCH, (90.0, 30.0), 0.0, (40.0, 24.0, 30.0))


def at(bodies: dict[str, Body], x: float, y: float, z: float) -> Lie:
    (found,) = lies_near([(x, y, z)], bodies, ROOM, LOOK, 6.0)
    assert found is not None
    return found


def test_a_level_top_lies_level_with_all_that_is_known_of_it() -> None:
    lie = at({"block": BLOCK}, 30.0, 26.0, 8.0)
    assert lie.at_cm == pytest.approx((30.0, 26.0, 10.0))
    assert (lie.rock, lie.facing_deg, lie.rock_over_cm) == ("block", None, None)
    numbers = (lie.slope_deg, lie.uneven_cm, lie.drop_cm, lie.water_over_cm, lie.glass_cm, lie.shut_in)
    assert numbers == pytest.approx((0.0, 0.0, 0.0, 36.0, 26.0, 0.0), abs=1e-6)


def test_at_the_rim_something_can_fall() -> None:
    rim = at({"block": BLOCK}, 38.0, 30.0, 10.0)
    assert rim.drop_cm == pytest.approx(10.0)
    assert rim.slope_deg == pytest.approx(0.0, abs=1e-6)
    assert at({"block": BLOCK}, 36.0, 30.0, 10.0).drop_cm == 0.0


def test_rock_above_is_an_overhang_and_the_headroom_ends_there() -> None:
    under = at({"block": BLOCK, "shelf": SHELF}, 31.0, 29.0, 10.0)
    assert under.rock == "block"
    assert under.rock_over_cm == pytest.approx(10.0)
    over = at({"block": BLOCK, "shelf": SHELF}, 31.0, 29.0, 24.0)
    assert (over.rock, over.rock_over_cm) == ("shelf", None)
    assert over.water_over_cm == pytest.approx(22.0)


def test_under_an_arch_there_is_rock_above_the_floor() -> None:
    under = at({"arch": ARCH}, 91.0, 29.0, 0.0)
    assert under.rock == ""
    assert under.rock_over_cm == pytest.approx(22.5)
    assert at({"arch": ARCH}, 91.0, 29.0, 30.0).rock == "arch"


@pytest.mark.parametrize(("x", "y", "facing"), [(70, 30, 0), (60, 40, 90), (50, 30, 180), (60, 20, 270)])
def test_a_heap_falls_away_from_its_top(x: float, y: float, facing: float) -> None:
    heap = rock_body(RockShape.HEAP, (60.0, 30.0), 0.0, (40.0, 40.0, 20.0))
    lie = at({"heap": heap}, x, y, 10.0)
    assert lie.slope_deg == pytest.approx(45.0, abs=1.5)
    assert lie.facing_deg == pytest.approx(facing, abs=1.0) or lie.facing_deg == pytest.approx(facing + 360)
    assert lie.uneven_cm < 0.4


def test_a_boulder_slopes_as_a_ball_does() -> None:
    ball = rock_body(RockShape.BOULDER, (60.0, 30.0), 0.0, (30.0, 30.0, 30.0))
    for off in (0.0, 5.0, 10.0):
        lie = at({"ball": ball}, 60.0 + off, 30.0, 15.0 + math.sqrt(225.0 - off**2))
        assert lie.slope_deg == pytest.approx(math.degrees(math.asin(off / 15.0)), abs=4.0)
    assert lie.facing_deg == pytest.approx(0.0, abs=2.0) or lie.facing_deg == pytest.approx(360.0, abs=2.0)


def test_walls_on_both_sides_shut_a_place_in() -> None:
    walls = {
        "left": rock_body(RockShape.BLOCK, (50.0, 30.0), 0.0, (10.0, 40.0, 20.0)),
        "right": rock_body(RockShape.BLOCK, (66.0, 30.0), 0.0, (10.0, 40.0, 20.0)),
    }
    between = at(walls, 58.0, 30.0, 0.0)
    blocked = 14 / 16  # 3 cm to either wall: only straight along is free within 8 cm
    assert between.rock_over_cm is None
    assert between.shut_in == pytest.approx(blocked)
    assert at(walls, 90.0, 30.0, 0.0).shut_in == 0.0


def test_ground_too_far_above_or_below_is_not_taken() -> None:
    points = [(30.0, 30.0, 17.0), (30.0, 30.0, 15.0), (150.0, 30.0, 0.0)]
    far, near, outside = lies_near(points, {"block": BLOCK}, ROOM, LOOK, 6.0)
    assert (far, outside) == (None, None)
    assert near is not None
    assert near.rock == "block"
    assert lies_near([], {"block": BLOCK}, ROOM, LOOK, 6.0) == ()


def test_a_grid_covers_rocks_and_floor_on_whole_multiples_and_keeps_off_the_glass() -> None:
    found = places_every({"block": BLOCK}, ROOM, 10.0, LOOK)
    by = {(round(each.at_cm[0]), round(each.at_cm[1])): each for each in found}
    assert set(by) >= {(10, 10), (110, 50), (30, 30)}
    assert all(x % 10 == 0 and y % 10 == 0 and 3 <= x <= 117 and 3 <= y <= 57 for x, y in by)
    assert by[30, 30].rock == "block"
    assert by[60, 30].rock == ""
    assert len(found) == 11 * 5


def test_another_rock_moves_no_place() -> None:
    alone = places_every({"block": BLOCK}, ROOM, 7.0, LOOK)
    both = places_every({"block": BLOCK, "arch": ARCH}, ROOM, 7.0, LOOK)
    assert {each.at_cm for each in alone if each.rock} <= {each.at_cm for each in both}


def test_nothing_is_offered_inside_rock_over_the_water_or_hard_by_a_wall() -> None:
    tower = rock_body(RockShape.BLOCK, (60.0, 30.0), 0.0, (20.0, 20.0, 45.0))
    found = places_every({"tower": tower}, ROOM, 5.0, LOOK)
    assert [each for each in found if each.rock] == []
    assert [each.at_cm for each in found if 50 <= each.at_cm[0] <= 70 and 20 <= each.at_cm[1] <= 40] == []


def test_a_room_without_room_for_a_hand_has_no_place() -> None:
    small = room_of(Glass(length_cm=5.0, width_cm=5.0, height_cm=5.0))
    assert places_every({}, small, 5.0, LOOK) == ()


def test_a_grid_is_counted_before_it_is_made() -> None:
    assert count_every(ROOM, 10.0) == 13 * 7
