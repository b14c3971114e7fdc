from __future__ import annotations

import pytest
import trimesh

from advisor.fields.islands import moats_cm, near_cm
from advisor.fields.rock_shapes import Body, rock_body
from advisor.model.lighting import RockShape


def block(x: float, y: float = 30.0, foot: float = 0.0, size: float = 20.0) -> Body:
    return rock_body(RockShape.BLOCK, (x, y), foot, (size, size, size))


@pytest.mark.parametrize(("second", "apart"), [(60.0, 10.0), (50.5, 0.5), (50.0, 0.0), (45.0, 0.0)])
def test_two_blocks_are_as_far_apart_as_their_faces(second: float, apart: float) -> None:
    assert near_cm({"a": block(30.0), "b": block(second)}, 12.0) == {
        ("a", "b"): pytest.approx(apart, abs=1e-6)
    }


def test_the_way_from_corner_to_corner_is_slanting() -> None:
    found = near_cm({"a": block(30.0, 20.0), "b": block(53.0, 44.0)}, 12.0)  # 3 and 4 cm off
    assert found["a", "b"] == pytest.approx(5.0)


def test_a_ball_over_a_block_is_as_high_as_its_lowest_point() -> None:
    ball = rock_body(RockShape.BOULDER, (31.3, 28.7), 22.5, (20.0, 20.0, 20.0))
    assert near_cm({"a": block(30.0), "b": ball}, 12.0)["a", "b"] == pytest.approx(2.5, abs=0.01)


def test_a_fine_scan_is_as_far_off_as_a_plain_ball() -> None:
    fine = trimesh.creation.icosphere(5, 10.0)
    fine.apply_translation([60.0, 30.0, 10.0])
    assert near_cm({"a": block(30.0), "b": fine}, 12.0)["a", "b"] == pytest.approx(10.0, abs=0.05)


def test_one_that_lies_wholly_inside_another_touches_it() -> None:
    assert near_cm({"a": block(30.0), "b": block(30.0, foot=8.0, size=4.0)}, 12.0)["a", "b"] == 0.0


def test_a_moat_is_measured_over_the_floor() -> None:
    mushroom = rock_body(RockShape.HEAP, (80.0, 30.0), 0.0, (40.0, 40.0, 20.0))
    found = moats_cm({"a": block(30.0), "b": mushroom, "hanging": block(50.0, foot=25.0)})
    assert set(found) == {("a", "b")}
    assert found["a", "b"] == pytest.approx(20.0, abs=1.0)


def test_rocks_that_are_farther_apart_than_asked_are_left_out() -> None:
    assert near_cm({"a": block(30.0), "b": block(60.0), "c": block(90.0)}, 9.9) == {}
    assert set(near_cm({"a": block(30.0), "b": block(60.0), "c": block(90.0)}, 10.1)) == {
        ("a", "b"),
        ("b", "c"),
    }


def test_one_rock_alone_has_no_neighbour() -> None:
    assert near_cm({"a": block(30.0)}, 12.0) == {}
    assert moats_cm({"a": block(30.0)}) == {}
