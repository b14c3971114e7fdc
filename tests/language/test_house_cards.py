"""House lines about cards."""

from __future__ import annotations

import pytest

from advisor.language.house_cards import card_change, cards_after, listed_words, shown_of, words_of
from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue
from advisor.model.vocabulary import Grade
from tests.language.house_lines import edit, fresh
from tests.language.texts import base_library, checked, codes

CARD = """card odd-one "odd one"
  group    soft
  light    min 50 PAR
  light    min 60 PAR  source "another" kind guess
  footing  rock
  footing  sand  source "another" kind guess
  weapon   filaments  reach 2 cm at-most 3 cm potency 2
  weapon   filaments  source "another" kind guess
  hazard   mild-sting
  source   "invented" kind guess
"""


def laid(*lines: str) -> tuple[Library, list[str]]:
    """The odd card with some lines laid over, and the codes of what was found."""
    library, problems = checked(CARD, "house\n" + "\n".join(f"  {line}" for line in lines))
    return library, codes(problems)


def of(card: Card, key: str, name: str = "") -> list[CardValue]:
    """The values of a card under one key."""
    return [value for value in card.values if value.key == key and name in ("", value.of)]


def odd(*lines: str) -> Card:
    """The odd card with some lines laid over, without a fault."""
    library, found = laid(*lines)
    assert found == []
    return library.cards["odd-one"]


def test_a_card_takes_the_new_value_and_names_the_house() -> None:
    house = fresh()
    line = edit('change lamp-torch light max from 250 PAR to 300 PAR because "does well"')
    for meant in card_change(house, line):
        meant.apply(house)
    (value,) = of(cards_after(house)[0]["lamp-torch"], "light-max")
    assert value.number == 300.0
    assert value.span == line.span
    assert value.source is not None
    assert value.source.text == "the house's own, instead of 250 PAR: does well"
    assert value.source.grade is Grade.EXPERIENCE


def test_a_change_for_one_animal_leaves_the_card_alone() -> None:
    line = 'change lamp-torch light max from 250 PAR to 300 PAR for torch-1 because "does well"'
    library, problems = checked(f"house\n  {line}")
    assert problems == ()
    assert library.cards == base_library().cards
    (value,) = of(library.alone["torch-1"]["lamp-torch"], "light-max")
    assert value.number == 300.0


def test_a_change_for_one_animal_goes_before_the_general_one() -> None:
    library, problems = checked(
        "house\n"
        "  change lamp-torch light max from 250 PAR to 300 PAR\n"
        "  change lamp-torch light min from 50 PAR to 40 PAR\n"
        "  change lamp-torch light max from 250 PAR to 280 PAR for torch-1\n"
    )
    assert problems == ()
    numbers = {
        name: [of(card, key)[0].number for key in ("light-min", "light-max")]
        for name, card in (
            ("all", library.cards["lamp-torch"]),
            ("torch-1", library.alone["torch-1"]["lamp-torch"]),
        )
    }
    assert numbers == {"all": [40.0, 300.0], "torch-1": [40.0, 280.0]}


def test_both_ends_of_a_band_are_changed_in_one_line() -> None:
    library, problems = checked("house\n  change lamp-torch light best from 80 to 150 PAR to 90 to 160 PAR\n")
    assert problems == ()
    card = library.cards["lamp-torch"]
    assert [of(card, f"light-best-{end}")[0].number for end in ("low", "high")] == [90.0, 160.0]


def test_one_weapon_is_changed_alone() -> None:
    library, problems = checked(
        'house\n  change lamp-torch weapon sweeper-tentacles at-most from 20 cm to 15 cm because "seen"\n'
    )
    assert problems == ()
    reach = {value.of: value.number for value in of(library.cards["lamp-torch"], "weapon-at-most")}
    assert reach == {"sweeper-tentacles": 15.0, "filaments": 2.0}


def test_words_of_a_line_are_changed() -> None:
    (value,) = of(odd('change odd-one group from soft to clam because "seen"'), "group")
    assert value.words == ("clam",)


