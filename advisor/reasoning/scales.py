"""Units and steps of what is made of several quantities."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.errors import AdvisorError
from advisor.language.nodes import ArithOp
from advisor.reasoning.ops import Op, Quantity
from advisor.units import BASE_UNIT, DAYS_PER_MONTH, DEFAULT_STEP, DIMENSIONLESS, Dimension, Unit


class CompileError(AdvisorError):
    """A tree that the checker should have refused."""


def as_quantity(op: Op) -> Quantity:
    """Return an operation as one that gives quantities.

    Raises
    ------
    CompileError
        If the operation gives truths or words.
    """
    if isinstance(op, Quantity):
        return op
    raise CompileError("a quantity was expected here")


def unit_of(parts: Sequence[Quantity]) -> Unit:
    """Return the unit of the first part that has a measure of its own, else of the first."""
    return next((part.unit for part in parts if part.step), parts[0].unit)


def step_of(parts: Sequence[Quantity]) -> float:
    """Return the step of the first part that has one."""
    return next((part.step for part in parts if part.step), 0.0)


def comparison_scale(parts: Sequence[Quantity]) -> tuple[float, Unit]:
    """Return step and unit of a margin: those of the first measured side, else the dimension's own."""
    unit = unit_of(parts)
    step = step_of(parts) or DEFAULT_STEP[unit.dimension]
    if unit.dimension is Dimension.TEMPERATURE:
        unit = BASE_UNIT[Dimension.TEMPERATURE_STEP]
    return step, unit


def sum_unit(op: ArithOp, left: Unit, right: Unit) -> Unit:
    """Return the unit of a sum or difference; two temperatures differ by a temperature difference."""
    if (
        left.dimension is Dimension.TEMPERATURE
        and right.dimension is Dimension.TEMPERATURE
        and op is ArithOp.SUBTRACT
    ):
        return BASE_UNIT[Dimension.TEMPERATURE_STEP]
    return right if left.dimension is Dimension.TEMPERATURE_STEP else left


def product_unit(op: ArithOp, left: Unit, right: Unit) -> tuple[Unit, float]:
    """Return the unit of a product or quotient, and the factor its base units ask for.

    Raises
    ------
    CompileError
        If the two cannot be combined; the checker should have said so.
    """
    a, b = left.dimension, right.dimension
    if op is ArithOp.MULTIPLY:
        if {a, b} == {Dimension.GROWTH, Dimension.TIME}:
            return BASE_UNIT[Dimension.LENGTH], 0.1 / DAYS_PER_MONTH  # mm a month times days, in cm
        if Dimension.PERCENT in (a, b) and a is not b:
            return (right if a is Dimension.PERCENT else left), 0.01
        if b in DIMENSIONLESS:
            return left, 1.0
        if a in DIMENSIONLESS:
            return right, 1.0
    else:
        if a is b:
            return BASE_UNIT[Dimension.RATIO], 1.0
        if b is Dimension.PERCENT:
            return left, 100.0
        if b in DIMENSIONLESS:
            return left, 1.0
        if a is Dimension.LENGTH and b is Dimension.GROWTH:
            return BASE_UNIT[Dimension.TIME], 10.0 * DAYS_PER_MONTH
    raise CompileError(f"{a.value} and {b.value} cannot be combined")
