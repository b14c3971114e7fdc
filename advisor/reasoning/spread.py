"""The range one reading stands for: its error, laid about it and kept inside the physical range."""

from __future__ import annotations

from advisor.model.vocabulary import Measure, NumberType
from advisor.units import Dimension

LOG_SYMMETRIC = frozenset({Dimension.LIGHT, Dimension.SPEED})
"""Dimensions whose relative errors multiply rather than add (language.md, What carries error)."""


def range_of_reading(measure: Measure, value: float, error: float | None) -> tuple[float, float]:
    """Return the 90 % two-sided range of one reading, as hard ends. [base unit]

    Parameters
    ----------
    value
        The reading. [base unit]
    error
        The absolute error stated with it, or None for the measure's own. [base unit]
    """
    if error is not None:
        low, high = value - error, value + error
    elif not measure.error_is_fraction:
        low, high = value - measure.error, value + measure.error
    elif isinstance(measure.type, NumberType) and measure.type.dimension in LOG_SYMMETRIC:
        low, high = value / (1.0 + measure.error), value * (1.0 + measure.error)
    else:
        low, high = value * (1.0 - measure.error), value * (1.0 + measure.error)
    return max(low, measure.low), min(high, measure.high)
