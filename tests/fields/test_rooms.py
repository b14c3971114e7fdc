from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from advisor.fields.rooms import Room, holds, room_of, spans_cm, to_glass_cm, within
from advisor.model.tank import Glass, Section

LEVER = np.array([(0, 0), (60, 0), (60, 20), (20, 20), (20, 40), (0, 40)], np.float64)
"""A room with a corner that points inward."""


def upright(outline: npt.NDArray[np.float64]) -> Room:
    return Room((outline,), np.zeros(1), 40.0)


def test_a_box_is_full_to_the_rim_where_no_water_is_told() -> None:
    glass = Glass(length_cm=60.0, width_cm=40.0, height_cm=45.0)
    assert room_of(glass).water_cm == 45.0
    assert room_of(glass.model_copy(update={"water_cm": 41.0})).water_cm == 41.0


@pytest.mark.parametrize(
    ("point", "inside"),
    [((10, 30), True), ((50, 10), True), ((50, 30), False), ((-1, 5), False), ((30, 41), False)],
)
def test_a_room_with_an_inner_corner_knows_its_inside(point: tuple[float, float], inside: bool) -> None:
    assert within(upright(LEVER), np.array([[*point, 5.0]], np.float64)).tolist() == [inside]


def test_a_tank_that_is_no_box_has_its_outline() -> None:
    corners = tuple((float(x), float(y)) for x, y in LEVER)
    glass = Glass(length_cm=60.0, width_cm=40.0, height_cm=45.0, outline_cm=corners)
    room = room_of(glass)
    assert (room.outlines_cm[0] == LEVER).all()
    assert glass.floor_cm2 == 60.0 * 20.0 + 20.0 * 20.0
    points = ((10.0, 30.0), (50.0, 30.0), (60.0, 10.0), (20.0, 30.0))
    assert [holds(room, x, y, 5.0) for x, y in points] == [True, False, True, True]


def test_the_nearest_wall_may_be_a_corner() -> None:
    found = to_glass_cm(upright(LEVER), np.array([[17.0, 16.0, 1.0], [50.0, 10.0, 1.0], [3.0, 30.0, 1.0]]))
    assert found == pytest.approx([5.0, 10.0, 3.0])


def test_between_two_outlines_the_walls_are_straight() -> None:
    low, high = ((10.0, 10.0), (50.0, 10.0), (50.0, 50.0), (10.0, 50.0)), ((0, 0), (60, 0), (60, 60), (0, 60))
    glass = Glass(
        length_cm=60.0, width_cm=60.0, height_cm=40.0, outline_cm=low,
        sections=(Section(height_cm=0.0, outline_cm=low), Section(height_cm=40.0, outline_cm=high)),
    )  # fmt: skip
    room = room_of(glass)
    heights = (-5.0, 0.0, 20.0, 40.0, 45.0)  # below and above the outlines the nearest one holds
    reach = [10.0, 10.0, 5.0, 0.0, 0.0]
    for height, at in zip(heights, reach, strict=True):
        assert holds(room, at + 0.5, 30.0, height)
        assert not holds(room, at - 0.5, 30.0, height)
    assert [each.tolist() for each in spans_cm(room)] == [[0.0, 0.0], [60.0, 60.0]]
    # a wall that leans out by 10 cm over 40 cm is nearer square to it than straight across
    across = 20.0 - 5.0
    assert to_glass_cm(room, np.array([[20.0, 30.0, 20.0]])) == pytest.approx([across / (1 + 1 / 16) ** 0.5])
    # the frustum of a pyramid, h (A + B + root of AB) / 3: Heron of Alexandria, Metrica II 8
    assert glass.volume_cm3(40.0) == pytest.approx(40.0 * (1600.0 + 3600.0 + 2400.0) / 3.0)
    assert glass.volume_cm3(20.0) == pytest.approx(20.0 * (1600.0 + 2500.0 + 2000.0) / 3.0)
