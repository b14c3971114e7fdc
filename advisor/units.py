"""Units of a reef tank: a small closed table, conversions, and text to quantity.

Factors are exact by definition where the unit is (inch, US gallon, minute);
one month is a twelfth of a Julian year. Checked against a reference library in
``tests/outside/test_units.py``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from advisor.errors import QuantityError


class Dimension(StrEnum):
    """What kind of thing a number measures; only like dimensions compare."""

    LENGTH = "length"
    LIGHT = "light"
    DOSE = "daily light"
    SPEED = "speed"
    TEMPERATURE = "temperature"
    TEMPERATURE_STEP = "temperature difference"
    VOLUME = "volume"
    VOLUME_FLOW = "volume flow"
    TIME = "time"
    GROWTH = "growth rate"
    SALINITY = "salinity"
    ALKALINITY = "alkalinity"
    CONCENTRATION = "concentration"
    ANGLE = "angle"
    PERCENT = "percent"
    PHOTONS = "photon flux"
    POWER = "power"
    COUNT = "count"
    RATIO = "ratio"
    RANK = "rank"


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: ``base = value * factor + offset`` in the base unit of its dimension."""

    name: str
    dimension: Dimension
    factor: float = 1.0
    offset: float = 0.0


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit, as it was written."""

    value: float
    unit: Unit

    @property
    def base(self) -> float:
        """The value in the base unit of its dimension."""
        return self.value * self.unit.factor + self.unit.offset


DAYS_PER_MONTH = 365.25 / 12.0
_LITRES_PER_GALLON = 3.785411784
_PPT_PER_GRAVITY = 35.0 / 0.0264
"""Salinity for each 1 of specific gravity above 1; the trade's chart at 25 °C: 1.0264 SG is 35 ppt. [ppt]"""

_D = Dimension
_TABLE: tuple[tuple[Unit, tuple[str, ...]], ...] = (
    (Unit("cm", _D.LENGTH), ("centimetre", "centimetres", "centimeter", "centimeters")),
    (Unit("mm", _D.LENGTH, 0.1), ("millimetre", "millimetres", "millimeter", "millimeters")),
    (Unit("m", _D.LENGTH, 100.0), ("metre", "metres", "meter", "meters")),
    (Unit("in", _D.LENGTH, 2.54), ("inch", "inches", '"')),
    (Unit("ft", _D.LENGTH, 30.48), ("foot", "feet")),
    (
        Unit("PAR", _D.LIGHT),
        (
            "par",
            "ppfd",
            "PPFD",
            "umol/m2/s",
            "umol/m²/s",
            "umol m-2 s-1",
            "µmol/m2/s",
            "µmol/m²/s",
            "µmol m-2 s-1",
            "µmol m⁻² s⁻¹",
            "umol m⁻² s⁻¹",
            "µmol",
            "umol",
        ),
    ),
    (Unit("mol/m2/d", _D.DOSE), ("mol/m²/d", "mol/m2/day", "mol m-2 d-1", "mol m⁻² d⁻¹")),
    (Unit("cm/s", _D.SPEED), ("cm/sec", "cm s-1", "cm s⁻¹")),
    (Unit("mm/s", _D.SPEED, 0.1), ()),
    (Unit("m/s", _D.SPEED, 100.0), ("m s-1", "m s⁻¹")),
    (Unit("in/s", _D.SPEED, 2.54), ()),
    (Unit("°C", _D.TEMPERATURE), ("C", "degC", "ºC", "celsius")),
    (Unit("°F", _D.TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0), ("F", "degF", "ºF", "fahrenheit")),
    (Unit("K", _D.TEMPERATURE_STEP), ("kelvin",)),
    (Unit("L", _D.VOLUME), ("l", "litre", "litres", "liter", "liters")),
    (Unit("ml", _D.VOLUME, 0.001), ("mL",)),
    (Unit("gal", _D.VOLUME, _LITRES_PER_GALLON), ("gallon", "gallons")),
    (Unit("L/h", _D.VOLUME_FLOW), ("l/h", "lph", "L/hr")),
    (Unit("gph", _D.VOLUME_FLOW, _LITRES_PER_GALLON), ("gal/h", "gal/hr")),
    (Unit("days", _D.TIME), ("day", "d")),
    (Unit("hours", _D.TIME, 1.0 / 24.0), ("hour", "h", "hr", "hrs")),
    (Unit("minutes", _D.TIME, 1.0 / 1440.0), ("minute", "min", "mins")),
    (Unit("seconds", _D.TIME, 1.0 / 86400.0), ("second", "s", "sec")),
    (Unit("weeks", _D.TIME, 7.0), ("week", "wk", "wks")),
    (Unit("months", _D.TIME, DAYS_PER_MONTH), ("month", "mo")),
    (Unit("years", _D.TIME, 365.25), ("year", "yr", "yrs")),
    (Unit("mm/month", _D.GROWTH), ("mm/mo",)),
    (Unit("cm/month", _D.GROWTH, 10.0), ()),
    (Unit("mm/year", _D.GROWTH, 1.0 / 12.0), ("mm/yr",)),
    (Unit("cm/year", _D.GROWTH, 10.0 / 12.0), ("cm/yr",)),
    (Unit("ppt", _D.SALINITY), ("psu", "g/kg", "‰")),
    (Unit("SG", _D.SALINITY, _PPT_PER_GRAVITY, -_PPT_PER_GRAVITY), ("sg", "s.g.", "specific gravity")),
    (Unit("dKH", _D.ALKALINITY), ("dkh", "°dKH", "KH")),
    (Unit("meq/L", _D.ALKALINITY, 2.8), ("meq/l", "meq")),
    (Unit("mg/L", _D.CONCENTRATION), ("mg/l", "ppm")),
    (Unit("degrees", _D.ANGLE), ("degree", "deg", "°")),
    (Unit("%", _D.PERCENT), ("percent",)),
    (Unit("umol/s", _D.PHOTONS), ("µmol/s", "umol s-1", "µmol s-1", "µmol s⁻¹")),
    (Unit("W", _D.POWER), ("watt", "watts")),
    (Unit("times", _D.RATIO), ("x", "×")),
)
PLAIN = Unit("", Dimension.COUNT)
"""The unit of a bare number; fits a count, a ratio or a rank."""

