from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.rock_shapes import rock_body
from advisor.fields.upward import grounds, inside
from advisor.model.lighting import RockShape

BLOCK = rock_body(RockShape.BLOCK, (30.0, 30.0), 0.0, (20.0, 20.0, 10.0))
SHELF = rock_body(RockShape.SHELF, (30.0, 30.0), 20.0, (30.0, 20.0, 4.0))
WEDGED = rock_body(RockShape.BLOCK, (30.0, 30.0), 5.0, (4.0, 4.0, 10.0))
"""Sits in the block and stands out of its top."""


def test_a_line_meets_every_face_that_looks_up_from_the_highest_down() -> None:
    found = grounds({"block": BLOCK, "shelf": SHELF}, np.array([[30.3, 30.2], [5.0, 5.0], [16.1, 30.2]]))
    assert found.line.tolist() == [0, 0, 1, 2, 2]
    assert found.height_cm == pytest.approx([24.0, 10.0, 0.0, 24.0, 0.0])
    assert found.rock.tolist() == [1, 0, -1, 1, -1]
    assert found.slope_deg == pytest.approx(np.zeros(5))


def test_ground_inside_another_rock_is_none() -> None:
    found = grounds({"block": BLOCK, "wedged": WEDGED}, np.array([[30.3, 30.2]]))
    assert found.height_cm == pytest.approx([15.0])
    assert found.rock.tolist() == [1]


def test_the_slope_of_a_heap_is_that_of_its_flank() -> None:
    heap = rock_body(RockShape.HEAP, (30.0, 30.0), 0.0, (40.0, 40.0, 20.0))
    found = grounds({"heap": heap}, np.array([[40.1, 30.2]]))
    assert found.slope_deg[0] == pytest.approx(45.0, abs=0.5)
    assert found.height_cm[0] == pytest.approx(10.0, abs=0.3)


def test_inside_is_told_for_each_point() -> None:
    points = np.array([[30.0, 30.0, 5.0], [30.0, 30.0, 11.0], [45.0, 30.0, 5.0], [30.0, 30.0, -1.0]])
    assert inside(BLOCK, points).tolist() == [True, False, False, False]
    assert inside(BLOCK, points[:0]).tolist() == []
