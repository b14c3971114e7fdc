"""The word somebody probably meant."""

from __future__ import annotations

from advisor.language.guess import nearest, several


def test_a_mistyped_word_finds_its_neighbour() -> None:
    assert nearest("expct", ("expect", "unless", "because")) == "expect"


def test_nothing_is_guessed_when_nothing_is_like() -> None:
    assert nearest("qqq", ("expect", "unless")) == ""
    assert nearest("expct", ()) == ""


def test_the_order_of_the_known_words_does_not_matter() -> None:
    words = ["light-min", "light-max", "light-low"]
    assert nearest("light-mix", words) == nearest("light-mix", reversed(words))


def test_long_lists_are_counted_to_the_end() -> None:
    assert several("abc") == "a, b, c"
    assert several("abcdef", 4) == "a, b, c, d and 2 more"
