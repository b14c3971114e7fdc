from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.rooms import Room, holds, room_of, to_glass_cm, within
from advisor.model.tank import Glass

LEVER = np.array([(0, 0), (60, 0), (60, 20), (20, 20), (20, 40), (0, 40)], np.float64)
"""A room with a corner that points inward."""


def test_a_box_is_full_to_the_rim_where_no_water_is_told() -> None:
    glass = Glass(length_cm=60.0, width_cm=40.0, height_cm=45.0)
    assert room_of(glass).water_cm == 45.0
    assert room_of(glass.model_copy(update={"water_cm": 41.0})).water_cm == 41.0


@pytest.mark.parametrize(
    ("point", "inside"),
    [((10, 30), True), ((50, 10), True), ((50, 30), False), ((-1, 5), False), ((30, 41), False)],
)
def test_a_room_with_an_inner_corner_knows_its_inside(point: tuple[float, float], inside: bool) -> None:
    assert within(Room(LEVER, 40.0), np.array([point], np.float64)).tolist() == [inside]


def test_a_tank_that_is_no_box_has_its_outline() -> None:
    corners = tuple((float(x), float(y)) for x, y in LEVER)
    glass = Glass(length_cm=60.0, width_cm=40.0, height_cm=45.0, outline_cm=corners)
    room = room_of(glass)
    assert (room.outline_cm == LEVER).all()
    assert glass.floor_cm2 == 60.0 * 20.0 + 20.0 * 20.0
    points = ((10.0, 30.0), (50.0, 30.0), (60.0, 10.0), (20.0, 30.0))
    assert [holds(room, x, y) for x, y in points] == [True, False, True, True]


def test_the_nearest_wall_may_be_a_corner() -> None:
    found = to_glass_cm(Room(LEVER, 40.0), np.array([[17.0, 16.0], [50.0, 10.0], [3.0, 30.0]]))
    assert found == pytest.approx([5.0, 10.0, 3.0])
