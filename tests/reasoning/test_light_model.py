"""Light by lamps and sand alone: what a turned face gets, and how that moves with what is told."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.shadows import Occluder, shadows
from advisor.model.lighting import Walls, WallState, WaterLook
from advisor.model.tank import Glass, Lamp
from advisor.reasoning.light_age import AGELESS
from advisor.reasoning.light_model import LampLight
from advisor.reasoning.light_numbers import light_numbers
from advisor.reasoning.light_places import rock_bodies
from tests.reasoning.lit import GLASS, ROOF, lamp, lit, lit_library

POINTS = np.array([[25.0, 22.0, 20.0], [50.0, 22.0, 12.0], [70.0, 25.0, 24.0]])
UP, DOWN = np.array([[0.0, 0.0, 1.0]] * 3), np.array([[0.0, 0.0, -1.0]] * 3)


def model(*lamps: Lamp, sand: bool = True, roof: bool = False, glass: Glass = GLASS) -> LampLight:
    numbers = light_numbers(lit_library())
    assert numbers is not None
    bodies = rock_bodies(lit(rocks=(ROOF,)))
    shade = shadows([Occluder(name, body) for name, body in bodies.items()]) if roof else None
    return LampLight(glass, lamps or (lamp(),), shade, numbers, sand=sand, look=WaterLook.CLEAR, ages=AGELESS)


@pytest.mark.parametrize("roof", [False, True])
def test_a_level_face_gets_what_a_level_sensor_reads(roof: bool) -> None:
    of = model(roof=roof, sand=False)
    level, _ = of.sites(POINTS)
    face = of.on_faces(POINTS, UP)
    assert face.sites.log_par == pytest.approx(level.log_par, rel=1e-9)
    # shares of walls are of all light for faces, of that without what reaches a full shadow for sensors
    assert face.sites.effects == pytest.approx(level.effects, rel=0.02, abs=1e-9)


def test_over_sand_they_differ_only_as_far_as_sand_is_lit_unevenly() -> None:
    of = model()
    assert np.exp(of.on_faces(POINTS, UP).sites.log_par) == pytest.approx(
        np.exp(of.sites(POINTS)[0].log_par), rel=0.05
    )


def test_a_face_that_looks_down_lives_on_sand_alone() -> None:
    assert model().on_faces(POINTS, DOWN).sand == pytest.approx(np.ones(3))
    bare = model(sand=False).on_faces(POINTS, DOWN)
    assert np.exp(bare.sites.log_par) == pytest.approx(np.full(3, 0.5))  # nothing a meter could read
    assert bare.sand == pytest.approx(np.zeros(3))


def test_what_a_lamp_is_said_to_send_moves_every_face_by_its_share() -> None:
    left, right = lamp("left"), lamp("right", middle_cm=(70.0, 22.0))
    faces = model(left, right).on_faces(POINTS, DOWN)
    shares = faces.sites.effects[:, 1:3]
    assert shares.sum(axis=1) == pytest.approx(np.ones(3))
    twice = (
        model(left, right).with_lamps({"left": lamp("left", photons_umol_per_s=400.0)}).on_faces(POINTS, DOWN)
    )
    grown = np.exp(twice.sites.log_par - faces.sites.log_par)
    assert grown == pytest.approx(1.0 + shares[:, 0], rel=1e-6)


def test_a_shelf_darkens_the_sand_its_own_underside_sees() -> None:
    under = POINTS[2:]
    open_sand, shaded = (model(roof=roof).on_faces(under, DOWN[2:]) for roof in (False, True))
    assert shaded.sites.log_par[0] < open_sand.sites.log_par[0]


def test_without_a_body_its_shadow_is_gone() -> None:
    of = model(roof=True)
    below = np.array([70.0, 25.0, 20.0])
    assert of.without(below, "roof") > 2.0 * float(of.light(below[None, :]).par_umol[0])


ASIDE = lamp(beam_deg=120.0, photons_umol_per_s=5000.0, middle_cm=(55.0, 22.0))
AWAY = np.array([[75.0, 22.0, 15.0]]), np.array([[1.0, 0.0, 0.0]])


@pytest.mark.parametrize("sand", [False, True])
def test_a_wall_nobody_told_of_weighs_as_much_as_film_on_it_would_darken_a_face(sand: bool) -> None:
    # a face that looks away from the lamp has most of its light over the wall it looks to
    filmed = GLASS.model_copy(update={"walls": Walls(right=WallState.FILMED)})
    untold, dull = (model(ASIDE, sand=sand, glass=each).on_faces(*AWAY).sites for each in (GLASS, filmed))
    darker = float(untold.log_par[0] - dull.log_par[0])
    assert darker > 1.0
    # 95 % of what the wall throws is lost
    assert 0.95 * untold.effects[0, 4] == pytest.approx(darker, rel=0.1)


def test_a_wall_that_is_told_weighs_by_its_share() -> None:
    clean = GLASS.model_copy(update={"walls": Walls(right=WallState.CLEAN)})
    assert 0.0 < model(ASIDE, sand=False, glass=clean).on_faces(*AWAY).sites.effects[0, 4] <= 1.0