UNITS: dict[str, Unit] = {}
for _unit, _aliases in _TABLE:
    for _name in (_unit.name, *_aliases):
        UNITS[_name] = _unit

BASE_UNIT: dict[Dimension, Unit] = {}
for _unit, _aliases in _TABLE:
    BASE_UNIT.setdefault(_unit.dimension, _unit)
BASE_UNIT[Dimension.COUNT] = PLAIN
BASE_UNIT[Dimension.RANK] = Unit("", Dimension.RANK)
BASE_UNIT[Dimension.RATIO] = UNITS["times"]

DEFAULT_STEP: dict[Dimension, float] = {
    _D.LENGTH: 1.0,
    _D.LIGHT: 5.0,
    _D.DOSE: 0.5,
    _D.SPEED: 1.0,
    _D.TEMPERATURE: 0.5,
    _D.TEMPERATURE_STEP: 0.5,
    _D.VOLUME: 10.0,
    _D.VOLUME_FLOW: 100.0,
    _D.TIME: 1.0,
    _D.GROWTH: 0.5,
    _D.SALINITY: 0.5,
    _D.ALKALINITY: 0.5,
    _D.CONCENTRATION: 1.0,
    _D.ANGLE: 5.0,
    _D.PERCENT: 5.0,
    _D.PHOTONS: 10.0,
    _D.POWER: 5.0,
    _D.COUNT: 1.0,
    _D.RATIO: 0.1,
    _D.RANK: 1.0,
}
"""Smallest meaningful step of a dimension where no measure declares its own. [base unit]"""

DIMENSIONLESS = frozenset({Dimension.COUNT, Dimension.RATIO, Dimension.RANK})


def unit_named(name: str) -> Unit:
    """Return the unit called `name` (any spelling in the table).

    Raises
    ------
    QuantityError
        If no unit has that name.
    """
    found = UNITS.get(name) or UNITS.get(name.replace("μ", "µ"))
    if found is None:
        raise QuantityError(f"I do not know the unit '{name}'")
    return found


def to_base(value: float, unit: Unit) -> float:
    """Return `value` given in `unit` as a number in the base unit of its dimension."""
    return value * unit.factor + unit.offset


