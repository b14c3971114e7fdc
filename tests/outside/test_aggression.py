"""Who harms whom, on the cards and in published contests on the reef.

Also the classes of Dai 1990 and the orders of Lang 1973 and Logan 1984 (`data/ranks.csv`).
Sources, each read as the table named in `data/README.md`: Dai 1990 (Taiwan), Logan 1984
(Bermuda), Heron Island long-term records, Lapid & Chadwick 2006 (Eilat), Sheppard 1979
(Chagos), Abelson & Loya 1999 (Eilat). A rank of 0 to 5 on a card is a translation of such
tables; what is checked is direction, not amount. A contradiction has to stand in
`data/contradictions.csv` with its reason, and one that no longer occurs has to go.
"""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.outside.published import (
    Row,
    cards,
    known,
    least,
    most,
    numbers_of_rules,
    pairs_that_can_hurt,
    table,
    words,
)

CONTESTS = table("competition")
STUDIES = sorted({row["study"] for row in CONTESTS})
NEEDED_SHARE = {"Dai 1990": 0.85, "Heron Island": 0.95, "Lapid & Chadwick 2006": 1.0, "Logan 1984": 0.6}
"""Least share of contests whose winner the cards say can hurt the loser. Logan: three contests only."""


def potency(card: str) -> float:
    return most(card, "weapon-potency")


def defence(card: str) -> float:
    return least(card, "defence")


def can_hurt(winner: str, loser: str) -> bool:
    return potency(winner) >= defence(loser)


def test_the_shipped_rules_say_the_same_of_each_contest() -> None:
    # can-hurt of rules/spacing.rules, asked of every pair through survey, compiler and judge
    told = pairs_that_can_hurt()
    for row in CONTESTS:
        assert (pair(row) in told) == can_hurt(*pair(row)), pair(row)


def edge(winner: str, loser: str) -> float:
    """How much harder the winner hits the loser than the loser hits back, in ranks."""
    return (potency(winner) - defence(loser)) - (potency(loser) - defence(winner))


def pair(row: Row) -> tuple[str, str]:
    return row["winner_card"], row["loser_card"]


@pytest.mark.parametrize("study", STUDIES)
def test_most_winners_of_a_study_can_hurt_whom_they_beat(study: str) -> None:
    rows = [row for row in CONTESTS if row["study"] == study]
    agreeing = [row for row in rows if can_hurt(*pair(row))]
    assert len(agreeing) / len(rows) >= NEEDED_SHARE[study], f"{len(agreeing)} of {len(rows)}"


def test_each_winner_that_cannot_hurt_the_loser_is_a_known_contradiction() -> None:
    against = {pair(row) for row in CONTESTS if not can_hurt(*pair(row))}
    assert against == set(known("contest"))


def test_each_winner_hit_harder_than_it_hits_is_a_known_contradiction() -> None:
    against = {pair(row) for row in CONTESTS if can_hurt(*pair(row)) and edge(*pair(row)) < 0}
    assert against == set(known("edge"))


def test_more_than_three_quarters_of_all_contests_point_the_way_of_the_cards() -> None:
    clear = [row for row in CONTESTS if edge(*pair(row)) != 0]
    agreeing = [row for row in clear if edge(*pair(row)) > 0]
    assert len(agreeing) / len(clear) > 0.75, f"{len(agreeing)} of {len(clear)}"


def standing(row: Row) -> float:
    """Species beaten less species lost to, over both: 1 beats all, -1 loses to all."""
    beaten, lost = int(row["species_beaten"]), int(row["species_lost_to"])
    return (beaten - lost) / (beaten + lost)


def ranked(study: str, contests: int = 5) -> list[tuple[str, float]]:
    """Cards with their standing in a study that saw enough of them."""
    return [
        (row["card"], standing(row))
        for row in table("species_beaten")
        if row["study"] == study and int(row["species_beaten"]) + int(row["species_lost_to"]) >= contests
    ]


def orders(study: str, apart: float) -> tuple[int, int, set[tuple[str, str]]]:
    """Count pairs clearly apart in a study that the cards rank alike and against, and name the latter."""
    return compared(ranked(study), apart)


def compared(rows: list[tuple[str, float]], apart: float) -> tuple[int, int, set[tuple[str, str]]]:
    """Count pairs of cards with standings so far apart that their sting ranks alike and against."""
    alike = against = 0
    names: set[tuple[str, str]] = set()
    for one, two in combinations(rows, 2):
        upper, lower = (one, two) if one[1] > two[1] else (two, one)
        if upper[1] - lower[1] < apart or upper[0] == lower[0]:
            continue
        alike += potency(upper[0]) > potency(lower[0])
        if potency(upper[0]) < potency(lower[0]):
            against += 1
            names.add((upper[0], lower[0]))
    return alike, against, names


def test_strength_follows_the_order_found_at_chagos() -> None:
    # Sheppard 1979, species beaten and lost to; pairs a quarter of the scale (-1 to 1) apart or more.
    alike, against, names = orders("Sheppard 1979", 0.5)
    assert alike >= 10 * against
    assert names == set(known("sheppard"))


def test_strength_mostly_follows_the_order_found_at_eilat() -> None:
    # Abelson & Loya 1999, species beaten and lost to; small numbers, so it agrees less well than Chagos:
    # three to one for pairs a quarter of the scale apart, seven to one for pairs half the scale apart.
    alike, against, names = orders("Abelson & Loya 1999", 0.5)
    assert alike >= 3 * against
    assert names == set(known("eilat"))
    alike, against, _ = orders("Abelson & Loya 1999", 1.0)
    assert alike >= 7 * against