def test_words_said_by_several_sources_are_changed_one_by_one_or_together() -> None:
    one = odd("change odd-one footing from sand to rubble")
    assert [value.words for value in of(one, "footing")] == [("rock",), ("rubble",)]
    both = odd("change odd-one footing from sand, rock to rubble")
    assert [value.words for value in of(both, "footing")] == [("rubble",)]


def test_one_of_two_sources_that_disagree_is_changed_and_the_other_kept() -> None:
    card = odd("change odd-one light min from 60 PAR to 70 PAR")
    assert [value.number for value in of(card, "light-min")] == [50.0, 70.0]
    card = odd(
        "change odd-one light min from 60 PAR to 70 PAR", "change odd-one light min from 50 PAR to 45 PAR"
    )
    assert [value.number for value in of(card, "light-min")] == [45.0, 70.0]


def test_the_numbers_of_a_weapon_go_with_its_name() -> None:
    card = odd('change odd-one weapon from filaments to sweeper-tentacles because "seen"')
    assert [value.words for value in of(card, "weapon")] == [("sweeper-tentacles",)]
    assert [value.number for value in of(card, "weapon-at-most", "sweeper-tentacles")] == [3.0]


def test_a_weapon_taken_away_takes_its_numbers_with_it() -> None:
    card = odd('change odd-one weapon from filaments to none because "trimmed"')
    assert of(card, "weapon-at-most") == []
    assert {value.words for value in of(card, "weapon")} == {("none",)}


def test_a_caution_may_be_added_and_never_taken_off() -> None:
    library, found = laid("change odd-one hazard from mild-sting to mild-sting, palytoxin")
    assert found == []
    assert of(library.cards["odd-one"], "hazard")[0].words == ("mild-sting", "palytoxin")
    library, found = laid('change odd-one hazard from mild-sting to palytoxin because "x"')
    assert found == ["house-506"]
    assert of(library.cards["odd-one"], "hazard")[0].words == ("mild-sting",)


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ('change lamp-torch light max from 200 PAR to 240 PAR because "x"', "house-501", "stricter"),
        ('change lamp-torch light min from 40 PAR to 45 PAR because "x"', "house-501", "looser"),
        ("change lamp-torch group from soft to clam", "house-501", "your clam"),
        ("change lamp-torch group from soft to large-polyp", "house-501", "the shipped value itself"),
        ("change lamp-torch light best from 80 to 140 PAR to 90 to 150 PAR", "house-501", "shipped"),
        ('change lamp-torch light max from 250 PAR to 2501 PAR because "x"', "house-508", "not possible"),
        ('change lamp-torch light max from 250 cm to 240 cm because "x"', "house-508", "a length"),
        ('change lamp-torch light best from 80 PAR to 90 PAR because "x"', "house-502", "no number"),
        ('change lamp-torch growth out from 8 mm/month to 9 mm/month because "x"', "house-502", "says no"),
        ("change lamp-torch weapon sweeper-tentacles at-most from 20 cm to 15 cm", "house-504", "danger"),
        ("change odd-one weapon from filaments to none", "house-504", "danger"),
        ("change lamp-torch light max from 250 PAR to 20 PAR", "card-910", "above"),
    ],
)
def test_a_refusal_says_why(line: str, code: str, words: str) -> None:
    _, problems = checked(CARD, f"house\n  {line}")
    assert set(codes(problems)) == {code}
    assert words in problems[0].what


def test_a_drifted_band_is_written_anew_with_both_ends() -> None:
    _, problems = checked("house\n  change lamp-torch light best from 80 to 140 PAR to 90 to 160 PAR")
    assert " ".join(problems[0].mend.split()) == (
        "remove the line, or change lamp-torch light best from 80 to 150 PAR to 90 to 160 PAR "
        'because "your reason"'
    )


def test_values_are_shown_as_a_card_writes_them() -> None:
    card = base_library().cards["lamp-torch"]
    assert shown_of(of(card, "light-max")[0]) == "250 PAR"
    assert shown_of(of(card, "weapon")[0]) == "sweeper-tentacles"
    assert words_of(of(card, "group")[0]) == ("large-polyp",)
    assert listed_words(("a", "b")) == "a, b"
