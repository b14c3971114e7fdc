from __future__ import annotations

import pytest

from advisor.fields.footholds import holds, nearest_foothold_cm, upward_faces_cm
from advisor.fields.rock_shapes import rock_body
from advisor.model.lighting import RockShape

BLOCK = rock_body(RockShape.BLOCK, (10.0, 10.0), 0.0, (8.0, 8.0, 5.0))
SHELF = rock_body(RockShape.SHELF, (10.0, 10.0), 20.0, (8.0, 8.0, 2.0))
BALL = rock_body(RockShape.BOULDER, (40.0, 10.0), 0.0, (20.0, 20.0, 20.0))


def test_every_face_that_looks_up_is_found_from_the_top() -> None:
    assert upward_faces_cm([BLOCK, SHELF], 10.3, 9.8) == pytest.approx([22.0, 5.0])
    assert upward_faces_cm([BLOCK, SHELF], 30.0, 10.0) == []


def test_a_point_inside_a_rock_is_lifted_onto_it_and_one_above_is_set_down() -> None:
    assert nearest_foothold_cm([BALL], (40.2, 10.1, 17.0), 5.0) == pytest.approx(20.0, abs=0.2)
    assert nearest_foothold_cm([BALL], (40.2, 10.1, 22.0), 5.0) == pytest.approx(20.0, abs=0.2)


def test_below_a_shelf_the_face_below_is_nearer() -> None:
    assert nearest_foothold_cm([BLOCK, SHELF], (10.3, 9.8, 7.0), 5.0) == pytest.approx(5.0)


def test_far_from_all_rock_there_is_none() -> None:
    assert nearest_foothold_cm([BLOCK], (10.3, 9.8, 12.0), 5.0) is None


def test_a_point_is_inside_a_closed_body_whatever_lies_above_it() -> None:
    assert holds(BLOCK, (10.3, 9.8, 2.0))
    assert not holds(BLOCK, (10.3, 9.8, 12.0))
    assert not holds(SHELF, (10.3, 9.8, 12.0))
    assert not holds(BLOCK, (30.0, 9.8, 2.0))
    assert holds(BALL, (40.2, 10.1, 10.0))
