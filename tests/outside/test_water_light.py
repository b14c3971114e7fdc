"""What water takes from light: the light model's numbers against published sea-water tables.

Kd tables: N. G. Jerlov, Marine Optics, Elsevier 1976, table XXVII, and the
quanta of Jerlov 1977, J. Cons. int. Explor. Mer 37:281, table 5, both as
shipped by the jerlov package. Clear tanks are held against types I to II.
"""

from __future__ import annotations

import jerlov
import numpy as np
import numpy.typing as npt
import pytest

from advisor.fields.emitters import panel
from advisor.fields.fitting import Sites, Trust, fit
from advisor.fields.lobes import cosine_lobe
from advisor.fields.mirrors import Walls
from advisor.fields.tank_light import Water, light_at
from advisor.knowledge.load import load_library, shipped_rules
from advisor.reasoning.light_numbers import LightNumbers, light_numbers

Floats = npt.NDArray[np.float64]
TANK_M = 0.6
"""As deep as most tanks; red light is gone below, so a mean over more would be smaller. [m]"""


@pytest.fixture(scope="module")
def numbers() -> LightNumbers:
    found = light_numbers(load_library(shipped_rules(), [])[0])
    assert found is not None
    return found


def kd_of(nm: Floats, photons: Floats, kind: str) -> float:
    """Photon-weighted attenuation over the first metres of a tank. [1/m]"""
    table = jerlov.water(kind, "jerlov1976")
    kd = np.array([table.kd(float(each)) for each in nm])  # type: ignore[no-untyped-call]  # untyped there
    return float(-np.log((photons * np.exp(-kd * TANK_M)).sum() / photons.sum()) / TANK_M)


def blue() -> tuple[Floats, Floats]:
    nm = np.arange(400.0, 701.0, 2.0)
    return nm, nm * np.exp(-(((nm - 450.0) / 8.493) ** 2) / 2.0)  # 20 nm wide at half height


def daylight() -> tuple[Floats, Floats]:
    told, power = jerlov.d65()
    nm = np.arange(400.0, 701.0)
    return nm, np.interp(nm, told, power) * nm


def test_the_weighting_is_that_of_the_published_examples() -> None:
    assert kd_of(*daylight(), "IB") == pytest.approx(0.166465, abs=0.002)
    assert kd_of(*daylight(), "II") == pytest.approx(0.191725, abs=0.002)
    assert kd_of(*blue(), "IB") == pytest.approx(0.036379, abs=0.002)


def test_white_light_is_lost_as_in_clear_sea_water(numbers: LightNumbers) -> None:
    assert kd_of(*daylight(), "I") <= numbers.white_kd_per_m <= kd_of(*daylight(), "II")
    quanta = {"I": 0.118, "IA": 0.130, "IB": 0.144, "II": 0.178, "III": 0.230}  # 0 to 2 m, table 5 of 1977
    assert quanta["I"] <= numbers.white_kd_per_m <= quanta["III"]


def test_blue_light_is_lost_between_the_clearest_sea_and_one_with_some_white_in_it(
    numbers: LightNumbers,
) -> None:
    assert kd_of(*blue(), "I") < numbers.blue_kd_per_m < numbers.white_kd_per_m
    nm, photons = blue()
    part = photons / photons.sum() * 0.8 + np.full(len(nm), 0.2 / len(nm))  # a fifth of it white
    assert numbers.blue_kd_per_m == pytest.approx(kd_of(nm, part, "IB"), rel=0.35)


def test_the_doubt_takes_in_yellowed_water(numbers: LightNumbers) -> None:
    assert kd_of(*daylight(), "III") <= numbers.white_kd_per_m + 1.65 * numbers.kd_doubt_per_m


# Coral sand: S. Maritorena, A. Morel and B. Gentili, Limnol. Oceanogr. 39 (1994) 1689, figure 6.
def test_sand_throws_back_what_was_measured(numbers: LightNumbers) -> None:
    assert 0.281 <= numbers.sand_share <= 0.417


# Sea water, Parrish 2020: 1.3455 at 450 nm and 1.3402 at 550 nm, 25 °C, salinity 35.
def test_water_bends_light_as_measured(numbers: LightNumbers) -> None:
    assert numbers.water_index == pytest.approx(1.3402, abs=0.006)


# Fresh water, the same equation, 20 °C and 540 nm: 1.33472 (manual of photobiologyFilters, water_n).
def test_sea_water_bends_light_more_than_fresh_water_and_less_than_for_violet(numbers: LightNumbers) -> None:
    assert 1.33472 < numbers.water_index < 1.34553


# Sheppard 1981: about 5 % of the light of the open reef reaches the ground near the stem of a table Acropora.
def test_a_colony_lets_about_as_much_through_as_a_table_on_a_reef(numbers: LightNumbers) -> None:
    assert 0.05 - 0.02 <= numbers.colony_share <= 2.0 * 0.05


def sunlike(depth_m: float, kd: float) -> float:
    """PAR share below a lamp so far off that its rays are parallel, by the model."""
    surface = 5000.0
    lamp = panel((5e4, 5e4, surface + 1e7), 0.0, 0.0, 1e13, cosine_lobe(120.0))
    water = Water(Walls(1e5, 1e5, 0.0, 0.0, 0.0, 0.0), surface, 1.34, kd)
    points = np.array([[5e4, 5e4, surface - 100.0 * depth] for depth in (1e-6, depth_m)])
    top, below = light_at(points, [lamp], water).par_umol
    return float(below / top)


def test_a_published_depth_profile_of_a_reef() -> None:
    # Davies Reef: Chalker et al. 1983, J Exp Mar Biol Ecol: 82.6 % at 1 m, 2.9 % at 45 m, Kd 0.076 per m;
    # Fabricius and Klumpp 1995, Mar Ecol Prog Ser 125:195: 16 % at 20 m, another year.
    kd = np.log(82.6 / 2.9) / 44.0
    assert kd == pytest.approx(0.076, abs=5e-4)
    assert 82.6 * sunlike(45.0, kd) / sunlike(1.0, kd) == pytest.approx(2.9, rel=1e-3)
    assert 82.6 * sunlike(20.0, kd) / sunlike(1.0, kd) == pytest.approx(16.0, rel=0.25)


# Gaussian conditioning by hand: precision addition, and correlation 0.6 between two sites.
def test_one_reading_at_a_site_and_at_another() -> None:
    here = Sites(np.zeros((1, 3)), np.zeros(1), np.array([[1.0, 0.0]]))
    there = Sites(np.ones((1, 3)), np.zeros(1), np.array([[0.6, 0.8]]))
    trust, sd = Trust(local=1e-9, local_length_cm=1.0, reading=0.10), np.array([0.30, 0.30])
    assert fit(here, here, np.zeros(1), np.zeros(1), sd, trust).log_sd == pytest.approx([0.0948683], rel=1e-4)
    assert fit(there, here, np.zeros(1), np.zeros(1), sd, trust).log_sd == pytest.approx([0.246658], rel=1e-4)
