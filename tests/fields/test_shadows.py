from __future__ import annotations

import numpy as np

from advisor.fields.rock_shapes import rock_body
from advisor.fields.shadows import Occluder, shadows
from advisor.model.lighting import RockShape

ROCK = Occluder("rock", rock_body(RockShape.BLOCK, (10.0, 10.0), 10.0, (10.0, 10.0, 2.0)))
LEAF = Occluder("leaf", rock_body(RockShape.PLATE, (30.0, 10.0), 10.0, (10.0, 10.0, 1.0)), 0.5)
OTHER = Occluder("other", rock_body(RockShape.PLATE, (30.0, 10.0), 20.0, (10.0, 10.0, 1.0)), 0.1)
UP = np.array([[0.0, 0.0, 1.0]] * 3)
STARTS = np.array([[10.0, 10.0, 0.0], [30.0, 10.0, 0.0], [50.0, 10.0, 0.0]])


def test_rock_stops_all_and_leaves_stop_their_share_one_after_the_other() -> None:
    found = shadows([ROCK, LEAF, OTHER])(STARTS, UP)
    assert np.allclose(found, [0.0, 0.05, 1.0])


def test_with_nothing_in_the_tank_all_passes() -> None:
    assert shadows([])(STARTS, UP).tolist() == [1.0, 1.0, 1.0]


def test_what_stands_behind_does_not_shade() -> None:
    assert shadows([ROCK, LEAF])(STARTS, -UP).tolist() == [1.0, 1.0, 1.0]


def test_the_surface_a_ray_starts_on_does_not_stop_it() -> None:
    on_top = np.array([[10.0, 10.0, 12.0]])
    assert shadows([ROCK])(on_top, UP[:1]).tolist() == [1.0]
