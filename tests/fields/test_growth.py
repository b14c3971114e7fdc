from __future__ import annotations

import numpy as np

from advisor.fields.growth import gap_left_cm, radius_cm, spread_cm


def test_radius_is_half_the_width_times_how_far_it_opens() -> None:
    assert radius_cm(np.array([8.0, 8.0]), np.array([1.0, 2.5])).tolist() == [4.0, 10.0]


def test_an_edge_moves_by_rate_times_months_in_cm() -> None:
    assert spread_cm(np.array([0.0, 10.0]), np.array([5.0, 5.0])).tolist() == [0.0, 5.0]


def test_a_gap_closes_from_both_sides_and_stops_at_touching() -> None:
    gap = np.array([10.0, 10.0, 10.0])
    found = gap_left_cm(gap, np.array([0.0, 3.0, 9.0]), np.array([0.0, 4.0, 9.0]))
    assert found.tolist() == [10.0, 3.0, 0.0]


def test_what_is_not_known_stays_not_known() -> None:
    assert np.isnan(gap_left_cm(np.array([np.nan]), np.zeros(1), np.zeros(1))).all()
    assert np.isnan(radius_cm(np.array([np.nan]), np.ones(1))).all()


def test_more_months_never_widen_a_gap() -> None:
    months = np.linspace(0.0, 60.0, 61)
    left = gap_left_cm(
        np.full(61, 20.0), spread_cm(months, np.full(61, 3.0)), spread_cm(months, np.full(61, 1.0))
    )
    assert (np.diff(left) <= 0.0).all()
