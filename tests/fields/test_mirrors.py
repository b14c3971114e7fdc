from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.mirrors import FOLDS, Walls, images_cm, legs, thrown_back

BOX = Walls(100.0, 40.0)
STRAIGHT = int(np.flatnonzero((FOLDS == 0).all(axis=1))[0])


def fold(across_x: int, across_y: int) -> int:
    return int(np.flatnonzero((FOLDS == (across_x, across_y)).all(axis=1))[0])


def test_a_point_is_seen_once_itself_and_twelve_times_over_walls() -> None:
    assert len(FOLDS) == 13
    assert images_cm(np.array([[30.0, 10.0]]), BOX)[STRAIGHT].tolist() == [[30.0, 10.0]]


@pytest.mark.parametrize(
    ("over", "seen"),
    [((1, 0), (170.0, 10.0)), ((-1, 0), (-30.0, 10.0)), ((2, 0), (230.0, 10.0)), ((0, -1), (30.0, -10.0)),
     ((1, 1), (170.0, 70.0))],
)  # fmt: skip
def test_a_wall_mirrors_a_point_by_its_own_plane(over: tuple[int, int], seen: tuple[float, float]) -> None:
    assert tuple(images_cm(np.array([[30.0, 10.0]]), BOX)[fold(*over), 0]) == seen


def test_painted_walls_keep_their_share_at_each_meeting() -> None:
    walls = Walls(100.0, 40.0, left=0.5, right=0.25, front=0.0, back=1.0)
    rows = np.array([STRAIGHT, fold(1, 0), fold(-1, 0), fold(2, 0), fold(0, -1), fold(0, 1)])
    found = thrown_back(np.full((6, 2), 0.3), rows, walls, 1.34)
    assert found.tolist() == [1.0, 0.25, 0.5, 0.125, 0.0, 1.0]


def test_clean_glass_throws_back_all_of_a_steep_ray() -> None:
    steep, flat = np.array([[0.3, 0.0]]), np.array([[0.9, 0.0]])
    assert thrown_back(steep, np.array([fold(1, 0)]), BOX, 1.34).tolist() == [1.0]
    assert thrown_back(flat, np.array([fold(1, 0)]), BOX, 1.34)[0] < 0.1


def test_the_parts_of_a_folded_ray_lie_in_the_box_and_end_where_it_enters_the_water() -> None:
    random = np.random.default_rng(3)
    points = random.uniform([0.0, 0.0, 0.0], [100.0, 40.0, 30.0], (200, 3))
    entry = np.column_stack([random.uniform([0.0, 0.0], [100.0, 40.0], (200, 2)), np.full(200, 50.0)])
    for row in range(len(FOLDS)):
        rows = np.full(200, row)
        start = np.column_stack([images_cm(points[:, :2], BOX)[row], points[:, 2]])
        starts, directions, has = legs(start, entry, rows, BOX)
        assert starts[0] == pytest.approx(points)
        for part in range(len(has)):
            inside = starts[part][has[part]]
            assert ((inside >= -1e-9) & (inside <= [100.0 + 1e-9, 40.0 + 1e-9, 50.0])).all()
        last = has.sum(axis=0) - 1
        begin, way = starts[last, np.arange(200)], directions[last, np.arange(200)]
        along = (50.0 - begin[:, 2]) / way[:, 2]
        assert begin + way * along[:, None] == pytest.approx(entry, abs=1e-6)
        assert (has.sum(axis=0) == 1 + np.abs(FOLDS[row]).sum()).all()
