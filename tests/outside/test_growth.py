"""Planned growth on the cards against published linear extension.

Source: Coral Trait Database 1.1.1 (Madin et al. 2016, Sci Data 3:160017) and the NOAA study
table, as one median per taxon and reference in `data/growth.csv` [mm/year]. A fed, bright
tank runs one to three times the field, some fleshy corals below (common practice, no
source), so a planned rate within a third and three times the genus median agrees.
"""

from __future__ import annotations

from statistics import median

import pytest

from tests.outside.published import cards, first, genus_of, known, most, table

TOLERANCE = 3.0
FEWEST = 3


def measured() -> dict[str, list[float]]:
    found: dict[str, list[float]] = {}
    for row in table("growth"):
        found.setdefault(row["genus"].lower(), []).append(float(row["mm_per_year"]))
    return {genus: rates for genus, rates in found.items() if len(rates) >= FEWEST}


def planned_mm_per_year(card: str) -> float:
    return 12 * max(most(card, "growth-up"), most(card, "growth-out"))


PLANNED = sorted(card for card in cards() if genus_of(card) in measured())


@pytest.mark.parametrize("card", [card for card in PLANNED if (card, "") not in known("growth")])
def test_planned_growth_is_within_three_times_the_genus_median(card: str) -> None:
    field = median(measured()[genus_of(card)])
    assert field / TOLERANCE <= planned_mm_per_year(card) <= field * TOLERANCE


def test_the_known_contradictions_still_occur() -> None:
    outside = set()
    for card in PLANNED:
        field = median(measured()[genus_of(card)])
        if not field / TOLERANCE <= planned_mm_per_year(card) <= field * TOLERANCE:
            outside.add((card, ""))
    assert outside == set(known("growth"))


def test_upward_growth_keeps_the_published_order() -> None:
    order = ["staghorn-acropora", "pocillopora", "boulder-porites", "platygyra", "cyphastrea"]
    field = [median(measured()[genus_of(card)]) for card in order]
    assert field == sorted(field, reverse=True)
    planned = [first(card, "growth-up") for card in order]
    assert planned == sorted(planned, reverse=True)


def test_a_gigas_clam_widens_as_fast_as_at_orpheus_island() -> None:
    # Lucas et al. 1989, Aquaculture 80:45-61: young ones about 10 mm of shell length a month.
    # A card gives one edge; half of the length at each edge is the least that agrees.
    assert 5 <= first("gigas-clam", "growth-out") <= 10


def test_a_plate_coral_walks() -> None:
    # Chadwick-Furman and Loya 1992, Mar Biol 114:617: small ones move up to 6 cm a day.
    assert any(value.key == "moves" and "walks" in value.words for value in cards()["plate-coral"].values)
