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


PLAIN = """\
torch: torch, torch-1, Torch Coral, Euphyllia glabrescens, gold torch, glabrescens, a torch, torch frag
wall-hammer: wall hammer, euphyllia ancora, Fimbriaphyllia ancora, ancora
branching-hammer: branching hammer, Euphyllia paraancora, fimbriaphyllia paraancora
frogspawn: frogspawn, octospawn, euphyllia divisa, Fimbriaphyllia paradivisa
bushy-acropora: Acropora millepora, milli, tenuis
lobophyllia: lobo, symphyllia, Symphyllia recta
dipsastraea: favia, moon coral
open-brain: wellso, wellsophyllia, trachyphyllia, Trachyphyllia geoffroyi, trachy, open brain
platygyra: maze brain, platygyra
favites: war coral
acan-lord: acan lord, acan lordhowensis, Acanthastrea lordhowensis, micromussa, Micromussa lordhowensis
acan-echinata: Acanthastrea echinata
scoly: scolymia, homophyllia, Homophyllia australis
cynarina: cynarina, meat coral, Acanthophyllia
chalice: chalice, echinophyllia, Oxypora
elegance: elegance coral, catalaphyllia
pearl-bubble: pearl bubble, Physogyra lichtensteini
bubble-coral: Plerogyra sinuosa
fox-coral: fox coral, Nemenzophyllia turbida
galaxea: galaxy coral, Galaxea astreata
long-tentacle-plate: heliofungia
plate-coral: disc coral, fungia, Cycloseris
candy-cane: trumpet coral, caulastrea, Caulastraea
duncan: duncans, whisker coral
birdsnest: bird's nest, birds nest, Seriatopora hystrix
stylophora: stylo, Stylophora pistillata
pocillopora: cauliflower coral
plating-montipora: monti cap, Montipora capricornis
digitata-montipora: monti digitata, digi
blue-coral: heliopora, Heliopora coerulea
organ-pipe: Tubipora musica, pipe organ coral
green-star-polyps: GSP, green star polyp, Pachyclavularia
zoanthus: zoas, zoa
palythoa: palys, people eaters, Protopalythoa
hairy-mushroom: rhodactis
yuma: Ricordea yuma
bubble-tip: bubble tip, BTA, Entacmaea quadricolor
magnifica: Heteractis magnifica, ritteri
sea-plume: Pseudopterogorgia
derasa-clam: Tridacna derasa, derasa
gigas-clam: gigas
sun-coral: tubastrea, black sun coral
colt-coral: cladiella, Klyxum
"""
"""A card, and names that mean it alone: trade names, present and former binomials, genera, species."""

SEVERAL = """\
hammer, hamer: wall-hammer branching-hammer
acan, acans, acann: acan-lord acan-echinata
euphyllia, some euphyllia: torch wall-hammer branching-hammer frogspawn
leathers, leather coral: toadstool devils-hand finger-leather cabbage-leather
zoanthid: zoanthus palythoa yellow-polyps
brain, brains, brain coral: dipsastraea favites goniastrea leptoria lobophyllia open-brain platygyra
mushroom, mushrooms, some mushroom: disc-mushroom elephant-ear florida-ricordea hairy-mushroom yuma
monti: plating-montipora encrusting-montipora digitata-montipora
acro: bushy-acropora staghorn-acropora table-acropora
acropora: bushy-acropora staghorn-acropora table-acropora deepwater-acropora
millepora: fire-coral bushy-acropora
goni, goniopora, flowerpot: long-goniopora short-goniopora
ricordea, rics, ricordia: florida-ricordea yuma
blasto, blastomussa: blasto-merleti blasto-wellsi
turbinaria: cup-turbinaria scroll-turbinaria
porites: boulder-porites finger-porites
carpet anemone: giant-carpet haddoni-carpet
sinularia: cabbage-leather finger-leather
tridacna: crocea-clam derasa-clam gigas-clam maxima-clam squamosa-clam
"""
"""Names that several cards bear, right or misspelt, and those cards."""


def halves(table: str) -> list[tuple[str, str]]:
    """Both sides of each line of a table."""
    return [(left, right) for left, _, right in (line.partition(": ") for line in table.splitlines())]


NAMES = [(name, card) for card, names in halves(PLAIN) for name in names.split(", ")]
BORNE = [(name, frozenset(cards.split())) for names, cards in halves(SEVERAL) for name in names.split(", ")]


def test_the_tables_are_long_enough_to_mean_something() -> None:
    assert len(NAMES) + len(BORNE) >= 120
    assert len({name for name, _ in (*NAMES, *BORNE)}) == len(NAMES) + len(BORNE)


@pytest.mark.parametrize(("text", "card"), NAMES)
def test_a_name_that_means_one_card(text: str, card: str, library: Library) -> None:
    found = find_card(text, library)
    assert found.cards == (card,)
    assert found.certain


@pytest.mark.parametrize(("text", "some"), BORNE)
def test_a_name_that_means_several_lists_them_and_says_what_counts(
    text: str, some: frozenset[str], library: Library
) -> None:
    found = find_card(text, library)
    assert set(found.cards) == some == set(found.candidates)
    assert not found.certain
    assert found.how.startswith((f"'{text}' may be ", f"'{text}' was read as "))
    assert all(card.replace("-", " ") in found.how for card in some)
    assert "the strictest counts, so a yes must suit " in found.how


@pytest.mark.parametrize(
    ("word", "group"),
    [
        ("soft coral", "soft"),
        ("some soft coral", "soft"),
        ("SPS", "small-polyp"),
        ("unknown sps frag", "small-polyp"),
        ("LPS", "large-polyp"),
        ("large-polyp", "large-polyp"),
    ],
)
def test_a_group_word_means_every_card_of_the_group(word: str, group: str, library: Library) -> None:
    of_group = {
        name
        for name, card in cards().items()
        if any(value.key == "group" and group in value.words for value in card.values)
    }
    found = find_card(word, library)
    assert set(found.cards) == of_group
    assert len(of_group) > 10
    assert f"any of {len(of_group)} cards" in found.how
    assert "a yes must suit all of them" in found.how


@pytest.mark.parametrize(
    ("text", "card"),
    [
        ("tortch", "torch"),
        ("frogspwan", "frogspawn"),
        ("toadstol leather", "toadstool"),
        ("todstool", "toadstool"),
        ("dunkan", "duncan"),
        ("candycane", "candy-cane"),
        ("galaxia", "galaxea"),
        ("pocilopora", "pocillopora"),
        ("lobophylia", "lobophyllia"),
        ("catalaphylia", "elegance"),
        ("starpolyps", "green-star-polyps"),
        ("xeniaa", "xenia"),
        ("purple sea plume", "sea-plume"),
        ("paly grandis", "palythoa"),
    ],
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
