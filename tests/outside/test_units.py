"""Our small unit table against pint's registry, which carries the published definitions.

Source: pint 0.2x, ``default_en.txt`` (factors after NIST SP 811, 2008, appendix B:
1 in = 2.54 cm exactly, 1 US gallon = 231 cubic inches, 1 °F = 5/9 K with the
zero at 459.67 °R; Julian year 365.25 d after IAU 1976). Tolerance 1e-9 relative:
both sides work in double precision on the same exact definitions.
"""

from __future__ import annotations

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.errors import QuantityError
from advisor.units import BASE_UNIT, UNITS, Dimension, Unit, convert, unit_named

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)

# How each of our units is called in pint; a year there is 365.25 days, a month a twelfth of it.
PINT_NAME = {
    "cm": "centimeter",
    "mm": "millimeter",
    "m": "meter",
    "in": "inch",
    "ft": "foot",
    "PAR": "micromole / meter**2 / second",
    "mol/m2/d": "mole / meter**2 / day",
    "cm/s": "centimeter / second",
    "mm/s": "millimeter / second",
    "m/s": "meter / second",
    "in/s": "inch / second",
    "°C": "degC",
    "°F": "degF",
    "K": "kelvin",
    "L": "liter",
    "ml": "milliliter",
    "gal": "gallon",
    "L/h": "liter / hour",
    "gph": "gallon / hour",
    "days": "day",
    "hours": "hour",
    "minutes": "minute",
    "seconds": "second",
    "weeks": "week",
    "months": "month",
    "years": "julian_year",
    "mm/month": "millimeter / month",
    "cm/month": "centimeter / month",
    "mm/year": "millimeter / julian_year",
    "cm/year": "centimeter / julian_year",
    "degrees": "degree",
    "umol/s": "micromole / second",
    "W": "watt",
    "mg/L": "milligram / liter",
}
# Units pint does not define; each has another witness below or stands alone in its dimension.
ALONE = {"ppt", "SG", "dKH", "meq/L", "%", "times"}

PAIRS = [(a, b) for a in PINT_NAME for b in PINT_NAME if unit_named(a).dimension is unit_named(b).dimension]


def test_every_unit_of_the_table_has_a_witness() -> None:
    assert {unit.name for unit in UNITS.values()} == set(PINT_NAME) | ALONE


@pytest.mark.parametrize(("given_name", "wanted_name"), PAIRS, ids=lambda name: str(name))
@settings(max_examples=10, deadline=None)  # the conversion is linear: few points say it all
@given(value=st.floats(min_value=-40.0, max_value=1e5, allow_nan=False))
def test_conversion_agrees_with_pint(given_name: str, wanted_name: str, value: float) -> None:
    ours = convert(value, unit_named(given_name), unit_named(wanted_name))
    theirs = REGISTRY.Quantity(value, PINT_NAME[given_name]).to(PINT_NAME[wanted_name]).magnitude
    assert ours == pytest.approx(theirs, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("unit", sorted({u.name for u in UNITS.values()} & set(PINT_NAME)))
def test_dimension_agrees_with_pint(unit: str) -> None:
    base = BASE_UNIT[unit_named(unit).dimension].name
    assert REGISTRY.Quantity(1.0, PINT_NAME[unit]).is_compatible_with(PINT_NAME[base])


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("cm", "days"),
        ("L", "L/h"),
        ("cm", "L"),
        ("days", "mm/month"),
    ],
)
def test_what_pint_will_not_compare_neither_do_we(one: str, other: str) -> None:
    assert not REGISTRY.Quantity(1.0, PINT_NAME[one]).is_compatible_with(PINT_NAME[other])
    with pytest.raises(QuantityError, match=" is "):
        convert(1.0, unit_named(one), unit_named(other))


def test_a_flux_and_a_day_s_dose_stay_apart_though_pint_would_mix_them() -> None:
    """Deliberate: a plateau flux is not the mean over 24 h that a dose would turn into."""
    assert REGISTRY.Quantity(1.0, PINT_NAME["PAR"]).is_compatible_with(PINT_NAME["mol/m2/d"])
    with pytest.raises(QuantityError, match="daily light"):
        convert(1.0, unit_named("PAR"), unit_named("mol/m2/d"))


def test_alkalinity_factor_against_the_definition_of_a_german_degree() -> None:
    """1 °dH = 10 mg/L CaO (DIN 38409-6); equivalent weight of CaO = 56.077 / 2 g/eq (IUPAC 2021)."""
    degrees_per_meq = 56.077 / 2.0 / 10.0
    # The trade rounds to 2.8; a quarter of a percent is far below any test kit's 0.5 dKH.
    assert convert(1.0, unit_named("meq/L"), unit_named("dKH")) == pytest.approx(degrees_per_meq, rel=2.5e-3)


def test_a_temperature_step_has_no_zero_point() -> None:
    assert unit_named("K").dimension is Dimension.TEMPERATURE_STEP
    assert unit_named("°F") == Unit("°F", Dimension.TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0)
    # Steam point and ice point of water at one atmosphere, as printed on every thermometer.
    assert convert(212.0, unit_named("°F"), unit_named("°C")) == pytest.approx(100.0)
    assert convert(32.0, unit_named("°F"), unit_named("°C")) == pytest.approx(0.0, abs=1e-9)


def test_a_daily_dose_is_par_times_hours() -> None:
    """100 µmol m⁻² s⁻¹ held for 10 h make 3.6 mol m⁻² (definition of the daily light integral)."""
    dose = REGISTRY.Quantity(100.0, PINT_NAME["PAR"]) * REGISTRY.Quantity(10.0, "hour")
    assert dose.to("mole / meter**2").magnitude == pytest.approx(3.6)


def test_specific_gravity_is_the_salinity_of_the_equation_of_state() -> None:
    """Density of sea water of 35 over that of fresh water, both at 25 °C and no pressure.

    Fofonoff and Millard 1983, UNESCO Technical Papers in Marine Science 44, check values of the
    1980 equation of state, from memory: 1023.343 and 997.048 kg/m³. Tolerance 0.1 ppt, a tenth of
    what a hobby refractometer tells apart.
    """
    gravity = 1023.343 / 997.048
    assert unit_named("SG").factor * gravity + unit_named("SG").offset == pytest.approx(35.0, abs=0.1)


def test_a_gallon_is_231_cubic_inches() -> None:
    """By definition, 1 US gallon = 231 in³ = 3.785411784 L (NIST SP 811, appendix B)."""
    cubic_inch_l = convert(1.0, unit_named("in"), unit_named("cm")) ** 3 / 1000.0
    assert convert(1.0, unit_named("gal"), unit_named("L")) == pytest.approx(231.0 * cubic_inch_l, rel=1e-12)
    assert convert(1.0, unit_named("gal"), unit_named("L")) == pytest.approx(3.78541, rel=1e-6)


def test_a_pump_of_5000_litres_an_hour() -> None:
    """5000 L/h are 0.00138889 m³/s, and turn 300 L over 16.6667 times an hour: arithmetic of the litre."""
    flow = convert(5000.0, unit_named("L/h"), unit_named("gph"))
    second = flow * convert(1.0, unit_named("gal"), unit_named("L")) / 1000.0 / 3600.0
    assert second == pytest.approx(0.00138889, rel=1e-5)