@pytest.mark.parametrize("card", ["plate-coral", "galaxea", "long-goniopora", "isopora", "table-acropora"])
def test_the_strongest_at_chagos_sting_hard_on_their_cards(card: str) -> None:
    # Sheppard 1979, abstract: Fungiidae, Galaxea, Goniopora, A. palifera, A. hyacinthus lead.
    assert potency(card) >= 3


@pytest.mark.parametrize("card", ["boulder-porites", "finger-porites", "birdsnest"])
def test_the_weakest_at_chagos_hardly_sting_on_their_cards(card: str) -> None:
    # Sheppard 1979, abstract: Porites and Seriatopora hystrix are the least aggressive.
    assert potency(card) <= 1


@pytest.mark.parametrize("card", ["merulina", "chalice", "mycedium"])
def test_the_top_class_of_taiwan_stings_and_stands_hard(card: str) -> None:
    # Dai 1990, Mar Ecol Prog Ser 60:291: Merulina ampliata, Echinophyllia aspera, Mycedium elephantotus.
    assert potency(card) >= 4
    assert defence(card) >= 4


def test_agaricia_is_weak() -> None:
    # Lang 1973, Bull Mar Sci 23:260: agariciids stand near the bottom of the Jamaican order.
    assert potency("agaricia") <= 2
    assert defence("agaricia") <= 1


@pytest.mark.parametrize("victim", ["staghorn-acropora", "pocillopora", "boulder-porites", "finger-porites"])
def test_hairy_mushrooms_harm_small_polyp_corals(victim: str) -> None:
    # Langmead and Chadwick-Furman 1999, Mar Biol: harms Acroporidae, Pocilloporidae, Poritidae.
    assert can_hurt("hairy-mushroom", victim)


def test_mushroom_corals_may_touch_their_kin_and_harm_others() -> None:
    # Chadwick-Furman and Loya 1992, Mar Biol 114:617: no damage among Fungiidae, to others yes.
    for card in ("plate-coral", "tongue-coral"):
        rules = {
            word for value in cards()[card].values if value.key == "contact-rule" for word in value.words
        }
        assert rules == {"touch-ok"}
        assert can_hurt(card, "pocillopora")
        assert edge(card, "pocillopora") > 0


def test_stony_corals_stand_a_soft_coral_that_touches_them() -> None:
    # Dai 1990: in contact the stony coral usually digests the soft one.
    for soft in ("toadstool", "devils-hand", "finger-leather"):
        assert not can_hurt(soft, "platygyra")
        assert can_hurt("platygyra", soft)


@pytest.mark.parametrize("card", ["toadstool", "devils-hand", "finger-leather"])
def test_leathers_poison_the_water_most(card: str) -> None:
    # Maida et al. 1995, Mar Ecol Prog Ser 121:191; Aceret et al. 1995, J Exp Mar Biol Ecol 188:63.
    assert least(card, "toxins") == 3


def classes(study: str, apart: float) -> tuple[int, int, set[tuple[str, str]]]:
    """As `orders`, for a study that gives each species a standing from 0 to 1 instead of counts."""
    rows = [(row["card"], float(row["standing"])) for row in table("ranks") if row["study"] == study]
    return compared(rows, apart)


def test_strength_follows_the_classes_found_in_taiwan() -> None:
    # Dai 1990, Mar Ecol Prog Ser 60:291: five classes of aggression, as scaled for Carturan et al. 2020;
    # species two classes or more apart (0.4 of the scale, less for rounding).
    alike, against, names = classes("Dai 1990", 0.35)
    assert alike >= 20 * against
    assert names == set(known("dai-class"))


def test_strength_follows_the_order_found_in_jamaica_but_for_the_scolies() -> None:
    # Lang 1973, Bull Mar Sci 23:260, as scaled for Carturan et al. 2020: two genera and one group we share.
    _, _, names = classes("Lang 1973", 0.15)
    assert names == set(known("lang"))
    assert potency("scoly") > potency("boulder-porites")


def test_strength_follows_the_order_found_in_bermuda() -> None:
    # Logan 1984, Coral Reefs 3:131, species beaten and lost to, as scaled for Carturan et al. 2020.
    alike, against, names = classes("Logan 1984", 0.35)
    assert (alike, against, names) == (2, 0, set())


def test_clones_of_galaxea_are_strangers_to_each_other() -> None:
    # Hidaka and Yamazato 1984, Coral Reefs, doi 10.1007/BF00263757: polyps of different clones grew sweepers.
    assert words("galaxea", "contact-rule") == {"same-clone-only"}
    assert can_hurt("galaxea", "galaxea")


def test_platygyra_and_pocilloporids_grow_sweepers() -> None:
    # Lapid and Chadwick 2006, doi 10.3354/meps313115 (Platygyra daedalea); Wellington 1980, Oecologia,
    # doi 10.1007/BF00398527 (pocilloporids, after they were digested).
    assert "sweeper-tentacles" in words("platygyra", "weapon")
    assert "sweeper-tentacles" in words("pocillopora", "weapon")


@pytest.mark.parametrize("card", ["devils-hand", "finger-leather"])
def test_soft_corals_that_harmed_without_touching_poison_the_water(card: str) -> None:
    # Sammarco et al. 1983, abstract (author and year from memory): Lobophytum killed Porites without contact,
    # Sinularia held back Pavona.
    assert least(card, "toxins") >= numbers_of_rules()["clear-toxins"].value.value


def test_agaricia_falls_to_what_beat_it_in_bermuda() -> None:
    # Logan 1984: Agaricia fragilis beat none of eight species and lost to all.
    assert least("agaricia", "defence") <= 1
    assert all(can_hurt(card, "agaricia") for card in ("boulder-porites", "scoly"))
