from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.surface_rays import rays

INDEX = 1.34


def test_every_ray_reaches_its_point_and_bends_by_snell() -> None:
    random = np.random.default_rng(1)
    height, depth = random.uniform(0.01, 2.0, 500), random.uniform(0.0, 2.0, 500)
    apart = random.uniform(0.0, 8.0, 500)
    found = rays(height, depth, apart, INDEX)
    air_sin = np.sqrt(1.0 - found.air_cos**2)
    reached = height * air_sin / found.air_cos + depth * found.water_sin / found.water_cos
    assert reached == pytest.approx(apart, rel=1e-9, abs=1e-12)
    assert air_sin == pytest.approx(INDEX * found.water_sin, abs=1e-9)


def test_a_bundle_keeps_its_light_however_it_spreads() -> None:
    apart = np.linspace(0.0, 60.0, 600001)
    found = rays(np.full_like(apart, 0.3), np.full_like(apart, 0.5), apart, INDEX)
    whole = np.trapezoid(found.per_m2 * 2.0 * np.pi * apart, apart)
    assert whole == pytest.approx(2.0 * np.pi * (1.0 - found.air_cos[-1]), rel=1e-4)


def test_at_the_surface_the_bundle_is_that_of_air() -> None:
    found = rays(np.array([0.5]), np.array([0.0]), np.array([0.5]), INDEX)
    assert found.per_m2 == pytest.approx([np.cos(np.pi / 4) / 0.5])
    assert found.entry_share == pytest.approx([1.0])


def test_straight_down_the_water_is_shorter_by_its_index() -> None:
    found = rays(np.array([0.2]), np.array([0.4]), np.array([0.0]), INDEX)
    assert found.per_m2 == pytest.approx([1.0 / (0.2 + 0.4 / INDEX) ** 2])
