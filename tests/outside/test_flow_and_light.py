"""Flow and light bands of the cards against published findings, each row with its source.

A finding names a speed or light and how it has to lie to the card's band:
within or overlapping the band called best, inside the limits, or outside of them.
Tolerance: none; a card's band is meant to take the finding in.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from scipy.stats import spearmanr

from tests.outside.published import Row, cards, first, genus_of, least, most, table

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
        case "best begins below":
            return found.low < low
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


def test_light_to_break_even_follows_the_published_order() -> None:
    # Light at which single colonies break even, medians, January 2020, Moorea (E5 coral time series):
    # Acropora 203 > Pocillopora 163 > Porites 147. A card's least light is its daily minimum, not this point,
    # so only the order is compared.
    lows = [least(card, "light-min") for card in ("staghorn-acropora", "pocillopora", "boulder-porites")]
    assert lows == sorted(lows, reverse=True)
    assert lows[0] > lows[-1]


def test_plates_of_the_deep_reef_want_less_light_than_boulders_of_the_shallow() -> None:
    # Kahng et al. 2012, Mar Ecol Prog Ser, abstract: Leptoseris at 3-11 %, Porites at 41-90 % of full light.
    assert first("leptoseris", "light-best-high") < first("boulder-porites", "light-best-low")
    assert most("leptoseris", "light-max") < first("boulder-porites", "light-best-high")


def by_genus(what: str) -> list[tuple[Row, str]]:
    """Each genus of `data/traits.csv` that has `what`, with each card of it."""
    return [
        (row, card)
        for row in table("traits")
        if row[what]
        for card in sorted(cards())
        if genus_of(card) == row["genus"].lower()
    ]


def test_corals_that_go_deeper_want_less_light() -> None:
    # Coral Trait Database 1.1.1: depth of the lower end of each species' range, median over the genus, from
    # Veron 2000 and the Red List assessments. Rank correlation; between genera many things differ, so a
    # middling one (0.4) is asked for.
    found = by_genus("depth_lower_m")
    depth = [float(row["depth_lower_m"]) for row, _ in found]
    light = [first(card, "light-best-high") for _, card in found]
    assert len(found) > 50
    assert spearmanr(depth, light).statistic < -0.4


def exposure(row: Row) -> float:
    """How many more of a genus's species like surf than shelter, as a share of all that say."""
    counts = [int(row[f"wave_{kind}"]) for kind in ("protected", "broad", "exposed")]
    return (counts[2] - counts[0]) / sum(counts)


def test_corals_of_the_surf_want_more_flow() -> None:
    # Coral Trait Database 1.1.1: wave exposure each species prefers, after Veron 2000.
    found = [
        (row, card)
        for row, card in by_genus("wave_broad")
        if sum(int(row[f"wave_{kind}"]) for kind in ("protected", "broad", "exposed"))
    ]
    flow = [first(card, "flow-best-high") for _, card in found]
    assert len(found) > 50
    assert spearmanr([exposure(row) for row, _ in found], flow).statistic > 0.4


@pytest.mark.parametrize("card", ["elegance", "open-brain", "bubble-coral", "galaxea"])
def test_corals_that_live_sheltered_want_less_flow_than_surf_acropora(card: str) -> None:
    # Veron 2000, in the Coral Trait Database 1.1.1: wave exposure "protected" for Catalaphyllia jardinei,
    # Trachyphyllia geoffroyi, Plerogyra sinuosa and Galaxea fascicularis.
    assert most(card, "flow-max") < most("table-acropora", "flow-max")
    assert first(card, "flow-best-high") <= first("table-acropora", "flow-best-low")
