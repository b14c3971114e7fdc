"""Flow and light bands of the cards against published findings, each row with its source.

A finding names a speed or light and how it has to lie to the card's band:
within or overlapping the band called best, inside the limits, or outside of them.
Tolerance: none; a card's band is meant to take the finding in.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tests.outside.published import Row, first, least, most, table

FLOW = table("flow")
LIGHT = table("light")


@dataclass(frozen=True)
class Band:
    """A card's limits and its best, for one of the two."""

    lowest: float
    low: float
    high: float
    highest: float


def band(card: str, head: str) -> Band:
    return Band(
        least(card, f"{head}-min"),
        first(card, f"{head}-best-low"),
        first(card, f"{head}-best-high"),
        most(card, f"{head}-max"),
    )


def agrees(found: Band, relation: str, low: float, high: float) -> bool:
    match relation:
        case "within best":
            return found.low <= low and high <= found.high
        case "best overlaps":
            return found.low <= high and low <= found.high
        case "below best":
            return high < found.low
        case "limit covers":
            return found.lowest <= low and high <= found.highest
        case "limit mostly covers":
            return overlap(found, low, high) >= 0.75
        case "limit reaches":
            return found.lowest <= high
        case "below limit":
            return high < found.lowest
        case "above limit":
            return low >= found.highest
        case "best reaches above":
            return found.high > high
        case _:
            raise AssertionError(relation)


def overlap(found: Band, low: float, high: float) -> float:
    """Share of a published range that lies inside the card's limits."""
    return (min(high, found.highest) - max(low, found.lowest)) / (high - low)


@pytest.mark.parametrize("row", FLOW, ids=lambda row: f"{row['card']} {row['relation']} {row['low_cm_s']}")
def test_flow_agrees_with_what_was_found(row: Row) -> None:
    assert agrees(
        band(row["card"], "flow"), row["relation"], float(row["low_cm_s"]), float(row["high_cm_s"])
    ), f"{row['finding']} ({row['source']})"


@pytest.mark.parametrize("row", LIGHT, ids=lambda row: f"{row['card']} {row['relation']} {row['low_par']}")
def test_light_agrees_with_what_was_found(row: Row) -> None:
    assert agrees(
        band(row["card"], "light"), row["relation"], float(row["low_par"]), float(row["high_par"])
    ), f"{row['finding']} ({row['source']})"


def test_deep_slope_plates_want_less_light_than_reef_top_corals() -> None:
    # DiPerna et al. 2018, PLoS ONE 13:e0203882: bright days set Pachyseris back, not Acropora.
    assert first("pachyseris", "light-best-high") < first("bushy-acropora", "light-best-low")
    assert most("pachyseris", "light-max") < 200


def test_light_wanted_follows_the_published_order_of_saturation() -> None:
    # Light at which photosynthesis saturates, medians of single colonies, January 2020, Moorea (E5 coral time
    # series): Acropora 416 > Pocillopora 350 > Porites 284.
    order = ["staghorn-acropora", "pocillopora", "boulder-porites"]
    lows = [first(card, "light-best-low") for card in order]
    assert lows == sorted(lows, reverse=True)
