from __future__ import annotations

import numpy as np
import pytest
import trimesh

from advisor.fields.thinning import farthest_off, thinned


def test_a_surface_that_is_coarse_enough_stays() -> None:
    body = trimesh.creation.box((1.0, 1.0, 1.0))
    few = thinned(body, 12)
    assert few.body is body
    assert few.off == 0.0


def test_what_is_flat_can_be_thinned_without_any_loss() -> None:
    body = trimesh.creation.box((10.0, 10.0, 10.0)).subdivide().subdivide().subdivide()
    few = thinned(body, 100)
    assert len(few.body.faces) <= 100
    assert few.off == pytest.approx(0.0, abs=1e-6)


def test_the_distance_of_a_ball_from_an_inscribed_one_is_their_difference() -> None:
    outer, inner = trimesh.creation.icosphere(5, 10.0), trimesh.creation.icosphere(5, 9.0)
    assert farthest_off(outer, inner) == pytest.approx(1.0, abs=0.01)


def test_a_spike_that_was_lost_is_found() -> None:
    flat = trimesh.creation.box((10.0, 10.0, 2.0))
    fine = flat.subdivide().subdivide()
    middle = np.argmin(np.linalg.norm(fine.vertices - [0.0, 0.0, 1.0], axis=1))
    fine.vertices[middle] += [0.0, 0.0, 3.0]
    assert farthest_off(trimesh.Trimesh(fine.vertices, fine.faces, process=False), flat) == pytest.approx(3.0)


def test_what_is_told_is_never_less_than_the_truth() -> None:
    rng = np.random.default_rng(4)
    body = trimesh.creation.icosphere(4, 10.0)
    body.vertices *= 1.0 + 0.05 * rng.random((len(body.vertices), 1))
    few = thinned(body, 600)
    points = np.vstack([body.vertices, body.triangles_center])
    triangles = np.asarray(few.body.triangles)
    worst = 0.0
    for point in points[rng.choice(len(points), 200, replace=False)]:
        same = np.tile(point, (len(triangles), 1))
        there = trimesh.triangles.closest_point(triangles, same)  # type: ignore[no-untyped-call]  # untyped there
        worst = max(worst, float(np.linalg.norm(there - point, axis=1).min()))
    assert few.off >= worst > 0.0
