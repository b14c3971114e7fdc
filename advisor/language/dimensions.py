"""What comes of two quantities: which may be compared, added, multiplied."""

from __future__ import annotations

from advisor.language.nodes import ArithOp
from advisor.model.vocabulary import NumberType
from advisor.units import BASE_UNIT, DIMENSIONLESS, PLAIN, UNITS, Dimension, Quantity, Unit, format_quantity

PHRASE: dict[Dimension, str] = {
    Dimension.LENGTH: "a length",
    Dimension.LIGHT: "an amount of light",
    Dimension.DOSE: "a daily amount of light",
    Dimension.SPEED: "a speed",
    Dimension.TEMPERATURE: "a temperature",
    Dimension.TEMPERATURE_STEP: "a temperature difference",
    Dimension.VOLUME: "a volume",
    Dimension.VOLUME_FLOW: "a pump's flow",
    Dimension.TIME: "a time",
    Dimension.GROWTH: "a growth rate",
    Dimension.SALINITY: "a salinity",
    Dimension.ALKALINITY: "an alkalinity",
    Dimension.CONCENTRATION: "a concentration",
    Dimension.ANGLE: "an angle",
    Dimension.PERCENT: "a percentage",
    Dimension.PHOTONS: "an amount of photons",
    Dimension.POWER: "a power",
    Dimension.COUNT: "a count",
    Dimension.RATIO: "a ratio",
    Dimension.RANK: "a rank",
}
_STEP, _DEGREE = Dimension.TEMPERATURE_STEP, Dimension.TEMPERATURE


def number_type(unit: str) -> NumberType:
    """Return the type that a unit name, ``rank`` or ``count`` stands for; empty is a plain number."""
    if unit in ("rank", "count"):
        dimension = Dimension(unit)
        return NumberType(dimension, BASE_UNIT[dimension])
    found = UNITS.get(unit, PLAIN) if unit else PLAIN
    return NumberType(found.dimension, found)


def of_dimension(dimension: Dimension) -> NumberType:
    """Return the type of a dimension shown in its base unit."""
    return NumberType(dimension, BASE_UNIT[dimension])


def alike(left: NumberType, right: NumberType, left_plain: bool = False, right_plain: bool = False) -> bool:
    """Return whether two quantities may be compared; a plain literal fits a count, ratio or rank."""
    if left.dimension is right.dimension:
        return True
    return (left_plain and right.dimension in DIMENSIONLESS) or (
        right_plain and left.dimension in DIMENSIONLESS
    )


def sum_type(op: ArithOp, left: NumberType, right: NumberType) -> NumberType | None:
    """Return the type of a sum or difference, or None if there is none."""
    a, b = left.dimension, right.dimension
    if a is _DEGREE and b is _DEGREE:
        return of_dimension(_STEP) if op is ArithOp.SUBTRACT else None
    if a is _DEGREE and b is _STEP:
        return left
    if a is _STEP and b is _DEGREE:
        return right if op is ArithOp.ADD else None
    return left if a is b else None


def product_type(op: ArithOp, left: NumberType, right: NumberType) -> NumberType | None:
    """Return the type of a product or quotient, or None if there is none."""
    a, b = left.dimension, right.dimension
    if _DEGREE in (a, b):
        return None
    if op is ArithOp.MULTIPLY:
        if {a, b} == {Dimension.GROWTH, Dimension.TIME}:
            return of_dimension(Dimension.LENGTH)
        if Dimension.PERCENT in (a, b) and a is not b:
            return right if a is Dimension.PERCENT else left
        if b in DIMENSIONLESS:
            return left
        return right if a in DIMENSIONLESS else None
    if a is b:
        return of_dimension(Dimension.RATIO)
    if b is Dimension.PERCENT or b in DIMENSIONLESS:
        return left
    if a is Dimension.LENGTH and b is Dimension.GROWTH:
        return of_dimension(Dimension.TIME)
    return None


def shown(value: float, unit: str) -> str:
    """Return a literal as a message prints it: ``8 cm``."""
    return f"{value:g} {unit}".rstrip()


def shown_base(base_value: float, unit: Unit) -> str:
    """Return a base-unit value as a message prints it."""
    return format_quantity(base_value, unit, 4)


def kin_unit(dimension: Dimension) -> str:
    """Return a second unit of a dimension, if it has one worth naming."""
    return {
        Dimension.LENGTH: "mm",
        Dimension.TIME: "hours",
        Dimension.VOLUME: "gal",
        Dimension.TEMPERATURE: "°F",
        Dimension.ALKALINITY: "meq/L",
    }.get(dimension, "")


__all__ = [
    "PHRASE",
    "Quantity",
    "alike",
    "kin_unit",
    "number_type",
    "of_dimension",
    "product_type",
    "shown",
    "shown_base",
    "sum_type",
]
