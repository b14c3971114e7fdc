from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from advisor.fields.mirrors import Walls
from advisor.fields.sand_light import sand_light
from advisor.fields.tank_light import Water

DARK = Water(Walls(120.0, 60.0, 0.0, 0.0, 0.0, 0.0), 50.0, 1.34, 0.0)
MIRRORS = Water(Walls(120.0, 60.0, 1.0, 1.0, 1.0, 1.0), 50.0, 1.34, 0.0)
MIDDLE = np.array([[60.0, 30.0, 10.0]])
DOWN = np.array([[0.0, 0.0, -1.0]])


def test_between_mirrors_a_face_that_looks_down_sees_an_endless_floor() -> None:
    assert sand_light(MIDDLE, MIRRORS, 0.4, 500.0, DOWN) == pytest.approx([200.0], rel=1e-3)


def test_between_mirrors_the_surface_throws_back_its_diffuse_share() -> None:
    found = sand_light(MIDDLE, MIRRORS, 1.0, 100.0)
    assert found == pytest.approx([48.07], rel=0.005)  # diffuse reflectance from below, integral of Fresnel


def test_an_upright_face_sees_half_the_floor_and_what_the_surface_throws_back() -> None:
    critical = np.arcsin(1.0 / 1.34)
    floor = 0.5 * 200.0
    thrown_back = 200.0 / np.pi * ((np.pi / 2.0 - critical) + np.sin(2.0 * critical) / 2.0)
    side = np.array([[1.0, 0.0, 0.0]])
    found = sand_light(MIDDLE, MIRRORS, 0.4, 500.0, side)[0]
    # below the critical angle the surface throws back a little more
    assert floor + thrown_back < found < 1.02 * (floor + thrown_back)


def test_black_sand_and_a_dark_floor_send_nothing() -> None:
    assert sand_light(MIDDLE, DARK, 0.0, 500.0, DOWN).tolist() == [0.0]
    assert sand_light(MIDDLE, DARK, 0.4, 0.0, DOWN).tolist() == [0.0]


def test_further_from_the_sand_a_face_between_dark_walls_gets_less() -> None:
    heights = np.array([[60.0, 30.0, height] for height in (2.0, 10.0, 25.0, 45.0)])
    found = sand_light(heights, DARK, 0.4, 500.0, np.tile(DOWN, (4, 1)))
    assert (np.diff(found) < 0.0).all()


def test_murky_water_takes_its_part() -> None:
    assert sand_light(MIDDLE, replace(DARK, kd_per_m=1.0), 0.4, 500.0, DOWN) < sand_light(
        MIDDLE, DARK, 0.4, 500.0, DOWN
    )
