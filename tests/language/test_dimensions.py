"""What may be compared, added and multiplied."""

from __future__ import annotations

import itertools

import pytest

from advisor.language.dimensions import (
    PHRASE,
    alike,
    kin_unit,
    number_type,
    of_dimension,
    product_type,
    shown,
    shown_base,
    sum_type,
)
from advisor.language.nodes import ArithOp
from advisor.units import BASE_UNIT, DIMENSIONLESS, UNITS, Dimension


def test_every_dimension_has_a_phrase() -> None:
    assert set(PHRASE) == set(Dimension)


@pytest.mark.parametrize(("a", "b"), list(itertools.combinations(Dimension, 2)))
def test_unlike_dimensions_are_not_alike(a: Dimension, b: Dimension) -> None:
    assert not alike(of_dimension(a), of_dimension(b))


@pytest.mark.parametrize("dimension", Dimension)
def test_a_plain_literal_fits_count_ratio_and_rank_only(dimension: Dimension) -> None:
    plain = number_type("")
    fits = dimension in DIMENSIONLESS
    assert alike(of_dimension(dimension), plain, right_plain=True) is fits
    assert alike(plain, of_dimension(dimension), left_plain=True) is fits


def test_temperatures_and_their_differences() -> None:
    degree, step = of_dimension(Dimension.TEMPERATURE), of_dimension(Dimension.TEMPERATURE_STEP)
    assert sum_type(ArithOp.SUBTRACT, degree, degree) == step
    assert sum_type(ArithOp.ADD, degree, step) == degree
    assert sum_type(ArithOp.ADD, step, degree) == degree
    assert sum_type(ArithOp.SUBTRACT, step, degree) is None
    assert sum_type(ArithOp.ADD, degree, degree) is None
    assert product_type(ArithOp.MULTIPLY, degree, number_type("")) is None


@pytest.mark.parametrize(
    ("op", "left", "right", "result"),
    [
        (ArithOp.MULTIPLY, "cm", "times", Dimension.LENGTH),
        (ArithOp.MULTIPLY, "%", "PAR", Dimension.LIGHT),
        (ArithOp.MULTIPLY, "mm/month", "days", Dimension.LENGTH),
        (ArithOp.DIVIDE, "cm", "mm/month", Dimension.TIME),
        (ArithOp.DIVIDE, "cm", "mm", Dimension.RATIO),
        (ArithOp.DIVIDE, "PAR", "", Dimension.LIGHT),
    ],
)
def test_products_that_mean_something(op: ArithOp, left: str, right: str, result: Dimension) -> None:
    found = product_type(op, number_type(left), number_type(right))
    assert found is not None
    assert found.dimension is result


def test_products_that_mean_nothing() -> None:
    assert product_type(ArithOp.MULTIPLY, number_type("cm"), number_type("PAR")) is None
    assert product_type(ArithOp.DIVIDE, number_type("cm"), number_type("PAR")) is None


def test_a_second_unit_is_one_of_the_same_dimension() -> None:
    for dimension in Dimension:
        kin = kin_unit(dimension)
        assert not kin or (UNITS[kin].dimension is dimension and kin != BASE_UNIT[dimension].name)


def test_numbers_are_shown_with_their_unit() -> None:
    assert shown(8.0, "cm") == "8 cm"
    assert shown(3.0, "") == "3"
    assert shown_base(10.0, UNITS["mm"]) == "100 mm"
