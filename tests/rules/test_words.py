"""What loose words stand for: the width of what sellers mean, and a keeper's own word for more."""

from __future__ import annotations

import pytest

from advisor.language.library import Library

Band = tuple[float, float]

# Three sellers' scales side by side, in PAR; a word stands for all of them.
SCALES: dict[str, tuple[Band, ...]] = {
    "low": ((30, 50), (75, 125), (30, 100)),
    "medium": ((50, 150), (150, 200), (100, 250)),
    "high": ((150, 400), (250, 350), (250, 400)),
}


def bands(library: Library, measure: str, said_by: str) -> dict[str, Band]:
    return {
        word.word: (word.low, word.high)
        for word in library.words
        if word.measure == measure and word.said_by == said_by
    }


@pytest.mark.parametrize("word", sorted(SCALES))
def test_a_sellers_word_covers_every_sellers_scale(library: Library, word: str) -> None:
    low, high = bands(library, "light", "seller")[word]
    assert all(low <= least and most <= high for least, most in SCALES[word])


@pytest.mark.parametrize("measure", ["light", "flow"])
def test_a_keepers_word_without_a_meter_is_wider_than_a_sellers(library: Library, measure: str) -> None:
    own, sellers = bands(library, measure, "keeper"), bands(library, measure, "seller")
    shared = set(own) & set(sellers)
    assert len(shared) >= 4
    assert all(own[word][0] <= sellers[word][0] and own[word][1] >= sellers[word][1] for word in shared)


@pytest.mark.parametrize(
    ("looks", "band"),
    [
        ("food falls straight down", (0, 2)),
        ("tentacles stir", (2, 6)),
        ("sways", (6, 15)),
        ("polyps bend", (15, 30)),
    ],
)
def test_what_is_seen_at_a_place_is_a_narrow_band(library: Library, looks: str, band: Band) -> None:
    assert bands(library, "flow", "anyone")[looks] == band


def test_words_that_follow_each_other_leave_no_hole(library: Library) -> None:
    for measure in ("light", "flow"):
        for said_by in ("seller", "shop", "keeper"):
            found = bands(library, measure, said_by)
            assert all(
                found[dim][1] >= found[bright][0]
                for dim, bright in (("low", "medium"), ("medium", "high"), ("high", "very high"))
            )


def test_every_word_names_its_ground(library: Library) -> None:
    assert all(word.source is not None and word.source.text for word in library.words)
