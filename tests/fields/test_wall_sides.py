from __future__ import annotations

import math

import pytest

from advisor.fields.wall_sides import SIDES, wall_sides
from advisor.model.tank import Glass

BOX = Glass(length_cm=60.0, width_cm=40.0, height_cm=45.0)
Corners = tuple[tuple[float, float], ...]


def around(corners: Corners) -> tuple[set[str], dict[str, float]]:
    length, width = (max(corner[axis] for corner in corners) for axis in (0, 1))
    glass = Glass(length_cm=length, width_cm=width, height_cm=45.0, outline_cm=corners)
    found = wall_sides(glass)
    return set(found.flat), dict(found.rest)


def test_a_box_has_four_flat_walls() -> None:
    assert wall_sides(BOX).flat == set(SIDES)
    assert wall_sides(BOX).rest == ()


def test_an_outline_in_either_order_has_the_same_walls() -> None:
    corners = ((10.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0), (0.0, 10.0))
    assert around(corners) == around(corners[::-1])
    flat, rest = around(corners)
    assert flat == set(SIDES)  # the cut corner leaves 50 of 60 cm and 30 of 40 cm
    whole = 50.0 + 40.0 + 60.0 + 30.0 + math.hypot(10.0, 10.0)
    assert sum(rest.values()) == pytest.approx(math.hypot(10.0, 10.0) / whole)


def test_of_a_lever_only_the_two_whole_sides_are_followed() -> None:
    flat, rest = around(((0, 0), (60, 0), (60, 20), (20, 20), (20, 40), (0, 40)))
    assert flat == {"left", "front"}
    assert rest == pytest.approx({"right": 40.0 / 200.0, "back": 60.0 / 200.0})


def test_a_wall_that_leans_in_or_stands_off_the_box_is_no_mirror() -> None:
    assert around(((0, 3), (60, 0), (60, 40), (0, 40)))[0] == {"left", "right", "back"}
    assert around(((5, 0), (60, 0), (60, 40), (5, 40)))[0] == {"right", "front", "back"}


def test_a_round_wall_looks_to_all_four_sides_alike() -> None:
    angles = [math.pi / 36 * at for at in range(72)]
    flat, rest = around(tuple((30 + 30 * math.cos(at), 30 + 30 * math.sin(at)) for at in angles))
    assert flat == set()
    assert rest == pytest.approx(dict.fromkeys(SIDES, 0.25), abs=0.02)
