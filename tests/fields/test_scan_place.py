from __future__ import annotations

import numpy as np
import pytest
import trimesh

from advisor.errors import QuantityError
from advisor.fields.scan_place import (
    beyond_glass_cm,
    likely_unit,
    packed,
    pinned,
    set_down,
    unpacked,
    upright,
)
from advisor.model.lighting import Pin, Upward

ROOM = (90.0, 60.0, 50.0)


def wedge() -> trimesh.Trimesh:
    """A body without any symmetry, 4 x 2 x 1, its tip over one corner."""
    corners = [(0, 0, 0), (4, 0, 0), (0, 2, 0), (0, 0, 1)]
    body = trimesh.Trimesh(corners, [(0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)], process=False)
    assert body.volume > 0.0
    return body


@pytest.mark.parametrize("up", Upward)
def test_whichever_axis_is_up_the_body_stays_the_same(up: Upward) -> None:
    turned = upright(wedge(), up)
    assert turned.volume == pytest.approx(wedge().volume)  # a mirror would turn its sign
    axis, sign = "xyz".index(up.value[-1]), -1.0 if up.value[0] == "-" else 1.0
    assert turned.vertices[:, 2] == pytest.approx(sign * wedge().vertices[:, axis])


def test_a_scan_is_stretched_turned_and_set_down() -> None:
    found = set_down(wedge(), (40.0, 20.0, 10.0), (50.0, 30.0), 2.0, 90.0)
    low, high = found.body.bounds
    assert low == pytest.approx([40.0, 10.0, 2.0])
    assert high == pytest.approx([60.0, 50.0, 12.0])
    # the corner with the tip was low in x and y: a quarter turn takes it to high x and low y
    assert found.body.vertices[3] == pytest.approx([60.0, 10.0, 12.0])
    assert (found.cm_per_unit, found.stretched) == (10.0, 1.0)


def test_a_size_of_other_proportions_is_told() -> None:
    found = set_down(wedge(), (40.0, 30.0, 10.0), (50.0, 30.0), 0.0, 0.0)
    assert found.stretched == pytest.approx(1.5)
    assert found.cm_per_unit == 15.0


@pytest.mark.parametrize(
    ("extent", "unit"),
    [
        ((30.0, 20.0, 15.0), "centimetres"),
        ((20.0, 15.0, 80.0), "centimetres"),  # it fits when laid along
        ((0.3, 0.2, 0.15), "metres"),
        ((300.0, 200.0, 150.0), "millimetres"),
        ((2.0, 0.2, 0.15), "inches"),
        ((3000.0, 2000.0, 1500.0), ""),
        ((0.001, 0.001, 0.001), ""),
    ],
)
def test_the_unit_is_told_by_what_has_room(extent: tuple[float, float, float], unit: str) -> None:
    assert likely_unit(extent, ROOM) == unit


def test_without_glass_a_large_scan_is_in_millimetres() -> None:
    assert likely_unit((500.0, 200.0, 150.0), None) == "millimetres"
    assert likely_unit((250.0, 200.0, 150.0), None) == "centimetres"


def test_points_known_in_both_give_back_how_it_was_moved() -> None:
    cos, sin = np.cos(0.7), np.sin(0.7)
    whole = np.array(
        [[12 * cos, 0, 12 * sin, 40], [0, 12, 0, 30], [-12 * sin, 0, 12 * cos, 5], [0, 0, 0, 1]]
    )  # scaled twelvefold, turned about y, moved
    there = trimesh.transformations.transform_points(wedge().vertices, whole)
    pins = [Pin(f"p{at}", tuple(wedge().vertices[at]), tuple(there[at])) for at in range(3)]
    found = pinned(wedge(), pins)
    assert found.body.vertices == pytest.approx(there)
    assert found.cm_per_unit == pytest.approx(12.0)
    assert found.residual_cm == pytest.approx(0.0, abs=1e-9)


def test_points_that_do_not_agree_say_how_far_off() -> None:
    corners = [(0.0, 0.0, 0.0), (4.0, 0.0, 0.0), (0.0, 2.0, 0.0)]
    tank = [(10.0, 10.0, 0.0), (50.0, 10.0, 0.0), (10.0, 34.0, 0.0)]  # 4 cm more than ten times
    found = pinned(wedge(), [Pin(str(at), *each) for at, each in enumerate(zip(corners, tank, strict=True))])
    assert 1.0 < found.residual_cm < 4.0


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([(0, 0, 0), (1, 0, 0)], "2 points"),
        ([(0, 0, 0), (1, 0, 0), (2, 0, 0)], "one line"),
        ([(1, 1, 1), (1, 1, 1), (1, 1, 1)], "one line"),
    ],
)
def test_points_that_leave_a_turn_open_are_refused(
    points: list[tuple[float, float, float]], words: str
) -> None:
    with pytest.raises(QuantityError, match=words):
        pinned(wedge(), [Pin(str(at), each, each) for at, each in enumerate(points)])


def test_what_reaches_out_of_the_glass_is_told_by_side() -> None:
    inside = set_down(wedge(), (40.0, 20.0, 10.0), (45.0, 30.0), 0.0, 0.0)
    assert beyond_glass_cm(inside.body, ROOM) == {}
    out = set_down(wedge(), (40.0, 20.0, 60.0), (15.0, 30.0), 0.0, 0.0)
    assert beyond_glass_cm(out.body, ROOM) == pytest.approx({"left": 5.0, "top": 10.0})


def test_a_body_survives_being_packed() -> None:
    found = set_down(wedge(), (40.0, 20.0, 10.0), (45.0, 30.0), 0.0, 30.0)
    surface = packed(found, 0.02)
    assert surface == packed(found, 0.02)
    assert surface.off_cm == pytest.approx(0.2)
    again = unpacked(surface)
    assert (again.vertices == found.body.vertices).all()
    assert (again.faces == found.body.faces).all()
