from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from advisor.fields.boxes import farthest_cm, middle_cm, nearest_cm

Floats = npt.NDArray[np.float64]


def boxes(seed: int, count: int) -> tuple[Floats, Floats]:
    made = np.random.default_rng(seed)
    low = made.uniform(-50.0, 50.0, (count, 3))
    return low, low + made.uniform(0.0, 30.0, (count, 3))


def corners(low: Floats, high: Floats) -> Floats:
    picks = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)])
    return np.where(picks, high, low)


def test_points_have_the_distance_of_pythagoras() -> None:
    a, b = np.array([[0.0, 0.0, 0.0]]), np.array([[2.0, 3.0, 6.0]])
    for distance in (nearest_cm, farthest_cm, middle_cm):
        assert distance(a, a, b, b).tolist() == [7.0]


def test_farthest_is_the_largest_distance_of_any_two_corners() -> None:
    low_a, high_a = boxes(1, 40)
    low_b, high_b = boxes(2, 40)
    found = farthest_cm(low_a, high_a, low_b, high_b)
    for at in range(40):
        one, other = corners(low_a[at], high_a[at]), corners(low_b[at], high_b[at])
        worst = max(float(np.linalg.norm(a - b)) for a in one for b in other)
        assert found[at] == pytest.approx(worst)


def test_nearest_is_reached_by_the_points_clamped_into_each_box() -> None:
    low_a, high_a = boxes(3, 40)
    low_b, high_b = boxes(4, 40)
    found = nearest_cm(low_a, high_a, low_b, high_b)
    in_a = np.clip((low_b + high_b) / 2, low_a, high_a)
    for _ in range(200):  # alternating projection onto two boxes runs into a closest pair of points
        in_b = np.clip(in_a, low_b, high_b)
        in_a = np.clip(in_b, low_a, high_a)
    assert found == pytest.approx(np.linalg.norm(in_a - in_b, axis=1))


def test_boxes_that_overlap_are_at_no_distance() -> None:
    low, high = np.array([[0.0, 0.0]]), np.array([[10.0, 10.0]])
    assert nearest_cm(low, high, low + 5.0, high + 5.0).tolist() == [0.0]


def test_distances_are_the_same_both_ways_and_in_order() -> None:
    a, b = boxes(5, 200), boxes(6, 200)
    near, middle, far = (each(*a, *b) for each in (nearest_cm, middle_cm, farthest_cm))
    for there, back in ((near, nearest_cm), (middle, middle_cm), (far, farthest_cm)):
        assert there.tolist() == back(*b, *a).tolist()
    assert (near <= middle + 1e-9).all()
    assert (middle <= far + 1e-9).all()


def test_a_box_that_is_not_known_has_no_distance() -> None:
    known, unknown = np.zeros((1, 3)), np.full((1, 3), np.nan)
    for distance in (nearest_cm, farthest_cm, middle_cm):
        assert np.isnan(distance(known, known, unknown, unknown)).all()