def from_base(value: float, unit: Unit) -> float:
    """Return a base-unit `value` as a number in `unit`."""
    return (value - unit.offset) / unit.factor


def convert(value: float, given: Unit, wanted: Unit) -> float:
    """Return `value` given in `given` as a number in `wanted`.

    Raises
    ------
    QuantityError
        If the two units measure different things.
    """
    if given.dimension is not wanted.dimension:
        raise QuantityError(
            f"{given.name or 'a plain number'} is {given.dimension.value}, "
            f"{wanted.name or 'a plain number'} is {wanted.dimension.value}"
        )
    return from_base(to_base(value, given), wanted)


_QUANTITY = re.compile(r"^\s*([+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*(.*?)\s*$")


def parse_quantity(text: str, bare: Unit = PLAIN) -> Quantity:
    """Read one quantity such as ``48 in`` or ``150 PAR``; a bare number takes the unit `bare`.

    Raises
    ------
    QuantityError
        If the text is not a number with a known unit, or the number is not finite.
    """
    cleaned = text.replace("−", "-").replace("\u00a0", " ").replace("μ", "µ")
    match = _QUANTITY.match(cleaned)
    comma = re.match(r"^\s*[+-]?\d+,\d", cleaned)
    if match is None or comma:
        hint = "; write a decimal point, not a comma" if comma else ""
        raise QuantityError(f"'{text}' is not a number with a unit{hint}")
    value = float(match.group(1))
    if not math.isfinite(value):
        raise QuantityError(f"'{text}' is not a finite number")
    rest = match.group(2)
    return Quantity(value, unit_named(rest) if rest else bare)


def format_number(value: float, digits: int = 3) -> str:
    """Return `value` with at most `digits` significant digits and no exponent."""
    if not math.isfinite(value):
        return "unbounded"
    if value == 0:
        return "0"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def format_quantity(base_value: float, unit: Unit, digits: int = 3) -> str:
    """Return a base-unit value as text in `unit`: ``118 PAR``."""
    number = format_number(from_base(base_value, unit), max(digits, 5) if unit.name == "SG" else digits)
    gap = "" if unit.name in ("", "%") else " "
    return f"{number}{gap}{counted_unit(unit.name, number)}"


def counted_unit(unit: str, number: str) -> str:
    """Return a unit as it is said after a number: ``week`` after 1, ``weeks`` after any other."""
    return unit[:-1] if unit in _COUNTED and number == "1" else unit


_COUNTED = frozenset({"days", "hours", "minutes", "seconds", "weeks", "months", "years", "degrees"})


_NOTHING_BESIDE = 30.0
"""How much larger the upper end of a range must be before a small lower end may be called 0."""


def error_digits(error: float) -> int:
    """Return how many places after the point (negative: before it) an error is worth printing to."""
    if error <= 0 or not math.isfinite(error):
        return 0
    exponent = math.floor(math.log10(error))
    leading = error / 10.0**exponent
    two = leading < 3 or exponent == 1
    return (1 if two else 0) - exponent


_AS_ONE = 1e-6
"""Ends of a range that differ by less are one number and the noise of arithmetic."""


def span_ends(low: float, high: float) -> tuple[str, str]:
    """Return both ends of a range as text, rounded outward to what its width deserves.

    >>> span_ends(22.3, 89.7), span_ends(0.5, 5.5), span_ends(4.0, 4.0), span_ends(0.364, 7.5)
    (('22', '90'), ('0.5', '5.5'), ('4', '4'), ('0.3', '8'))
    """
    if high <= low or math.isclose(low, high, rel_tol=_AS_ONE):
        return format_number(low), format_number(low)
    places = error_digits((high - low) / 2)
    first, last = _outward(low, places, math.floor), _outward(high, places, math.ceil)
    if first == "0" and low * _NOTHING_BESIDE > high:
        first = _outward(low, -math.floor(math.log10(low)), math.floor)
    return first, last


def _outward(value: float, places: int, towards: Callable[[float], int]) -> str:
    """An end of a range, rounded so that the range never shrinks."""
    scale = 10.0**places
    whole = round(value * scale)
    near = math.isclose(value * scale, whole, abs_tol=1e-6)
    return format_number((whole if near else towards(value * scale)) / scale, 6)
