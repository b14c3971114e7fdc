from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from advisor.fields.emitters import panel
from advisor.fields.lobes import cosine_lobe
from advisor.fields.mirrors import Walls
from advisor.fields.rock_shapes import rock_body
from advisor.fields.shadows import Occluder, shadows
from advisor.fields.tank_light import Water, light_at, more
from advisor.model.lighting import RockShape

Floats = npt.NDArray[np.float64]
CLEAN, BLACK = Walls(120.0, 60.0), Walls(120.0, 60.0, 0.0, 0.0, 0.0, 0.0)
WATER = Water(CLEAN, 55.0, 1.34, 0.06)
LAMP = panel((60.0, 30.0, 75.0), 30.0, 20.0, 350.0, cosine_lobe(90.0))
SIDE = panel((30.0, 20.0, 70.0), 0.0, 0.0, 100.0, cosine_lobe(120.0))


def grid(count: int, seed: int = 0) -> Floats:
    return np.random.default_rng(seed).uniform([0.5, 0.5, 0.5], [119.5, 59.5, 54.0], (count, 3))


def test_lamps_add_up() -> None:
    points = grid(50)
    together = light_at(points, [LAMP, SIDE], WATER)
    alone = [light_at(points, [lamp], WATER).par_umol for lamp in (LAMP, SIDE)]
    assert together.by_lamp == pytest.approx(np.stack(alone))
    assert together.par_umol == pytest.approx(alone[0] + alone[1])


def test_more_of_what_another_light_has_more_of() -> None:
    points = np.vstack([grid(20), [[60.0, 30.0, 56.0]]])  # the last one is not in the water
    bare, clean = (light_at(points, [LAMP, SIDE], replace(WATER, walls=walls)) for walls in (BLACK, CLEAN))
    assert np.isnan(more(bare, clean, 1.0).path_m[-1])
    for times, same in ((0.0, bare), (1.0, clean)):
        found = more(bare, clean, times)
        assert found.by_lamp == pytest.approx(same.by_lamp, nan_ok=True)
        assert found.path_m == pytest.approx(same.path_m, nan_ok=True)
        assert found.over_walls == pytest.approx(same.over_walls, nan_ok=True)
    twice = more(bare, clean, 2.0)
    assert (twice.by_wall - clean.by_wall)[:, :-1] == pytest.approx((clean.by_wall - bare.by_wall)[:, :-1])


def test_a_tank_turned_left_to_right_is_lit_left_to_right() -> None:
    points = grid(50)
    turned = points * [-1.0, 1.0, 1.0] + [120.0, 0.0, 0.0]
    other = panel((90.0, 20.0, 70.0), 0.0, 0.0, 100.0, cosine_lobe(120.0))
    walls = Walls(120.0, 60.0, left=0.1)
    one = light_at(points, [SIDE], replace(WATER, walls=walls)).par_umol
    two = light_at(turned, [other], replace(WATER, walls=Walls(120.0, 60.0, right=0.1))).par_umol
    assert one == pytest.approx(two)


def test_below_one_point_without_walls_light_falls_with_depth() -> None:
    depths = np.linspace(0.1, 54.9, 200)
    points = np.column_stack([np.full(200, 30.0), np.full(200, 20.0), 55.0 - depths])
    found = light_at(points, [SIDE], replace(WATER, walls=BLACK)).par_umol
    assert (np.diff(found) < 0.0).all()


def test_glass_adds_light_and_dirt_takes_it() -> None:
    points = grid(200)
    black, clean = (
        light_at(points, [LAMP], replace(WATER, walls=walls)).par_umol for walls in (BLACK, CLEAN)
    )
    murky = light_at(points, [LAMP], replace(WATER, kd_per_m=0.3)).par_umol
    assert (clean >= black).all()
    assert clean.mean() > 1.1 * black.mean()
    assert (murky < clean).all()


def test_the_way_through_water_is_at_least_the_depth() -> None:
    points = grid(100)
    found = light_at(points, [LAMP], WATER)
    assert (found.path_m >= (55.0 - points[:, 2]) / 100.0).all()
    assert light_at(np.array([[60.0, 30.0, 5.0]]), [SIDE], replace(WATER, walls=BLACK)).path_m[0] > 0.5


def test_what_comes_over_a_wall_is_what_is_lost_when_it_is_painted_black() -> None:
    points, only = grid(60), replace(BLACK, left=1.0)
    found = light_at(points, [LAMP], replace(WATER, walls=only))
    lost = found.par_umol - light_at(points, [LAMP], replace(WATER, walls=BLACK)).par_umol
    assert found.by_wall[0] == pytest.approx(lost, abs=1e-9)
    assert found.by_wall[1:].tolist() == [[0.0] * 60] * 3


