"""Words for an action: their inflections, and which actions go by the words of another."""

from __future__ import annotations

import pytest

from advisor.errors import Span
from advisor.language.nodes import Action
from advisor.language.phrases import inflections, phrases_of, says_also


def action(name: str, *also: str) -> Action:
    """An action of some words."""
    return Action(Span(""), name, name, also)


def test_inflections_are_regular_endings() -> None:
    assert {"scrubs", "scrubbed", "scrubbing"} <= inflections("scrub")
    assert {"glues", "glued", "gluing"} <= inflections("glue")
    assert {"dries", "dried", "drying"} <= inflections("dry")
    assert {"saws", "sawed", "sawing"} <= inflections("saw")


def test_the_phrases_are_plain_words_the_name_first() -> None:
    assert list(phrases_of(action("jet-wash", "Hot  water"))) == [("jet", "wash"), ("hot", "water")]


@pytest.mark.parametrize("words", ["boil", "boil gently", "gentle boiling", "boiled"])
def test_whoever_goes_by_a_word_of_another_says_it(words: str) -> None:
    assert says_also(action("warm", words), action("boil", "cook"))


@pytest.mark.parametrize("words", ["boiler", "bath", "cold water"])
def test_other_words_are_other_actions(words: str) -> None:
    assert not says_also(action("warm", words), action("boil", "cook"))
