"""What a keeper calls an animal, and the card that is meant."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.knowledge.nameindex import plain_name
from advisor.knowledge.names import CardMatch, choose_cards, find_card
from advisor.language.library import Library
from advisor.model.tank import Animal, Phase
from advisor.model.vocabulary import Vocabulary
from tests.outside.published import cards


@pytest.fixture(scope="module")
def library() -> Library:
    return Library(Vocabulary(), cards=cards())


@pytest.mark.parametrize(
    ("text", "card"),
    [
        ("torch", "torch"),
        ("torch-1", "torch"),
        ("Torch Coral", "torch"),
        ("Euphyllia glabrescens", "torch"),
        ("euphyllia ancora", "wall-hammer"),
        ("Euphyllia paraancora", "branching-hammer"),
        ("euphyllia divisa", "frogspawn"),
        ("Acropora millepora", "bushy-acropora"),
        ("symphyllia", "lobophyllia"),
        ("favia", "dipsastraea"),
        ("wellso", "open-brain"),
        ("GSP", "green-star-polyps"),
        ("bird's nest", "birdsnest"),
        ("zoas", "zoanthus"),
        ("palys", "palythoa"),
        ("bubble tip", "bubble-tip"),
        ("Pseudopterogorgia", "sea-plume"),
        ("Heteractis magnifica", "magnifica"),
        ("Tridacna derasa", "derasa-clam"),
        ("disc coral", "plate-coral"),
    ],
)
def test_a_name_that_means_one_card(text: str, card: str, library: Library) -> None:
    found = find_card(text, library)
    assert found.cards == (card,)
    assert found.certain


@pytest.mark.parametrize(
    ("text", "some"),
    [
        ("hammer", {"wall-hammer", "branching-hammer"}),
        ("acan", {"acan-lord", "acan-echinata"}),
        ("euphyllia", {"torch", "wall-hammer", "branching-hammer", "frogspawn"}),
        ("leathers", {"toadstool", "devils-hand", "finger-leather", "cabbage-leather"}),
        ("zoanthid", {"zoanthus", "palythoa", "yellow-polyps"}),
    ],
)
def test_a_name_that_means_several_is_not_certain(text: str, some: set[str], library: Library) -> None:
    found = find_card(text, library)
    assert set(found.cards) == some == set(found.candidates)
    assert not found.certain
    assert found.how.startswith(f"'{text}' may be ")


@pytest.mark.parametrize(
    ("word", "group"), [("soft coral", "soft"), ("SPS", "small-polyp"), ("LPS", "large-polyp")]
)
def test_a_group_word_means_every_card_of_the_group(word: str, group: str, library: Library) -> None:
    of_group = {
        name
        for name, card in cards().items()
        if any(value.key == "group" and group in value.words for value in card.values)
    }
    assert set(find_card(word, library).cards) == of_group
    assert len(of_group) > 10


@pytest.mark.parametrize(
    ("text", "card"), [("tortch", "torch"), ("frogspwan", "frogspawn"), ("toadstol leather", "toadstool")]
)
def test_a_slip_of_the_pen_is_read_and_said(text: str, card: str, library: Library) -> None:
    found = find_card(text, library)
    assert found.cards == (card,)
    assert not found.certain
    assert "taken for" in found.how or "read as" in found.how


def test_a_known_name_inside_a_longer_one_is_taken_and_said(library: Library) -> None:
    found = find_card("purple tip branching hammer frag", library)
    assert found == CardMatch(
        ("branching-hammer",),
        "'purple tip branching hammer frag' was taken for branching hammer",
        certain=False,
        candidates=("branching-hammer",),
    )


def test_an_unknown_species_falls_back_on_its_genus(library: Library) -> None:
    found = find_card("Pocillopora grandis", library)
    assert found.cards == ("pocillopora",)
    assert "by its genus" in found.how
    assert not found.certain


@pytest.mark.parametrize("text", ["xylophone", "qqq", "", " - "])
def test_an_unknown_name_has_no_card_and_says_so(text: str, library: Library) -> None:
    found = find_card(text, library)
    assert found.cards == ()
    assert not found.certain
    assert found.how


def test_a_far_slip_is_answered_with_the_nearest(library: Library) -> None:
    found = find_card("galaxxia fasc", library)
    assert found.cards == ()
    assert "galaxea" in found.candidates
    assert "nearest" in found.how


def test_every_card_is_found_by_its_own_name_and_title(library: Library) -> None:
    for name, card in cards().items():
        assert find_card(name, library).cards == (name,)
        assert name in find_card(card.title, library).cards


def test_no_name_of_a_card_is_lost(library: Library) -> None:
    own = {plain_name(name) for name in cards()}
    for name, card in cards().items():
        for other in card.also:
            assert name in find_card(other, library).cards or plain_name(other) in own, (name, other)


def test_animals_are_given_cards_by_what_they_are(library: Library) -> None:
    animals = [
        Animal(id="torch-1", taxon="torch", phase=Phase.PLACED, placed_on=date(2026, 1, 1)),
        Animal(id="h", taxon="hammer", phase=Phase.WAITING),
        Animal(id="odd-1", taxon="xylophone", phase=Phase.WAITING),
    ]
    found = choose_cards(animals, library, wanted=("duncan",))
    assert found["torch-1"].cards == ("torch",)
    assert found["torch-1"].note == ""
    assert set(found["h"].cards) == {"wall-hammer", "branching-hammer"}
    assert found["odd-1"].cards == ()
    assert "xylophone" in found["odd-1"].note
    assert found["duncan"].cards == ("duncan",)
