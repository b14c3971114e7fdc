from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.rock_shapes import rock_body
from advisor.fields.rooms import room_of
from advisor.fields.ways import free_way_cm, glass_ahead_cm, level_ways
from advisor.model.lighting import RockShape
from advisor.model.tank import Glass

BLOCK = rock_body(RockShape.BLOCK, (30.0, 30.0), 0.0, (20.0, 20.0, 10.0))
FAR = rock_body(RockShape.BLOCK, (60.0, 30.0), 0.0, (20.0, 20.0, 10.0))


def test_level_ways_go_all_around_and_have_length_one() -> None:
    ways = level_ways(4)
    assert ways == pytest.approx(np.array([[1, 0], [0, 1], [-1, 0], [0, -1]]), abs=1e-12)
    assert np.linalg.norm(level_ways(7), axis=1) == pytest.approx(np.ones(7))


def test_the_nearest_rock_ends_a_way_and_none_leaves_it_free() -> None:
    starts = np.array([[10.0, 30.0, 5.0], [10.0, 30.0, 5.0]])
    found = free_way_cm(starts, np.array([[1.0, 0.0, 0.0], [-1.0, 0.0, 0.0]]), {"a": FAR, "b": BLOCK})
    assert found.tolist() == pytest.approx([10.0, np.inf])
    assert free_way_cm(np.zeros((0, 3)), np.zeros((0, 3)), {"a": FAR}).tolist() == []


def test_a_way_ends_at_the_wall_of_a_tank_that_is_no_box() -> None:
    # a right triangle of 30 cm: from (5, 5) straight across it is 20 cm to the long side
    corners = ((0.0, 0.0), (30.0, 0.0), (0.0, 30.0))
    room = room_of(Glass(length_cm=30.0, width_cm=30.0, height_cm=30.0, outline_cm=corners))
    across = np.array([[1.0, 1.0, 0.0]]) / np.sqrt(2.0)
    assert glass_ahead_cm(np.array([[5.0, 5.0, 15.0]]), across, room) == pytest.approx([20.0 / np.sqrt(2.0)])
    right = np.array([[1.0, 0.0, 0.0]])
    assert glass_ahead_cm(np.array([[5.0, 5.0, 15.0]]), right, room) == pytest.approx([20.0])
