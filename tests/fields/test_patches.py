from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.patches import planes_through

RING = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])


def test_a_plane_is_found_and_nothing_departs_from_it() -> None:
    rise = (RING @ np.array([0.5, -0.25]))[None, :]
    tilt, uneven = planes_through(RING, rise, np.ones((1, 4), np.bool_))
    assert tilt[0] == pytest.approx([0.5, -0.25])
    assert uneven[0] == pytest.approx(0.0, abs=1e-12)


def test_points_that_are_not_near_do_not_count() -> None:
    rise = np.array([[0.0, 0.0, 0.0, -50.0], [0.0, 0.0, 0.0, -50.0]])
    near = np.array([[True, True, True, False], [True, True, True, True]])
    tilt, uneven = planes_through(RING, rise, near)
    assert tilt[0] == pytest.approx([0.0, 0.0], abs=1e-12)
    assert uneven[1] > 1.0


def test_a_hollow_is_uneven_by_its_depth_against_the_middle_plane() -> None:
    _, uneven = planes_through(RING, np.full((1, 4), 1.0), np.ones((1, 4), np.bool_))
    assert uneven[0] == pytest.approx(0.8)  # the plane of least squares lies at 4/5 of the rim
