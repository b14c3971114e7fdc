"""What water takes from light: the light model's numbers against published sea-water tables.

Kd tables: N. G. Jerlov, Marine Optics, Elsevier 1976, table XXVII, and the
quanta of Jerlov 1977, J. Cons. int. Explor. Mer 37:281, table 5, both as
shipped by the jerlov package. Clear tanks are held against types I to II.
"""

from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.emitters import panel
from advisor.fields.fitting import Sites, Trust, fit
from advisor.fields.lobes import cosine_lobe
from advisor.fields.mirrors import Walls
from advisor.fields.spectra import Spectrum, daylight, kd_of, spectrum_of, umol_per_joule
from advisor.fields.tank_light import Water, light_at
from advisor.knowledge.load import load_library, shipped_rules
from advisor.reasoning.light_numbers import LightNumbers, light_numbers

TANK_M = 0.6
"""As deep as most tanks; red light is gone below, so a mean over more would be smaller. [m]"""


@pytest.fixture(scope="module")
def numbers() -> LightNumbers:
    found = light_numbers(load_library(shipped_rules(), [])[0])
    assert found is not None
    return found


def faded(light: Spectrum, kind: str) -> float:
    """Attenuation of PAR over the first 60 cm. [1/m]"""
    return float(-np.log(light.fading_in(kd_of(kind)).left(np.array([TANK_M]))[0]) / TANK_M)


def narrow(middle_nm: float, width_nm: float, white: float = 0.0) -> Spectrum:
    """A peak of some width at half height, with so much of the energy spread over PAR."""
    nm = np.arange(360.0, 831.0)
    power = np.exp(-4.0 * np.log(2.0) * ((nm - middle_nm) / width_nm) ** 2)
    flat = ((nm >= 400.0) & (nm <= 700.0)) * 1.0
    mixed = (1.0 - white) * power / power.sum() + white * flat / flat.sum()
    return spectrum_of([*zip(nm.tolist(), mixed.tolist(), strict=True)])


def incandescent() -> Spectrum:
    """CIE standard illuminant A by its defining equation, Planck's law at 2848 K (ISO/CIE 11664-2)."""
    nm = np.arange(360.0, 831.0)
    power = (560.0 / nm) ** 5 / np.expm1(1.435e7 / (2848.0 * nm))
    return spectrum_of([*zip(nm.tolist(), power.tolist(), strict=True)])


def test_attenuation_is_that_of_the_published_table() -> None:
    at = {nm: nm - 360 for nm in (450, 650)}
    assert kd_of("I")[at[450]] == pytest.approx(0.019, abs=0.001)
    assert kd_of("IB")[at[450]] == pytest.approx(0.036, abs=0.001)
    assert kd_of("II")[at[450]] == pytest.approx(0.068, abs=0.001)
    assert kd_of("IB")[at[650]] == pytest.approx(0.375, abs=0.001)


# Photon-weighted Beer-Lambert over 0.6 m, computed with jerlov 0.22.0.
def test_light_of_some_colours_fades_as_in_the_worked_examples() -> None:
    assert faded(daylight(), "IB") == pytest.approx(0.166465, abs=0.002)
    assert faded(daylight(), "II") == pytest.approx(0.191725, abs=0.002)
    assert faded(narrow(450.0, 20.0), "IB") == pytest.approx(0.036379, abs=0.002)


# E = h c / wavelength with the constants of CODATA, computed with scipy 1.17.1.
@pytest.mark.parametrize(("nm", "umol"), [(400, 3.34374), (450, 3.76171), (550, 4.59764), (700, 5.85154)])
def test_a_joule_has_as_many_photons_as_its_colour_gives(nm: int, umol: float) -> None:
    assert float(umol_per_joule(np.array(float(nm)))) == pytest.approx(umol, rel=5e-4)


# Lux of 1 µmol/m²/s, computed with colour-science 0.4.7 from CIE spectra, the CIE 1931 observer and 683 lm/W.
@pytest.mark.parametrize(
    ("light", "lux", "within"),
    [
        (daylight(), 55.4979, 0.005),
        (incandescent(), 50.2566, 0.005),
        (narrow(450.0, 20.0), 7.34743, 0.02),
        (narrow(420.0, 15.0), 0.974312, 0.02),
    ],
    ids=["D65", "A", "450 nm", "420 nm"],
)
def test_lux_belong_to_par_as_published(light: Spectrum, lux: float, within: float) -> None:
    assert light.lux_per_umol() == pytest.approx(lux, rel=within)


# Apogee Instruments, Conversion - PPFD to Lux: 54 lux a µmol/m²/s in sunlight.
def test_daylight_is_near_the_factor_of_a_maker_for_the_sun() -> None:
    assert daylight().lux_per_umol() == pytest.approx(54.0, rel=0.03)


def test_white_light_is_lost_as_in_clear_sea_water(numbers: LightNumbers) -> None:
    assert faded(daylight(), "I") <= numbers.white_kd_per_m <= faded(daylight(), "II")
    quanta = {"I": 0.118, "IA": 0.130, "IB": 0.144, "II": 0.178, "III": 0.230}  # 0 to 2 m, table 5 of 1977
    assert quanta["I"] <= numbers.white_kd_per_m <= quanta["III"]


def test_blue_light_is_lost_between_the_clearest_sea_and_one_with_some_white_in_it(
    numbers: LightNumbers,
) -> None:
    assert faded(narrow(450.0, 20.0), "I") < numbers.blue_kd_per_m < numbers.white_kd_per_m
    assert numbers.blue_kd_per_m == pytest.approx(faded(narrow(450.0, 20.0, white=0.2), "IB"), rel=0.35)


@pytest.mark.parametrize(("look", "kind"), [("yellowed", "1C"), ("cloudy", "3C")])
def test_dull_water_takes_light_as_coastal_water_does(look: str, kind: str, numbers: LightNumbers) -> None:
    blue, white = (getattr(numbers, f"{look}_{colour}_kd_per_m") for colour in ("blue", "white"))
    assert blue == pytest.approx(faded(narrow(450.0, 20.0), kind), rel=0.05)
    assert white == pytest.approx(faded(daylight(), kind), rel=0.05)


def test_the_doubt_takes_in_yellowed_water(numbers: LightNumbers) -> None:
    assert faded(daylight(), "III") <= numbers.white_kd_per_m + 1.65 * numbers.kd_doubt_per_m


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
