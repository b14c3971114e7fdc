from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.fields.places import Lie, Look
from advisor.fields.rock_shapes import Body, rock_body
from advisor.fields.rooms import room_of
from advisor.fields.steep import part_of, steep_lies_at, steep_places_every
from advisor.model.lighting import RockShape
from advisor.model.tank import Glass, RockPart

ROOM = room_of(Glass(length_cm=120.0, width_cm=60.0, height_cm=50.0, water_cm=46.0))
LOOK = Look(patch_cm=2.0, reach_cm=8.0, side_deg=60.0, under_deg=120.0)
BOTH = (RockPart.SIDE, RockPart.UNDERSIDE)
BLOCK = rock_body(RockShape.BLOCK, (30.0, 30.0), 0.0, (20.0, 20.0, 12.0))
SHELF = rock_body(RockShape.SHELF, (30.0, 30.0), 22.0, (28.0, 24.0, 4.0))
ARCH = rock_body(RockShape.ARCH, (90.0, 30.0), 0.0, (40.0, 24.0, 30.0))


def every(bodies: Mapping[str, Body], spacing: float = 5.0, *parts: RockPart) -> tuple[Lie, ...]:
    return steep_places_every(bodies, ROOM, spacing, LOOK, parts or BOTH)


def at(bodies: Mapping[str, Body], point: tuple[float, float, float], part: RockPart) -> Lie:
    (found,) = steep_lies_at([point], [part], bodies, ROOM, LOOK, 6.0)
    assert found is not None
    return found


def test_a_block_has_places_on_its_four_sides_and_none_on_its_edges() -> None:
    found = every({"block": BLOCK})
    assert {round(lie.facing_deg or 0.0) % 360 for lie in found} == {0, 90, 180, 270}
    assert all(lie.slope_deg == pytest.approx(90.0) and lie.uneven_cm < 1e-6 for lie in found)
    # 5 cm apart: 25, 30 and 35 along each side (20 and 40 are edges), 5 and 10 cm high
    assert len(found) == 4 * 3 * 2


def test_a_shelf_has_an_underside_with_the_room_below_it() -> None:
    found = every({"block": BLOCK, "shelf": SHELF}, 6.0, RockPart.UNDERSIDE)
    over_block = [lie for lie in found if 20.0 < lie.at_cm[0] < 40.0 and 20.0 < lie.at_cm[1] < 40.0]
    assert {lie.rock for lie in found} == {"shelf"}
    assert all(lie.slope_deg == pytest.approx(180.0) and lie.facing_deg is None for lie in found)
    assert {round(lie.front_cm or 0.0, 6) for lie in over_block} == {10.0}
    beyond = [lie for lie in found if lie.at_cm[0] > 40.0]
    assert {round(lie.front_cm or 0.0, 6) for lie in beyond} == {22.0}


def test_under_an_arch_there_is_a_ceiling_and_the_floor_below_it() -> None:
    found = every({"arch": ARCH}, 5.0, RockPart.UNDERSIDE)
    assert {(round(lie.at_cm[2], 3), round(lie.front_cm or 0.0, 3)) for lie in found} == {(22.5, 22.5)}
    assert all(lie.rock_over_cm is not None and lie.rock_over_cm <= 2.0 for lie in found)


def test_room_before_a_side_ends_at_the_next_rock_or_the_glass() -> None:
    other = rock_body(RockShape.BLOCK, (56.0, 30.0), 0.0, (20.0, 20.0, 12.0))
    facing = at({"block": BLOCK, "other": other}, (40.0, 30.0, 6.0), RockPart.SIDE)
    away = at({"block": BLOCK, "other": other}, (20.0, 30.0, 6.0), RockPart.SIDE)
    assert [facing.front_cm, away.front_cm] == pytest.approx([6.0, 20.0])
    assert facing.shut_in > away.shut_in


def test_a_ball_faces_outward_everywhere() -> None:
    ball = rock_body(RockShape.BOULDER, (60.0, 30.0), 5.0, (30.0, 30.0, 30.0))
    found = every({"ball": ball}, 4.0)
    assert {part_of(lie.slope_deg, LOOK) for lie in found} == set(BOTH)
    for lie in found:
        radial = np.array(lie.at_cm) - (60.0, 30.0, 20.0)
        assert float(radial @ np.array(lie.outward)) / np.linalg.norm(radial) > math.cos(math.radians(6.0))


def test_places_lie_on_whole_multiples_and_keep_off_glass_floor_and_surface() -> None:
    for lie in every({"block": BLOCK, "shelf": SHELF, "arch": ARCH}, 4.0):
        on_grid = sum(abs(each / 4.0 - round(each / 4.0)) < 1e-6 for each in lie.at_cm)
        assert on_grid >= 2
        assert lie.glass_cm >= LOOK.patch_cm
        assert LOOK.patch_cm <= lie.at_cm[2] <= ROOM.water_cm - LOOK.patch_cm


def test_only_the_parts_that_are_wanted_are_found() -> None:
    bodies = {"block": BLOCK, "shelf": SHELF}
    sides, unders = every(bodies, 5.0, RockPart.SIDE), every(bodies, 5.0, RockPart.UNDERSIDE)
    assert {part_of(lie.slope_deg, LOOK) for lie in sides} == {RockPart.SIDE}
    assert {part_of(lie.slope_deg, LOOK) for lie in unders} == {RockPart.UNDERSIDE}
    assert {lie.at_cm for lie in every(bodies)} == {lie.at_cm for lie in (*sides, *unders)}
    assert steep_places_every({}, ROOM, 5.0, LOOK, BOTH) == ()


@settings(max_examples=20, deadline=None)
@given(
    x=st.floats(60.0, 105.0),
    y=st.floats(15.0, 45.0),
    size=st.floats(6.0, 24.0),
    shape=st.sampled_from((RockShape.BLOCK, RockShape.BOULDER, RockShape.ARCH)),
    spacing=st.sampled_from((4.0, 5.0, 7.0)),
)
def test_another_rock_moves_no_place(
    x: float, y: float, size: float, shape: RockShape, spacing: float
) -> None:
    alone = every({"shelf": SHELF, "block": BLOCK}, spacing)
    both = every(
        {"new": rock_body(shape, (x, y), 0.0, (size, size, size)), "shelf": SHELF, "block": BLOCK}, spacing
    )
    assert {(lie.rock, lie.at_cm) for lie in alone} == {
        (lie.rock, lie.at_cm) for lie in both if lie.rock != "new"
    }


def test_what_another_rock_lies_against_is_no_place() -> None:
    beside = rock_body(RockShape.BLOCK, (45.0, 30.0), 0.0, (10.5, 30.0, 20.0))
    right = [lie for lie in every({"block": BLOCK, "beside": beside}) if lie.rock == "block"]
    assert 0 not in {round(lie.facing_deg or 0.0) % 360 for lie in right}


def test_a_point_told_by_hand_lies_on_the_nearest_face_of_its_part() -> None:
    under = at({"block": BLOCK, "shelf": SHELF}, (31.0, 29.0, 20.0), RockPart.UNDERSIDE)
    assert under.rock == "shelf"
    assert under.at_cm == pytest.approx((31.0, 29.0, 22.0))
    side = at({"block": BLOCK, "shelf": SHELF}, (42.0, 29.0, 8.0), RockPart.SIDE)
    assert side.rock == "block"
    assert side.at_cm == pytest.approx((40.0, 29.0, 8.0))
    far = steep_lies_at([(70.0, 29.0, 8.0)], [RockPart.SIDE], {"block": BLOCK}, ROOM, LOOK, 6.0)
    assert far == (None,)
