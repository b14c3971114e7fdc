"""Named numbers of the rules against published findings (`data/numbers.csv`, each row with its source).

A finding says what a number has to be at least, at most, or both; tolerance: none. Grams in a kilogram
of sea water are read as milligrams in a litre at 1.025 kg/L.
"""

from __future__ import annotations

from statistics import median

import pytest

from advisor.units import convert, unit_named
from tests.outside.published import Row, numbers_of_rules, table

ROWS = table("numbers")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['number']} {row['source'][:18]}")
def test_a_number_keeps_to_what_was_found(row: Row) -> None:
    let = numbers_of_rules()[row["number"]]
    had = convert(let.value.value, unit_named(let.value.unit), unit_named(row["unit"]))
    assert float(row["at_least"] or "-inf") <= had <= float(row["at_most"] or "inf"), row["source"]


def test_every_row_asks_something() -> None:
    assert all(row["at_least"] or row["at_most"] for row in ROWS)
    assert all(unit_named(row["unit"]) for row in ROWS)


def test_fast_and_slow_growers_are_told_apart_as_they_grow_in_the_field() -> None:
    # Coral Trait Database 1.1.1, medians of single species and studies: branching Acropora stand above what
    # the rules call fast, massive Platygyra and Cyphastrea below what they call slow.
    rates: dict[str, list[float]] = {}
    for row in table("growth"):
        rates.setdefault(row["genus"], []).append(float(row["mm_per_year"]) / 12)
    lets = numbers_of_rules()
    fast, slow = (lets[name].value for name in ("fast-upward", "slow-upward"))
    assert fast.unit == slow.unit == "mm/month"
    assert median(rates["Acropora"]) > slow.value
    assert max(map(median, (rates["Platygyra"], rates["Cyphastrea"]))) < slow.value < fast.value
    assert sorted(rates["Acropora"])[len(rates["Acropora"]) * 3 // 4] > fast.value
