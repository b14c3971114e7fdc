from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from advisor.model.tank import Glass
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]


def glass(tank_of: Make, keys: str) -> Glass:
    folder = tank_of(f"glass: {{{keys}, height: 50 cm}}\nspots: [ledge]\n")
    assert folder.problems == ()
    found = folder.tank.glass
    assert found is not None
    return found


def test_a_box_needs_no_shape(tank_of: Make) -> None:
    for keys in ("length: 90 cm, width: 45 cm", "shape: box, length: 90 cm, width: 45 cm"):
        found = glass(tank_of, keys)
        assert (found.outline_cm, found.floor_cm2) == ((), 90.0 * 45.0)


def test_a_cylinder_is_as_long_and_as_wide_as_its_diameter(tank_of: Make) -> None:
    found = glass(tank_of, "shape: cylinder, diameter: 60 cm")
    assert (found.length_cm, found.width_cm) == pytest.approx((60.0, 60.0))
    assert found.floor_cm2 == pytest.approx(math.pi * 900.0, rel=2e-3)
    off = [math.dist(corner, (30.0, 30.0)) for corner in found.outline_cm]
    assert off == pytest.approx([30.0] * len(off))


def test_a_bow_front_bulges_to_the_front(tank_of: Make) -> None:
    found = glass(tank_of, "shape: bow front, length: 90 cm, width: 45 cm, bow: 10 cm")
    assert (found.length_cm, found.width_cm) == pytest.approx((90.0, 45.0))
    assert found.outline_cm[0] == pytest.approx((0.0, 10.0))
    assert min(y for _, y in found.outline_cm) == pytest.approx(0.0, abs=1e-9)
    assert found.outline_cm[-2:] == ((90.0, 45.0), (0.0, 45.0))
    # a segment of a circle of 10 cm height over a chord of 90 cm, before a box of 90 x 35 cm
    radius = (45.0**2 + 10.0**2) / 20.0
    segment = radius**2 * math.acos((radius - 10.0) / radius) - (radius - 10.0) * math.sqrt(20 * radius - 100)
    assert found.floor_cm2 == pytest.approx(90.0 * 35.0 + segment, rel=1e-3)


def test_an_outline_is_told_corner_by_corner(tank_of: Make) -> None:
    found = glass(tank_of, 'outline: ["0, 0 cm", "60, 0 cm", "60 cm, 20 cm", "0, 50 cm"]')
    assert found.outline_cm == ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (0.0, 50.0))
    assert (found.length_cm, found.width_cm) == (60.0, 50.0)


def test_a_spot_in_the_corner_of_a_cylinder_is_outside(tank_of: Make) -> None:
    text = "glass: {shape: cylinder, diameter: 60 cm, height: 50 cm}\n"
    text += "spots:\n  - {id: ledge, at: '5, 5, 10 cm'}\n"
    assert tank_of(text).codes == ["place-151"]
    assert tank_of(text.replace("5, 5,", "30, 0,")).codes == []


def test_a_grid_keeps_within_the_outline(tank_of: Make) -> None:
    text = "glass: {shape: cylinder, diameter: 60 cm, height: 50 cm}\nplaces every: 10 cm\n"
    spots = {spot.id for spot in tank_of(text).tank.spots}
    assert "floor-30-30-0" in spots
    assert "floor-10-10-0" not in spots
    assert len(spots) == 21  # of 25 in the square, those in its four corners lie outside


@pytest.mark.parametrize(
    ("keys", "code"),
    [
        ("shape: ball, diameter: 60 cm", "value-133"),
        ("shape: cylinder", "key-123"),
        ("shape: cylinder, diameter: 0 cm", "key-123"),
        ("shape: bow front, length: 90 cm, bow: 10 cm", "key-123"),
        ("shape: bow front, length: 90 cm, width: 45 cm, bow: 50 cm", "value-132"),
        ('outline: ["0, 0 cm", "60, 0 cm"]', "value-137"),
        ('outline: ["0, 0 cm", "60, 60 cm", "60, 0 cm", "0, 60 cm"]', "value-137"),
        ('outline: ["0, 0 cm", "60 cm", "60, 60 cm"]', "value-137"),
        ('outline: ["0, 0 cm", "-60, 0 cm", "60, 60 cm"]', "value-137"),
        ("outline: round", "value-137"),
    ],
)
def test_a_shape_that_cannot_be_says_why(tank_of: Make, keys: str, code: str) -> None:
    assert tank_of(f"glass: {{{keys}, height: 50 cm}}\nspots: [ledge]\n").codes == [code]
