"""Light at points that were never read, from few readings and lamps told wrongly, against traced tanks.

The truth is `tracer`, which shares no line with the model: panels as areas,
sand of albedo 0.35 (S. Maritorena, A. Morel and B. Gentili, Limnol. Oceanogr.
39 (1994) 1689), a painted back wall, boulders and blocks. The model is told
lamps that hang 3 cm too high with a lobe of 1.6 for 2.2, both equally strong
where one is stronger, clean glass all round and clearer water. Readings carry
5 % of noise. Kriging alone is PyKrige's.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt
import pytest
import trimesh
from pykrige.ok3d import OrdinaryKriging3D  # type: ignore[import-untyped]  # no types there

from advisor.fields.emitters import Emitters, panel
from advisor.fields.fitting import Fit, Sites, Trust, fit
from advisor.fields.lobes import Lobe
from advisor.fields.mirrors import Walls
from advisor.fields.rock_shapes import rock_body
from advisor.fields.shadows import Occluder, shadows
from advisor.fields.tank_light import Water, light_at
from advisor.model.lighting import RockShape
from tests.outside.tracer import Panel, Scene, traced_umol

Floats = npt.NDArray[np.float64]
TRUST = Trust(local=0.07, local_length_cm=20.0, reading=0.06)
CAUSE_SD = np.array([0.5, 0.3, 0.3, 0.15, 0.5, 0.5, 0.5, 0.5, 0.5, 1.0])
"""Strength of all, of each lamp, attenuation, film on four walls, lobe, height in steps of 3 cm."""
POINTS, DRAWS = 48, 12
WATER = Water(Walls(120.0, 60.0), 55.0, 1.34, 0.06)


@dataclass(frozen=True)
class Known:
    """A tank: points, the traced logarithms, what the model believes, and its change by a hand's waver."""

    at_cm: Floats
    truth: Floats
    sites: Sites
    placing: Floats


@cache
def tank(seed: int) -> Known:
    random = np.random.default_rng(seed)
    bodies = [
        rock_body(
            shape,
            (random.uniform(15, 105), random.uniform(15, 45)),
            0.0,
            (random.uniform(15, 30), random.uniform(12, 25), random.uniform(10, 30)),
            random.uniform(0, 90),
        )
        for shape in (RockShape.BOULDER, RockShape.BLOCK, RockShape.BOULDER, RockShape.BLOCK)
    ]
    rock = trimesh.util.concatenate(bodies)
    assert isinstance(rock, trimesh.Trimesh)
    lamps = [
        Panel(x + random.uniform(-5, 5), 30, 20, 30, 20, 350 * random.uniform(0.6, 1.6), 2.2)
        for x in (35, 85)
    ]
    scene = Scene(
        120, 60, 55, lamps, 1.34, 0.06 + 0.1 * random.uniform(), (None, None, None, 0.05), 0.35, rock
    )
    over = np.column_stack([random.uniform([3, 3], [117, 57], (POINTS, 2)), np.full(POINTS, 54.0)])
    at = np.array([[x, y, _top(rock, x, y) + 1.5] for x, y, _ in over])
    truth = np.log([traced_umol(scene, point, 120, seed=row) for row, point in enumerate(at)])
    return Known(at, truth, *_believed(at, lamps, bodies))


def _top(rock: trimesh.Trimesh, x: float, y: float) -> float:
    from_above = np.array([[x, y, 54.0]]), np.array([[0.0, 0.0, -1.0]])
    hits = rock.ray.intersects_location(*from_above, multiple_hits=False)[0]
    return float(hits[0, 2]) if len(hits) else 0.0


def _believed(at: Floats, lamps: list[Panel], bodies: list[trimesh.Trimesh]) -> tuple[Sites, Floats]:
    shade = shadows([Occluder(str(row), body) for row, body in enumerate(bodies)])

    def told(power: float, height: float) -> list[Emitters]:
        lobe = Lobe(np.zeros(0), np.zeros(0), power)
        return [panel((lamp.x, lamp.y, 55.0 + height), 30.0, 20.0, 350.0, lobe) for lamp in lamps]

    def field(points: Floats) -> Floats:
        light = light_at(points, told(1.6, 23.0), WATER, shade=shade)
        found: Floats = np.log(light.par_umol + 0.01 * light.open_by_lamp.sum(axis=0))
        return found

    light = light_at(at, told(1.6, 23.0), WATER, shade=shade)
    unshaded = np.log(light.open_by_lamp.sum(axis=0))
    lobe, height = (
        np.log(light_at(at, told(*other), WATER).par_umol) - unshaded for other in ((2.6, 23.0), (1.6, 26.0))
    )
    lit = light.by_lamp + 0.01 * light.open_by_lamp
    shares = lit / lit.sum(axis=0)
    over_walls = light.by_wall / np.maximum(light.par_umol, 1e-9)
    effects = np.column_stack([np.ones(len(at)), shares.T, -light.path_m, over_walls.T, lobe, height])
    here = field(at)
    moved = [field(at + np.array(by)) - here for by in ((1.5, 0, 0), (-1.5, 0, 0), (0, 1.5, 0), (0, -1.5, 0))]
    return Sites(at, here, effects), np.sqrt(np.mean(np.square(moved), axis=0))


def part(of: Sites, rows: npt.NDArray[np.int64]) -> Sites:
    return Sites(of.at_cm[rows], of.log_par[rows], of.effects[rows])


@dataclass(frozen=True)
class Score:
    """Errors of the logarithm at points held out, by model and by kriging; share within the interval."""

    rms: float
    kriging_rms: float
    covered: float


def score(known: Known, readings: int) -> Score:
    errors, krigings, inside = [], [], []
    for draw in range(DRAWS):
        random = np.random.default_rng(draw)
        order = random.permutation(POINTS)
        read, held = order[:readings], order[readings:]
        said = known.truth[read] + random.normal(0.0, 0.05, readings)
        found: Fit = fit(
            part(known.sites, held), part(known.sites, read), said, known.placing[read], CAUSE_SD, TRUST
        )
        error = found.log_par - known.truth[held]
        errors.append(error)
        inside.append(np.abs(error) <= 1.645 * found.log_sd)
        if readings >= 12:
            kriged = OrdinaryKriging3D(*known.at_cm[read].T, said, variogram_model="exponential")
            krigings.append(kriged.execute("points", *known.at_cm[held].T)[0] - known.truth[held])
    rms = float(np.sqrt(np.mean(np.square(np.concatenate(errors)))))
    alone = float(np.sqrt(np.mean(np.square(np.concatenate(krigings))))) if krigings else float("nan")
    return Score(rms, alone, float(np.concatenate(inside).mean()))


@pytest.mark.parametrize("seed", [1, 2])
def test_twelve_readings_mend_lamps_told_wrongly_where_interpolation_cannot(seed: int) -> None:
    found = score(tank(seed), 12)
    assert found.rms <= 0.13
    assert found.kriging_rms > 1.5 * found.rms


@pytest.mark.parametrize("readings", [4, 12])
def test_the_ninety_per_cent_interval_covers_what_it_says(readings: int) -> None:
    covered = np.mean([score(tank(seed), readings).covered for seed in (1, 2)])
    assert 0.85 <= covered <= 0.97


def test_more_readings_leave_less_error() -> None:
    rms = [score(tank(1), readings).rms for readings in (2, 6, 24)]
    assert rms[0] > rms[1] > rms[2]
