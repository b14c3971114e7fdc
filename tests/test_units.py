"""Text to quantity and back, and the messages for what cannot be read."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import AdvisorError, QuantityError
from advisor.units import (
    BASE_UNIT,
    DEFAULT_STEP,
    DIMENSIONLESS,
    UNITS,
    Dimension,
    convert,
    format_number,
    format_quantity,
    from_base,
    parse_quantity,
    span_ends,
    to_base,
    unit_named,
)


@pytest.mark.parametrize(
    ("text", "base", "dimension"),
    [
        ("48 in", 121.92, Dimension.LENGTH),
        ("150 PAR", 150.0, Dimension.LIGHT),
        ("1200 L/h", 1200.0, Dimension.VOLUME_FLOW),
        ("  6 weeks ", 42.0, Dimension.TIME),
        ("25.5°C", 25.5, Dimension.TEMPERATURE),
        ("−3 cm", -3.0, Dimension.LENGTH),
        ("2.5 μmol/m2/s", 2.5, Dimension.LIGHT),
        ("7\u00a0dKH", 7.0, Dimension.ALKALINITY),
        ("1.0264 SG", 35.0, Dimension.SALINITY),
        ("1.0264 specific gravity", 35.0, Dimension.SALINITY),
        ("12", 12.0, Dimension.COUNT),
    ],
)
def test_a_written_quantity_is_read(text: str, base: float, dimension: Dimension) -> None:
    read = parse_quantity(text)
    assert read.base == pytest.approx(base)
    assert read.unit.dimension is dimension


def test_a_bare_number_takes_the_unit_of_its_place() -> None:
    assert parse_quantity("12", unit_named("mm")).base == pytest.approx(1.2)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2,5 cm", "decimal point"),
        ("about 5 cm", "not a number"),
        ("5 furlongs", "furlongs"),
        ("1e999 cm", "finite"),
        ("", "not a number"),
    ],
)
def test_what_cannot_be_read_is_said_plainly(text: str, says: str) -> None:
    with pytest.raises(QuantityError, match=says) as caught:
        parse_quantity(text)
    assert isinstance(caught.value, AdvisorError)


def test_unlike_things_do_not_convert() -> None:
    with pytest.raises(QuantityError, match="PAR is light, cm is length"):
        convert(3.0, unit_named("PAR"), unit_named("cm"))


@given(value=st.floats(-1e6, 1e6), unit=st.sampled_from(sorted(UNITS)))
def test_to_base_and_back_is_the_same_number(value: float, unit: str) -> None:
    there = to_base(value, unit_named(unit))
    assert from_base(there, unit_named(unit)) == pytest.approx(value, rel=1e-9, abs=1e-6)


@given(
    value=st.floats(min_value=1e-3, max_value=1e6), unit=st.sampled_from(["cm", "PAR", "cm/s", "L", "days"])
)
def test_a_printed_quantity_reads_back_within_its_digits(value: float, unit: str) -> None:
    printed = format_quantity(value, unit_named(unit))
    assert parse_quantity(printed).base == pytest.approx(value, rel=5e-3)


@pytest.mark.parametrize(
    "unit", ["days", "hours", "minutes", "seconds", "weeks", "months", "years", "degrees"]
)
def test_one_of_what_is_counted_is_said_as_one_and_reads_back(unit: str) -> None:
    one = format_quantity(to_base(1.0, unit_named(unit)), unit_named(unit))
    assert one == f"1 {unit[:-1]}"
    assert parse_quantity(one).base == to_base(1.0, unit_named(unit))
    assert format_quantity(to_base(2.0, unit_named(unit)), unit_named(unit)) == f"2 {unit}"


@pytest.mark.parametrize(
    ("value", "printed"),
    [
        (0.0, "0"),
        (12.0, "12"),
        (0.35, "0.35"),
        (118.4, "118"),
        (1234.5, "1234"),
        (float("inf"), "unbounded"),
    ],
)
def test_numbers_are_printed_short_and_without_exponent(value: float, printed: str) -> None:
    assert format_number(value) == printed


def test_every_dimension_has_a_base_unit_and_a_step() -> None:
    for dimension in Dimension:
        assert BASE_UNIT[dimension].factor == 1.0
        assert DEFAULT_STEP[dimension] > 0
    assert {Dimension.COUNT, Dimension.RANK} <= DIMENSIONLESS


def test_a_range_that_is_only_noise_is_one_number() -> None:
    assert span_ends(0.88541234, 0.88541234 + 1e-12) == ("0.885", "0.885")
    assert span_ends(0.8, 0.9) == ("0.8", "0.9")
