"""Longest reach on the cards against lengths in print (`data/reach.csv`, each row with its source).

No paper with a table of sweeper lengths could be read; these are encyclopaedia, hobby
and handbook figures. A card plans for at least what is documented, or it stands in
`contradictions.csv` with the reason why it does not; such a row counts as no check.
"""

from __future__ import annotations

import pytest

from advisor.knowledge.names import find_card
from advisor.language.library import Library
from advisor.model.vocabulary import Vocabulary
from tests.outside.published import Row, cards, known, most, table

ROWS = table("reach")


def meant(row: Row) -> tuple[str, ...]:
    library = Library(Vocabulary(), cards=cards())
    return find_card(row["taxon"].removesuffix(" spp."), library).cards


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['taxon']} {row['source'][:20]}")
def test_a_card_plans_for_the_longest_reach_in_print(row: Row) -> None:
    documented_cm = float(row["reach_cm"])
    longest = max(meant(row), key=lambda card: most(card, "weapon-at-most"))
    assert most(longest, "weapon-at-most") >= documented_cm or (longest, "") in known("reach")


def test_the_known_contradictions_still_occur() -> None:
    short = {
        max(meant(row), key=lambda card: most(card, "weapon-at-most"))
        for row in ROWS
        if max(most(card, "weapon-at-most") for card in meant(row)) < float(row["reach_cm"])
    }
    assert {(card, "") for card in short} == set(known("reach"))


def test_the_order_of_longest_reach_is_the_documented_one() -> None:
    # data/reach.csv: Galaxea 30 > Euphyllia 20 > Pavona 5 cm.
    assert (
        most("galaxea", "weapon-at-most")
        > most("torch", "weapon-at-most")
        > most("cactus-pavona", "weapon-at-most")
    )


def test_hairy_mushrooms_reach_as_far_as_brains_keep_away() -> None:
    # Langmead and Chadwick-Furman 1999, Mar Biol: stand-off of 1 to 3 cm against faviids and mussids.
    assert most("hairy-mushroom", "weapon-reach") == pytest.approx(1)
    assert most("hairy-mushroom", "weapon-at-most") == pytest.approx(3)
