from __future__ import annotations

import numpy as np

from advisor.fields.optics import reflectance, refracted_rad


def test_a_ray_straight_down_is_not_bent() -> None:
    assert refracted_rad(np.array([0.0]), 1.34).tolist() == [0.0]


def test_a_slanting_ray_is_bent_towards_the_vertical() -> None:
    slant = np.radians([10.0, 45.0, 80.0])
    assert (refracted_rad(slant, 1.34) < slant).all()


def test_a_grazing_ray_is_thrown_back_whole() -> None:
    assert reflectance(np.array([0.0]), 1.34).tolist() == [1.0]


def test_out_of_water_all_is_thrown_back_beyond_the_critical_angle() -> None:
    critical = np.arcsin(1 / 1.34)
    found = reflectance(np.cos([critical - 0.01, critical + 0.01]), 1 / 1.34)
    assert found[0] < 1.0
    assert found[1] == 1.0


def test_the_share_thrown_back_is_the_same_both_ways_through_the_surface() -> None:
    air = np.radians([0.0, 20.0, 50.0, 70.0])
    water = refracted_rad(air, 1.34)
    assert np.allclose(reflectance(np.cos(air), 1.34), reflectance(np.cos(water), 1 / 1.34))
