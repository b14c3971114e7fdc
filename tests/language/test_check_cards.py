"""Cards against the vocabulary."""

from __future__ import annotations

from advisor.language.check_cards import CardLines, check_card
from tests.language.texts import base_library, checked, codes

CARD = 'card odd "odd"\n  {}\n  source "s" kind guess'


def told(line: str) -> list[str]:
    """The codes of one line of a card."""
    return codes(checked(CARD.format(line))[1])


def test_a_sound_line_is_not_told() -> None:
    assert told("light min 40 PAR best 80 to 150 PAR max 250 PAR") == []
    assert told("weapon filaments reach 10 mm at-most 2 cm potency 3") == []
    assert told('hazard palytoxin, mild-sting "Gloves."') == []


def test_units_ranges_and_words_are_held_against_the_measure() -> None:
    assert told("light min 40 cm") == ["units-201"]
    assert told("light min 40") == ["units-202"]
    assert told("light min 1501 PAR") == ["card-908"]
    assert told("weapon claws") == ["word-119"]
    assert told("group soft") == []


def test_disagreeing_lines_are_no_fault() -> None:
    assert told("light max 250 PAR\n  light max 300 PAR") == []


def test_order_is_asked_within_one_weapon_only() -> None:
    assert told("weapon filaments reach 9 cm\n  weapon sweeper-tentacles at-most 3 cm") == []
    assert told("weapon filaments reach 9 cm at-most 3 cm") == ["card-910"]


def test_equal_ends_are_in_order() -> None:
    assert told("light min 80 PAR best 80 to 80 PAR max 80 PAR") == []


def test_a_faulty_value_is_left_off_the_card() -> None:
    library, _ = checked(CARD.format("light min 40 cm max 250 PAR"))
    assert [value.key for value in library.cards["odd"].values] == ["light-max"]


def test_card_lines_are_those_that_cards_supply() -> None:
    lines = CardLines.of(base_library().vocabulary)
    assert lines.by_key["weapon-reach"].name == "reach-usual"
    assert "size" not in lines.by_key
    assert check_card(base_library().cards["lamp-torch"], lines)[0] == []
