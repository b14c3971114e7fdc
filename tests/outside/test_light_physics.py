"""The light model against published formulas, tables and reference libraries; each row names its source.

Rows of whole tanks are ray tracing (80 million rays, specular Fresnel walls,
Lambertian sand) by a program that shares no line with the model.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pytest
from scipy.spatial.distance import mahalanobis
from scipy.stats import invgamma, qmc
from sklearn.gaussian_process import GaussianProcessRegressor  # type: ignore[import-untyped]  # no types there
from sklearn.gaussian_process.kernels import ConstantKernel, Matern  # type: ignore[import-untyped]  # same

from advisor.fields.doses import dose_mol
from advisor.fields.emitters import Emitters, panel, tube
from advisor.fields.fitting import Sites, Trust, fit, matern_three_halves, widened
from advisor.fields.lobes import Lobe, cosine_lobe, cosine_power
from advisor.fields.mirrors import Walls
from advisor.fields.optics import reflectance, refracted_rad
from advisor.fields.rock_shapes import rock_body
from advisor.fields.sand_light import sand_by_source, sand_light
from advisor.fields.shadows import Occluder, shadows
from advisor.fields.surface_rays import rays
from advisor.fields.tank_light import Water, light_at
from advisor.model.lighting import RockShape

Floats = npt.NDArray[np.float64]
INDEX = 1.34
BLACK = Walls(1e5, 1e5, 0.0, 0.0, 0.0, 0.0)


# Snell and Fresnel, e.g. Born and Wolf, Principles of Optics; arithmetic of the formulas.
def test_snell() -> None:
    assert np.degrees(refracted_rad(np.radians([45.0]), INDEX)) == pytest.approx([31.8496], abs=0.01)
    assert np.degrees(np.arcsin(1.0 / INDEX)) == pytest.approx(48.2682, abs=0.01)


@pytest.mark.parametrize(
    ("incidence_deg", "share"), [(0.0, 0.0211118), (30.0, 0.0221985), (60.0, 0.0610049), (75.0, 0.214558)]
)
def test_fresnel_into_water(incidence_deg: float, share: float) -> None:
    assert reflectance(np.cos(np.radians([incidence_deg])), INDEX) == pytest.approx([share], abs=5e-4)


def test_at_brewsters_angle_only_one_polarisation_is_thrown_back() -> None:
    brewster_deg = 53.2672  # tan = n; there the other one is ((n² - 1) / (n² + 1))², of which half is left
    across = ((INDEX**2 - 1.0) / (INDEX**2 + 1.0)) ** 2
    found = reflectance(np.cos(np.radians([brewster_deg])), INDEX)
    assert found == pytest.approx([across / 2.0], rel=1e-5)  # the angle is rounded


def test_fresnel_at_a_wall_of_water_against_air() -> None:
    assert reflectance(np.cos(np.radians([45.0])), 1.0 / INDEX) == pytest.approx([0.152861], abs=2e-3)


def diffuse(ratio: float) -> float:
    cosine = (np.arange(200_000) + 0.5) / 200_000
    return float(2.0 * (cosine * reflectance(cosine, ratio)).mean())


def test_fresnel_over_all_directions_from_above_and_from_below() -> None:
    assert diffuse(INDEX) == pytest.approx(0.0675106, abs=1e-3)
    assert diffuse(1.0 / INDEX) == pytest.approx(0.480681, abs=2e-3)


def test_a_lamp_ray_as_steep_as_this_is_still_thrown_back_whole_by_clean_glass() -> None:
    limit_deg = 41.7318  # Snell, with the wall upright: 90 degrees less the critical angle
    along = np.sin(np.radians([limit_deg - 0.05, limit_deg + 0.05]))
    whole = reflectance(along, 1.0 / INDEX)
    assert whole[0] == 1.0
    assert whole[1] < 1.0
    assert np.degrees(np.arcsin(INDEX * np.sin(np.radians(limit_deg)))) == pytest.approx(63.1211, abs=0.05)


# I. Moreno and C.-C. Sun, Opt. Express 16 (2008) 1808: lobes as powers of a cosine.
@pytest.mark.parametrize(("beam_deg", "power"), [(120.0, 1.0), (90.0, 2.0), (60.0, 4.81884)])
def test_power_of_a_lobe(beam_deg: float, power: float) -> None:
    assert cosine_power(beam_deg) == pytest.approx(power, abs=1e-3)


def test_peak_of_a_lobe() -> None:
    assert 100.0 * cosine_lobe(90.0).at(np.array([1.0])) == pytest.approx([47.7465], rel=1e-4)


@dataclass(frozen=True)
class Under:
    """One point lamp over water: flux [µmol/s], power, heights [cm], attenuation [1/m], and what arrives."""

    flux: float
    power: float
    height_cm: float
    depth_cm: float
    apart_cm: float
    index: float
    kd_per_m: float
    umol: float


# Ray-tube formula; the first two agreed with 40 million traced rays to half a per cent.
UNDER = [
    Under(100.0, 1.0, 25.0, 50.0, 0.0, 1.339, 0.06, 77.8126),
    Under(100.0, 1.0, 25.0, 50.0, 30.0, 1.339, 0.06, 56.3875),
    Under(50.0, 2.6, 20.0, 30.0, 40.0, 1.34, 0.10, 27.5212),
]


@pytest.mark.parametrize("case", UNDER)
def test_below_one_lamp_over_water(case: Under) -> None:
    surface, middle = 60.0, 5e4
    lobe = Lobe(np.zeros(0), np.zeros(0), case.power)
    lamp = panel((middle, middle, surface + case.height_cm), 0.0, 0.0, case.flux, lobe)
    point = np.array([[middle + case.apart_cm, middle, surface - case.depth_cm]])
    found = light_at(point, [lamp], Water(BLACK, surface, case.index, case.kd_per_m))
    assert found.par_umol == pytest.approx([case.umol], rel=1e-4)


def test_a_straight_line_without_refraction_would_be_a_third_too_low() -> None:
    naive = 53.7624  # inverse square of height and depth together, same lamp
    assert naive / UNDER[0].umol == pytest.approx(0.69, abs=0.01)


def test_air_angle_of_the_bent_ray() -> None:
    found = rays(np.array([0.25]), np.array([0.5]), np.array([0.30]), 1.339)
    assert np.degrees(np.arccos(found.air_cos)) == pytest.approx([26.3902], abs=0.01)


# Beer-Lambert.
def test_half_a_metre_of_water() -> None:
    lamp = panel((5e4, 5e4, 1e7), 0.0, 0.0, 1e12, cosine_lobe(120.0))
    clear, murky = (
        light_at(np.array([[5e4, 5e4, 10.0]]), [lamp], Water(BLACK, 60.0, INDEX, kd)).par_umol[0]
        for kd in (0.0, 0.10)
    )
    assert murky / clear == pytest.approx(0.951229, rel=1e-5)


def test_two_readings_of_parallel_light_and_the_attenuation_they_make() -> None:
    """Beer-Lambert: 300 at 10 cm and 240 at 50 cm are 0.557859 per metre where light is parallel."""
    lamp = panel((5e4, 5e4, 1e7), 0.0, 0.0, 1e12, cosine_lobe(120.0))
    points = np.array([[5e4, 5e4, 60.0 - depth] for depth in (10.0, 50.0)])
    upper, lower = light_at(points, [lamp], Water(BLACK, 60.0, INDEX, 0.557859)).par_umol
    assert lower / upper == pytest.approx(240.0 / 300.0, rel=1e-4)


def test_under_a_lamp_as_near_most_of_what_two_depths_lose_is_spreading_not_water() -> None:
    lamp = panel((5e4, 5e4, 85.0), 30.0, 20.0, 350.0, cosine_lobe(90.0))
    points = np.array([[5e4, 5e4, 60.0 - depth] for depth in (10.0, 50.0)])
    upper, lower = light_at(points, [lamp], Water(BLACK, 60.0, INDEX, 0.06)).par_umol
    assert np.log(upper / lower) / 0.4 > 5.0 * 0.06


# View factor of a level disc from a level element, e.g. J. R. Howell, A Catalog of Radiation Heat Transfer
# Configuration Factors, B-13; checked by Monte Carlo to 0.0005. Here rays of the shadow are cast at the
# polygon of 24 corners that stands for a disc: 1.1 % of its area is missing, and 20 000 rays scatter.
@pytest.mark.parametrize(
    ("radius_cm", "above_cm", "offset_cm", "share"),
    [
        (10.0, 10.0, 0.0, 0.5),
        (10.0, 20.0, 0.0, 0.2),
        (15.0, 10.0, 5.0, 0.658114),
        (10.0, 10.0, 15.0, 0.126295),
    ],
)
def test_what_a_plate_keeps_off_an_even_sky(
    radius_cm: float, above_cm: float, offset_cm: float, share: float
) -> None:
    disc = rock_body(RockShape.PLATE, (offset_cm, 0.0), above_cm, (2 * radius_cm, 2 * radius_cm, 1e-3))
    cast = shadows([Occluder("disc", disc)])
    sampler = qmc.Sobol(2, seed=5).random_base2(15)
    sine, round_ = np.sqrt(sampler[:, 0]), 2.0 * np.pi * sampler[:, 1]  # as many by the cosine as arrive
    ways = np.column_stack([sine * np.cos(round_), sine * np.sin(round_), np.sqrt(1.0 - sine**2)])
    kept_off = 1.0 - cast(np.zeros((len(ways), 3)), ways).mean()
    assert kept_off == pytest.approx(share, abs=0.012)


# A bare tube is a Lambertian cylinder: I0/d (b + sin b cos b); endless, flux per metre over 2 pi d.
@pytest.mark.parametrize(("length_cm", "flux", "umol"), [(80.0, 60.0, 35.6472), (1e4, 7500.0, 39.7887)])
def test_under_a_tube_in_air(length_cm: float, flux: float, umol: float) -> None:
    lamp = tube((5e4, 5e4, 40.0), length_cm, flux)
    air = Water(BLACK, 39.0, 1.0, 0.0)
    assert light_at(np.array([[5e4, 5e4, 10.0]]), [lamp], air).par_umol == pytest.approx([umol], rel=2e-3)


def tank(walls: Walls) -> tuple[list[Emitters], Water]:
    lobe = cosine_lobe(90.0)
    lamps = [panel((x, 30.0, 75.0), 30.0, 20.0, 350.0, lobe) for x in (35.0, 85.0)]
    return lamps, Water(walls, 55.0, 1.339, 0.06)


def cell(x: float, y: float, depth: float) -> Floats:
    across = np.linspace(-2.25, 2.25, 10)
    grid = np.stack(np.meshgrid(x + across, y + across), axis=-1).reshape(-1, 2)
    return np.column_stack([grid, np.full(len(grid), 55.0 - depth)])


SIDES = {
    "black": Walls(120.0, 60.0, 0.0, 0.0, 0.0, 0.0),
    "clean": Walls(120.0, 60.0),
    "filmed": Walls(120.0, 60.0, back=0.05),
}
# Traced: two panels 30 x 20 cm, 350 µmol/s each, cos² lobe, 20 cm over 55 cm of water, 120 x 60 cm.
TRACED = [
    ("black", 62.5, 32.5, 20.0, 1073.2), ("black", 7.5, 32.5, 20.0, 474.4),
    ("black", 62.5, 32.5, 50.0, 659.8), ("black", 7.5, 32.5, 50.0, 349.2),
    ("clean", 7.5, 32.5, 20.0, 638.4), ("clean", 62.5, 7.5, 20.0, 844.8),
    ("clean", 62.5, 32.5, 50.0, 913.2), ("clean", 7.5, 32.5, 50.0, 754.7),
    ("filmed", 7.5, 32.5, 20.0, 655.6), ("filmed", 62.5, 32.5, 50.0, 775.7),
    ("filmed", 7.5, 32.5, 50.0, 636.1),
]  # fmt: skip


@pytest.mark.parametrize(("walls", "x", "y", "depth", "umol"), TRACED)
def test_a_whole_tank_against_traced_rays(walls: str, x: float, y: float, depth: float, umol: float) -> None:
    lamps, water = tank(SIDES[walls])
    found = light_at(cell(x, y, depth), lamps, water).par_umol.mean()
    if walls == "filmed":  # the only traced tank with sand, albedo 0.35
        floor = np.stack(np.meshgrid(np.linspace(3, 117, 13), np.linspace(3, 57, 7)), axis=-1).reshape(-1, 2)
        level = light_at(np.column_stack([floor, np.zeros(len(floor))]), lamps, water).par_umol.mean()
        found += sand_light(cell(x, y, depth), water, 0.35, float(level)).mean()
    assert found == pytest.approx(umol, rel=0.015)


# One µmol/m²/s for a day is 0.0864 mol/m²/d (Apogee Instruments, daily conversion); the rest is arithmetic.
@pytest.mark.parametrize(
    ("par", "programme", "mol"),
    [
        (200.0, ((0.0, 1.0), (12.0, 1.0)), 8.64),
        (1.0, ((0.0, 1.0), (24.0, 1.0)), 0.0864),
        (300.0, ((6.0, 0.0), (8.0, 1.0), (16.0, 1.0), (18.0, 0.0)), 10.8),
        (250.0, ((0.0, 0.4), (3.0, 0.4), (3.0, 1.0), (9.0, 1.0), (9.0, 0.24), (12.0, 0.24)), 7.128),
        (308.642, ((0.0, 1.0), (9.0, 1.0)), 10.0),
        (400.0, tuple((h, float(np.sin(np.pi * h / 12.0))) for h in np.linspace(0, 12, 121)), 11.0008),
    ],
)
def test_daily_light_integral(par: float, programme: tuple[tuple[float, float], ...], mol: float) -> None:
    assert dose_mol(par, [(hour, max(share, 0.0)) for hour, share in programme]) == pytest.approx(
        mol, rel=1e-4
    )


# scikit-learn's Gaussian process with the same fixed settings (also Rasmussen and Williams 2006, ch. 2).
def test_matern() -> None:
    assert matern_three_halves(np.array([20.0]), 20.0) == pytest.approx([0.483358], abs=1e-6)


ONLY_LOCAL = Trust(local=0.12, local_length_cm=20.0, reading=0.06)
NO_CAUSE = np.zeros(0)


def plain(at: list[tuple[float, float]]) -> Sites:
    xy = np.array(at, np.float64).reshape(-1, 2)
    return Sites(np.column_stack([xy, np.zeros(len(xy))]), np.zeros(len(xy)), np.zeros((len(xy), 0)))


def test_a_small_update_by_hand() -> None:
    read = plain([(0.0, 0.0), (20.0, 0.0), (20.0, 30.0)])
    found = fit(plain([(10.0, 10.0)]), read, np.array([0.10, -0.05, 0.02]), np.zeros(3), NO_CAUSE, ONLY_LOCAL)
    assert found.log_par == pytest.approx([0.0235539], abs=1e-6)
    assert found.log_sd == pytest.approx([0.0807287], abs=1e-6)


def test_the_update_is_that_of_a_reference_library() -> None:
    random = np.random.default_rng(2)
    at, asked = random.uniform(0, 100, (15, 2)), random.uniform(0, 100, (40, 2))
    said = random.normal(0.0, 0.15, 15)
    kernel = ConstantKernel(0.12**2, "fixed") * Matern(20.0, "fixed", nu=1.5)
    theirs = GaussianProcessRegressor(kernel, alpha=0.06**2, optimizer=None).fit(at, said)
    mean, sd = theirs.predict(asked, return_std=True)
    near, far = (plain([(float(x), float(y)) for x, y in each]) for each in (at, asked))
    ours = fit(far, near, said, np.zeros(15), NO_CAUSE, ONLY_LOCAL)
    assert ours.log_par == pytest.approx(mean, abs=1e-6)
    assert ours.log_sd == pytest.approx(sd, abs=1e-6)


# Lambert's cosine law on a tilted plane behind Snell's refraction: cosine of the ray to the face by its
# cosine to the vertical. The ray in water is that of test_air_angle_of_the_bent_ray.
@pytest.mark.parametrize(
    ("tilt_deg", "towards"), [(20.0, 1.0), (70.0, 1.0), (90.0, 1.0), (30.0, -1.0), (90.0, -1.0)]
)
def test_a_tilted_face_under_one_lamp(tilt_deg: float, towards: float) -> None:
    surface, middle = 60.0, 5e4
    lamp = panel((middle, middle, surface + 25.0), 0.0, 0.0, 100.0, cosine_lobe(120.0))
    point = np.array([[middle + 30.0, middle, surface - 50.0]])
    water = Water(BLACK, surface, 1.339, 0.06)
    in_water = np.arcsin(np.sin(np.radians(26.3902)) / 1.339)
    tilt = np.radians(tilt_deg)
    facing = np.array([[-towards * np.sin(tilt), 0.0, np.cos(tilt)]])  # the lamp is to the left
    expected = max(np.cos(tilt - towards * in_water), 0.0) / np.cos(in_water)
    level = light_at(point, [lamp], water).par_umol
    assert light_at(point, [lamp], water, facing).par_umol / level == pytest.approx([expected], abs=1e-4)


# A far lamp: parallel light 40 degrees off the vertical in air is 28.66 degrees off it in the water (Snell).
def test_a_wall_in_slanting_parallel_light() -> None:
    surface, far = 60.0, 1e6
    across = far * np.tan(np.radians(40.0))
    lamp = panel((5e7 - across, 5e7, surface + far), 0.0, 0.0, 1e14, cosine_lobe(120.0))
    point, water = np.array([[5e7, 5e7, 30.0]]), Water(Walls(1e8, 1e8, *[0.0] * 4), surface, INDEX, 0.0)
    level = light_at(point, [lamp], water).par_umol
    wall = light_at(point, [lamp], water, np.array([[-1.0, 0.0, 0.0]])).par_umol
    assert wall / level == pytest.approx([np.tan(np.arcsin(np.sin(np.radians(40.0)) / INDEX))], rel=1e-3)


# View factors of radiant heat transfer, from memory after Howell, Menguc, Daun and Siegel, Thermal Radiation
# Heat Transfer, 7th ed., appendix C: a small plane element parallel to a rectangle, its normal through a
# corner (B-3 of the catalog), and one at right angles to it with the rectangle beginning at its foot (B-4).
# Within 2 %: dark walls cut the light off at a line, and lines of sight lie 7.5 degrees apart.
def parallel_corner(a: float, b: float, c: float) -> float:
    """From an element c above the corner of a rectangle a by b, both level. [1]"""
    x, y = a / c, b / c
    one, two = np.sqrt(1.0 + x * x), np.sqrt(1.0 + y * y)
    return float((x / one * np.arctan(y / one) + y / two * np.arctan(x / two)) / (2.0 * np.pi))


def upright_corner(ahead: float, along: float, up: float) -> float:
    """From an upright element, `up` above the corner of a level rectangle that lies ahead of it. [1]"""
    x, y = ahead / along, up / along
    root = np.sqrt(x * x + y * y)
    return float((np.arctan(1.0 / y) - y / root * np.arctan(1.0 / root)) / (2.0 * np.pi))


@pytest.mark.parametrize("height", [5.0, 15.0, 30.0])
def test_an_underside_over_a_pale_floor_between_dark_walls(height: float) -> None:
    point, down = np.array([[60.0, 30.0, height]]), np.array([[0.0, 0.0, -1.0]])
    water = Water(Walls(120.0, 60.0, *[0.0] * 4), 50.0, INDEX, 0.0)
    expected = 4.0 * parallel_corner(60.0, 30.0, height) * 0.35 * 200.0
    assert sand_light(point, water, 0.35, 200.0, down) == pytest.approx([expected], rel=0.02)


@pytest.mark.parametrize("height", [5.0, 15.0, 30.0])
def test_a_wall_over_a_pale_floor_with_no_surface_in_sight(height: float) -> None:
    point, right = np.array([[60.0, 30.0, height]]), np.array([[1.0, 0.0, 0.0]])
    deep = Water(Walls(120.0, 60.0, *[0.0] * 4), 1e6, INDEX, 0.0)
    expected = 2.0 * upright_corner(60.0, 30.0, height) * 0.35 * 200.0
    assert sand_light(point, deep, 0.35, 200.0, right) == pytest.approx([expected], rel=0.02)


def test_an_underside_over_a_floor_lit_on_one_half() -> None:
    point, down = np.array([[60.0, 30.0, 15.0]]), np.array([[0.0, 0.0, -1.0]])
    water = Water(Walls(120.0, 60.0, *[0.0] * 4), 50.0, INDEX, 0.0)
    lit_left = np.vstack([np.full((15, 15), 200.0), np.zeros((15, 15))])
    expected = 2.0 * parallel_corner(60.0, 30.0, 15.0) * 0.35 * 200.0
    found = sand_by_source(point, water, 0.35, np.stack([lit_left, 2.0 * lit_left[::-1]]), down)
    assert found[:, 0] == pytest.approx([expected, 2.0 * expected], rel=0.02)


def test_an_underside_with_a_shade_sees_the_floor_beyond_it_only() -> None:
    point, down = np.array([[60.0, 30.0, 15.0]]), np.array([[0.0, 0.0, -1.0]])
    water = Water(Walls(120.0, 60.0, *[0.0] * 4), 50.0, INDEX, 0.0)

    def to_the_left(_: Floats, ways: Floats) -> Floats:
        """A screen that hides all that is to the right."""
        return np.where(ways[:, 0] < 0.0, 1.0, 0.0)

    whole = sand_light(point, water, 0.35, 200.0, down)
    assert sand_light(point, water, 0.35, 200.0, down, to_the_left) == pytest.approx(0.5 * whole)


# Kriging without a mean of the data x = 0, 0.3, 1 and y = 1, 2, 0.5 with the covariance exp(-h / 0.4): mean
# and deviation at 0.5 by scikit-learn 1.9; leaving out by refits, with a noise variance of 0.01. The update
# has a Matern covariance of its own, so the exponential one is told as causes: their effects are its root.
SAID = np.array([1.0, 2.0, 0.5])


def exponential(at: list[float]) -> Floats:
    x = np.array(at)
    return np.asarray(np.linalg.cholesky(np.exp(-np.abs(x[:, None] - x[None, :]) / 0.4)), np.float64)


def by_causes(effects: Floats) -> Sites:
    rows = len(effects)
    return Sites(np.arange(3.0 * rows).reshape(rows, 3) * 1e6, np.zeros(rows), effects)


def test_simple_kriging_with_another_covariance() -> None:
    root = exponential([0.0, 0.3, 1.0, 0.5])
    trust = Trust(local=1e-6, local_length_cm=1.0, reading=1e-6)
    found = fit(by_causes(root[3:]), by_causes(root[:3]), SAID, np.zeros(3), np.ones(4), trust)
    assert found.log_par == pytest.approx([1.24153], abs=1e-5)
    assert found.log_sd == pytest.approx([0.773499], abs=1e-5)


def test_leaving_a_reading_out_without_a_refit() -> None:
    root = exponential([0.0, 0.3, 1.0])
    trust = Trust(local=1e-9, local_length_cm=1.0, reading=0.1)
    found = fit(by_causes(root), by_causes(root), SAID, np.zeros(3), np.ones(3), trust)
    assert found.left_out == pytest.approx([0.0644914, 1.47581, 0.155827], abs=5e-6)
    for row in range(3):  # and it is what a refit without that reading says
        rest = [at for at in range(3) if at != row]
        refit = fit(by_causes(root[[row]]), by_causes(root[rest]), SAID[rest], np.zeros(2), np.ones(3), trust)
        assert found.left_out[row] == pytest.approx(SAID[row] - refit.log_par[0], abs=1e-6)
        assert found.left_out_sd[row] == pytest.approx(np.hypot(refit.log_sd[0], 0.1), abs=1e-6)


def test_how_surprising_readings_are_is_their_distance_by_the_covariance() -> None:
    """Mahalanobis distance, by scipy, squared."""
    covariance = exponential([0.0, 0.3, 1.0]) @ exponential([0.0, 0.3, 1.0]).T + 0.01 * np.eye(3)
    root = exponential([0.0, 0.3, 1.0])
    trust = Trust(local=1e-9, local_length_cm=1.0, reading=0.1)
    found = fit(by_causes(root), by_causes(root), SAID, np.zeros(3), np.ones(3), trust)
    far = mahalanobis(SAID, np.zeros(3), np.linalg.inv(covariance))
    assert found.surprise == pytest.approx(far**2, rel=1e-6)


# A. Shah, A. G. Wilson and Z. Ghahramani, AISTATS 2014: with doubts that may be wrong alike, a field after
# its readings is a Student t whose covariance is theirs times (nu + surprise - 2) / (nu + readings - 2). That
# factor is the mean of a variance after conjugate updating, an inverse gamma (e.g. A. Gelman et al., Bayesian
# Data Analysis, 3rd ed., 2.6), which scipy gives.
@pytest.mark.parametrize(("surprise", "readings", "trust"), [(60.0, 4, 5.0), (30.0, 12, 5.0), (9.0, 1, 8.0)])
def test_errors_grow_as_the_posterior_of_their_variance(surprise: float, readings: int, trust: float) -> None:
    shape, scale = (trust + readings) / 2.0, (trust - 2.0 + surprise) / 2.0
    variance = float(invgamma(shape, scale=scale).mean())
    assert widened(surprise, readings, trust) == pytest.approx(np.sqrt(variance), rel=1e-9)