def test_light_that_came_over_two_walls_came_over_walls_once() -> None:
    points = grid(60)
    clean, black = (light_at(points, [LAMP], replace(WATER, walls=walls)) for walls in (CLEAN, BLACK))
    assert clean.over_walls == pytest.approx(clean.par_umol - black.par_umol, abs=1e-9)
    assert (clean.over_walls <= clean.par_umol).all()
    assert (clean.by_wall.sum(axis=0) > clean.over_walls + 1e-9).any()


def test_what_is_not_in_the_water_has_no_light() -> None:
    found = light_at(np.array([[60.0, 30.0, 55.0], [60.0, 30.0, -1.0], [60.0, 30.0, 10.0]]), [LAMP], WATER)
    assert np.isnan(found.par_umol).tolist() == [True, True, False]


def test_without_lamps_it_is_dark() -> None:
    assert light_at(grid(3), [], WATER).par_umol.tolist() == [0.0, 0.0, 0.0]


def test_a_level_face_is_the_same_told_or_not() -> None:
    points = grid(40)
    level = np.tile([0.0, 0.0, 1.0], (40, 1))
    assert light_at(points, [LAMP], WATER, level).par_umol == pytest.approx(
        light_at(points, [LAMP], WATER).par_umol
    )


def test_a_face_turned_down_gets_nothing_from_above_and_one_turned_to_the_lamp_more() -> None:
    point = np.array([[5.0, 30.0, 20.0]])
    normals = {"down": [0.0, 0.0, -1.0], "towards": [0.5, 0.0, 0.866], "away": [-0.5, 0.0, 0.866]}
    dark = replace(WATER, walls=BLACK)
    found = {
        name: light_at(point, [LAMP], dark, np.array([way])).par_umol[0] for name, way in normals.items()
    }
    assert found["down"] == 0.0
    assert found["towards"] > light_at(point, [LAMP], dark).par_umol[0] > found["away"]


def test_in_a_mirror_a_face_turned_to_the_wall_sees_the_lamp() -> None:
    point, away = np.array([[5.0, 30.0, 5.0]]), np.array([[-1.0, 0.0, 0.0]])
    mirror = replace(WATER, walls=replace(BLACK, left=1.0))
    assert light_at(point, [LAMP], mirror, away).par_umol[0] > 0.0
    assert light_at(point, [LAMP], replace(WATER, walls=BLACK), away).par_umol[0] == 0.0


def test_points_beyond_what_is_worked_at_once_are_the_same() -> None:
    points = grid(4100, seed=4)
    found = light_at(points, [SIDE], WATER)
    last = light_at(points[-3:], [SIDE], WATER)
    assert found.par_umol[-3:] == pytest.approx(last.par_umol)


def plate_over(passes: float) -> Callable[[Floats, Floats], Floats]:
    body = rock_body(RockShape.PLATE, (60.0, 30.0), 30.0, (60.0, 60.0, 2.0))
    return shadows([Occluder("plate", body, passes)])


def test_a_plate_darkens_what_is_below_it_and_nothing_above() -> None:
    points = np.array([[60.0, 30.0, 28.0], [60.0, 30.0, 33.0]])
    free = light_at(points, [LAMP], WATER)
    found = light_at(points, [LAMP], WATER, shade=plate_over(0.0))
    assert found.par_umol[0] < 0.05 * free.par_umol[0]
    assert found.par_umol[1] == pytest.approx(free.par_umol[1])
    assert found.open_by_lamp == pytest.approx(free.by_lamp)


def test_a_colony_that_lets_light_through_darkens_by_its_share() -> None:
    below = np.array([[60.0, 30.0, 28.5]])
    dark = replace(WATER, walls=BLACK)
    free = light_at(below, [LAMP], dark).par_umol[0]
    assert light_at(below, [LAMP], dark, shade=plate_over(0.25)).par_umol[0] == pytest.approx(
        0.25 * free, rel=0.02
    )


def test_light_that_comes_over_a_wall_is_stopped_on_the_way_there() -> None:
    point = np.array([[8.0, 30.0, 10.0]])
    mirror = replace(WATER, walls=replace(BLACK, left=1.0))
    lamp = panel((20.0, 30.0, 75.0), 0.0, 0.0, 100.0, cosine_lobe(120.0))
    screen = shadows([Occluder("screen", rock_body(RockShape.BLOCK, (4.0, 30.0), 5.0, (0.5, 60.0, 60.0)))])
    straight = light_at(point, [lamp], replace(WATER, walls=BLACK)).par_umol[0]
    assert light_at(point, [lamp], mirror).par_umol[0] > 1.02 * straight
    assert light_at(point, [lamp], mirror, shade=screen).par_umol[0] == pytest.approx(straight)
