"""What every keeper knows, on the cards. Common practice, no source."""

from __future__ import annotations

import pytest

from tests.outside.published import cards, first, least, most, words

REEF_TOP = ("staghorn-acropora", "bushy-acropora", "table-acropora", "isopora")
MIDDLE = ("long-goniopora", "short-goniopora", "torch", "branching-hammer", "frogspawn")
SAND = ("plate-coral", "long-tentacle-plate", "tongue-coral", "open-brain", "elegance", "haddoni-carpet")
MATS = (
    "green-star-polyps",
    "xenia",
    "anthelia",
    "clove-polyps",
    "palythoa",
    "zoanthus",
    "encrusting-gorgonian",
)


@pytest.mark.parametrize("card", REEF_TOP)
def test_reef_top_corals_stand_high_in_the_light(card: str) -> None:
    assert first(card, "light-best-low") >= 200


@pytest.mark.parametrize("card", MIDDLE)
def test_mid_tank_corals_want_neither_the_top_nor_the_dark(card: str) -> None:
    assert 50 <= first(card, "light-best-low") <= 150
    assert first(card, "light-best-high") <= 200


def test_goniopora_stands_below_acropora() -> None:
    assert first("long-goniopora", "light-best-high") < first("bushy-acropora", "light-best-low")


@pytest.mark.parametrize("card", ["sun-coral", "dendro", "carnation", "chili"])
def test_animals_that_live_on_food_stand_in_shade(card: str) -> None:
    assert words(card, "lives-on") == {"food"}
    assert least(card, "light-min") == 0
    assert "overhang" in words(card, "footing-shelter")
    assert "open" not in words(card, "footing-shelter")
    assert words(card, "feeding") <= {"often", "daily"}


@pytest.mark.parametrize("card", SAND)
def test_sand_dwellers_stand_on_sand_and_not_on_rock(card: str) -> None:
    assert "sand" in words(card, "footing")
    assert "rock" not in words(card, "footing")
    assert words(card, "footing-faces") == {"up"}


@pytest.mark.parametrize("card", MATS)
def test_mats_fight_by_growing_over(card: str) -> None:
    assert "overgrowth" in words(card, "weapon")
    assert words(card, "moves") == {"spreads"}
    assert first(card, "growth-out") >= 4


@pytest.mark.parametrize("card", ["plating-montipora", "encrusting-montipora", "digitata-montipora"])
def test_montipora_wins_by_growth(card: str) -> None:
    assert "overgrowth" in words(card, "weapon")
    assert first(card, "growth-out") >= 4


def test_plates_and_tables_grow_wide() -> None:
    assert words("plating-montipora", "growth-form") == {"plate"}
    assert words("table-acropora", "growth-form") == {"table"}
    assert min(most(card, "growth-mature-width") for card in ("plating-montipora", "table-acropora")) >= 45


def test_long_sweepers_need_more_room_than_short_ones() -> None:
    far = [
        most(card, "weapon-at-most") for card in ("galaxea", "torch", "wall-hammer", "frogspawn", "elegance")
    ]
    near = [most(card, "weapon-at-most") for card in cards() if words(card, "group") == {"small-polyp"}]
    assert min(far) > max(near)


def test_hammers_and_frogspawn_may_touch_and_torches_stand_apart() -> None:
    kin = words("wall-hammer", "contact-group")
    assert kin == words("branching-hammer", "contact-group") == words("frogspawn", "contact-group")
    assert words("torch", "contact-group") != kin


@pytest.mark.parametrize(
    "card", ["open-brain", "cynarina", "scoly", "elegance", "blasto-wellsi", "fox-coral"]
)
def test_fleshy_corals_want_gentle_water_and_no_jet(card: str) -> None:
    assert most(card, "flow-max") <= 15
    assert "direct-jet" in words(card, "flow-avoid")


@pytest.mark.parametrize("card", ["bubble-tip", "magnifica", "giant-carpet", "haddoni-carpet"])
def test_anemones_wander(card: str) -> None:
    assert words(card, "moves") == {"wanders"}


@pytest.mark.parametrize("card", ["zoanthus", "palythoa", "yellow-polyps"])
def test_every_zoanthid_is_treated_as_poisonous(card: str) -> None:
    assert words(card, "hazard") == {"palytoxin"}


@pytest.mark.parametrize("card", ["maxima-clam", "crocea-clam", "squamosa-clam", "derasa-clam"])
def test_clams_hurt_nobody_and_stand_nothing(card: str) -> None:
    assert most(card, "weapon-potency") == 0
    assert most(card, "defence") == 0
    assert first(card, "light-best-low") >= 150
