"""What an animal might be at worst, by every part of its name."""

from __future__ import annotations

import pytest

from advisor.knowledge.doubts import all_named
from advisor.session.opening import shipped


def groups_of(name: str) -> set[str]:
    """The groups of every card that a name may speak of."""
    library = shipped()
    return {
        word
        for card in all_named(name, library)
        for value in library.cards[card].values
        if value.key == "group"
        for word in (*value.words, *([value.word] if value.word else []))
    }


@pytest.mark.parametrize(
    "name",
    [
        "encrusting anemone",
        "colonial anemone",
        "mat anemone",
        "mushroom rock with zoathids",
        "hammer with zoanthds",
        "rock with button polps",
        "leather with buttons",
        "xenia mixed w zoos",
        "sun polyps",
        "torch, some palythoaa on the plug",
    ],
)
def test_a_name_that_speaks_of_zoanthids_in_any_spelling_may_be_one(name: str) -> None:
    assert "zoanthid" in groups_of(name)


@pytest.mark.parametrize("name", ["green torch frag", "red goniopora", "my xenia", "acan lord", "rock"])
def test_a_plain_name_of_another_animal_may_not(name: str) -> None:
    assert "zoanthid" not in groups_of(name)


def test_every_known_part_counts_beside_the_misspelt_one() -> None:
    assert {"branching-hammer", "wall-hammer", "zoanthus"} <= set(
        all_named("hammer with zoanthds", shipped())
    )
