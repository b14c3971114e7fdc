"""What cards tell, gathered by line."""

from __future__ import annotations

from advisor.rulework.cardindex import CardIndex, index_of
from tests.language.texts import base_library


def test_values_stand_with_the_row_of_their_card() -> None:
    index = index_of(base_library())
    assert index.names == ("lamp-torch",)
    assert index.numbers["light-max"] == ((0, 250.0),)
    assert (0, "large-polyp") in index.words["group"]
    assert index.samples("weapon-at-most") == (2.0, 20.0, 20.0)


def test_what_no_card_tells_is_nothing() -> None:
    assert CardIndex().samples("light-max") == ()
