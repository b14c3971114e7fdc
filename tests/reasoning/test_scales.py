"""Units and steps of sums, products and margins."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.reasoning.bindings import population_of
from advisor.reasoning.compare_ops import Compare
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import truth
from advisor.reasoning.scales import CompileError, as_quantity
from tests.reasoning.compiled import expect_op, grid_with, sides, value_of


def test_growth_times_time_is_a_length() -> None:
    left, right = sides("grows(a) * 6 months >= 2 cm")
    assert left.unit.name == "cm"
    assert value_of(left, grid_with(grows=4.0)) == pytest.approx(2.4)  # 4 mm a month, six months
    assert value_of(right, grid_with()) == 2.0
    days, _ = sides("grows(a) * 30.4375 days >= 2 cm")
    assert value_of(days, grid_with(grows=4.0)) == pytest.approx(0.4)


def test_a_length_over_a_growth_rate_is_a_time() -> None:
    left, _ = sides("reach(a) / grows(a) >= 3 months")
    assert left.unit.name == "days"
    assert value_of(left, grid_with(reach=4.0, grows=10.0)) == pytest.approx(4 * 30.4375)


def test_a_percentage_of_a_quantity_is_that_quantity() -> None:
    left, _ = sides("reach(a) * 20 % >= 2 cm")
    assert left.unit.name == "cm"
    assert value_of(left, grid_with(reach=15.0)) == pytest.approx(3.0)
    turned, _ = sides("20 % * reach(a) >= 2 cm")
    assert value_of(turned, grid_with(reach=15.0)) == pytest.approx(3.0)
    over, _ = sides("reach(a) / 20 % >= 2 cm")
    assert value_of(over, grid_with(reach=15.0)) == pytest.approx(75.0)


def test_a_quotient_of_like_quantities_is_a_ratio() -> None:
    left, _ = sides("reach(a) / size(a) >= 2")
    assert left.unit.name == "times"
    assert value_of(left, grid_with(reach=15.0, size=6.0)) == pytest.approx(2.5)


def test_two_temperatures_differ_by_a_temperature_difference() -> None:
    op = expect_op("warmth(tank) - 25 °C <= 2 K", binders="tank")
    assert isinstance(op, Compare)
    assert as_quantity(op.left).unit.name == "K"
    grid = grid_with(warmth=26.5)
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {}, np.zeros(1))
    found = truth(frame, op)
    assert found.best[0] == pytest.approx(0.5 / 0.5)


def test_a_margin_of_temperatures_is_a_difference_and_not_a_temperature() -> None:
    op = expect_op("warmth(tank) <= 77 °F", binders="tank")
    assert isinstance(op, Compare)
    assert op.unit.name == "K"
    grid = grid_with(warmth=26.0)
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {}, np.zeros(1))
    assert truth(frame, op).best[0] * op.step == pytest.approx(-1.0)


def test_a_temperature_and_a_difference_add_to_a_temperature() -> None:
    left, _ = sides("2 K + warmth(tank) <= 28 °C", binders="tank")
    assert left.unit.name == "°C"


def test_units_of_one_dimension_mix() -> None:
    left, _ = sides("reach(a) + 2 in >= 0.1 m")
    assert value_of(left, grid_with(reach=1.0)) == pytest.approx(6.08)


@pytest.mark.parametrize(
    "expect", ["reach(a) * size(a) >= 3 cm", "origin(a) / reach(a) >= 2", "2 / reach(a) >= 3"]
)
def test_what_cannot_be_combined_is_refused(expect: str) -> None:
    with pytest.raises(CompileError, match="cannot be combined"):
        expect_op(expect)


def test_a_margin_is_counted_in_steps_of_the_measure_that_is_read() -> None:
    op = expect_op("2 cm <= size(a)")
    assert isinstance(op, Compare)
    assert op.step == 0.5
    plain = expect_op("count of neighbour n of a <= 3")
    assert isinstance(plain, Compare)
    assert plain.step == 1.0
