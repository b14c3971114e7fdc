"""Cards as they are printed."""

from __future__ import annotations

import pytest

from advisor.errors import Span, UnusableInput
from advisor.language.format import format_file
from advisor.language.format_cards import card_lines, printed
from advisor.language.nodes import Card, CardValue
from tests.language.texts import read

AT = Span("x", 3)


def card(*values: CardValue) -> Card:
    """A card of some values."""
    return Card(Span("x", 2), "odd", "odd", (), values, None)


def test_values_of_one_ground_share_a_line() -> None:
    text = (
        'card odd "odd one"\n  light       min 40 PAR  best 80 to 150 PAR  max 250 PAR\n'
        "  light       max 200 PAR\n"
    )
    assert format_file(read(text)) == f"edition 1\n\n{text}"


def test_a_weapon_begins_a_line_of_its_own() -> None:
    text = 'card odd "odd one"\n  weapon      filaments  reach 1 cm\n  weapon      mucus\n'
    assert format_file(read(text)) == f"edition 1\n\n{text}"


def test_names_stand_together_below_the_scientific_one() -> None:
    text = 'card odd "odd one"\n  taxon       "Examplea odda"\n  genus       examplea  group soft\n'
    assert format_file(read(text)) == f"edition 1\n\n{text}"


def test_what_the_flow_is_like_stands_below_how_strong_it_is() -> None:
    text = 'card odd "odd one"\n  flow        min 4 cm/s  max 22 cm/s\n  flow        pattern random\n'
    assert format_file(read(text)) == f"edition 1\n\n{text}"


def test_a_remark_too_long_for_its_line_stands_below_it() -> None:
    text = f'card odd "odd one"\n  hazard      mild-sting\n              "{"it stings " * 8}so"\n'
    assert format_file(read(text)) == f"edition 1\n\n{text}"


def test_the_ground_of_a_whole_card_stands_apart() -> None:
    text = 'card odd "odd one"\n  defence     3\n\n  source "mine" kind guess\n'
    assert format_file(read(text.replace("\n\n", "\n"))) == f"edition 1\n\n{text}"


def test_a_range_without_its_upper_end_cannot_be_written() -> None:
    with pytest.raises(UnusableInput, match="upper end"):
        card_lines(card(CardValue(AT, "light-best-low", number=3.0, unit="PAR")))


def test_a_key_of_no_line_cannot_be_written() -> None:
    with pytest.raises(UnusableInput, match="mood"):
        card_lines(card(CardValue(AT, "mood", words=("good",))))


def test_a_line_is_printed_with_its_words() -> None:
    (line,) = card_lines(card(CardValue(AT, "flow-pattern", words=("random", "pulsing"))))
    assert printed(line) == ["pattern random, pulsing"]
