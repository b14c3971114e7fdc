"""What a person is about to do, out of their own words."""

from __future__ import annotations

import pytest

from advisor.knowledge.actions import inflections, understood
from advisor.session.opening import shipped

ACTIONS = shipped().actions


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("boil", {"boil"}),
        ("I am boiling the rock", {"boil"}),
        ("boiled it yesterday, boil again", {"boil"}),
        ("pour boiling water over it", {"boil"}),
        ("rinse it with HOT water", {"heat", "rinse"}),
        ("steam-clean the live rock", {"steam", "scrub"}),
        ("scrubbing with a toothbrush", {"scrub"}),
        ("scrape the polyps off", {"scrape"}),
        ("sawing through the plug", {"saw"}),
        ("sawed, then glued", {"saw", "glue"}),
        ("cutting and dipping", {"cut", "dip"}),
        ("frag it", {"cut"}),
        ("gluing it on a rock", {"glue"}),
        ("an iodine bath", {"dip"}),
        ("lift the arch", {"lift"}),
        ("pressure-washing", {"blast"}),
        ("drying it in the sun", {"dry"}),
        ("microwaving the plug", {"microwave"}),
        ("superglued", {"glue"}),
        ("carries", {"lift"}),
    ],
)
def test_words_in_any_inflection_are_recognised(said: str, meant: set[str]) -> None:
    assert set(understood(said, ACTIONS).actions) == meant


@pytest.mark.parametrize("said", ["", "admire", "feed it", "frobnicate", "ask a friend about colours"])
def test_other_words_are_not_recognised(said: str) -> None:
    assert understood(said, ACTIONS).actions == ()


@pytest.mark.parametrize(
    ("said", "meant"),
    [("boling it", "boil"), ("scrobbing it", "scrub"), ("micrwave it", "microwave"), ("stean", "steam")],
)
def test_one_letter_wrong_is_read_and_told(said: str, meant: str) -> None:
    found = understood(said, ACTIONS)
    assert meant in found.actions
    assert meant in {read for _, read in found.read_as}


def test_a_word_with_another_first_letter_is_another_word() -> None:
    assert understood("soiling", ACTIONS).actions == ()


def test_the_order_is_that_of_the_declarations() -> None:
    assert understood("dip, glue, boil", ACTIONS).actions == understood("boil, glue, dip", ACTIONS).actions


def test_inflections_are_regular_endings() -> None:
    assert {"scrubs", "scrubbed", "scrubbing"} <= inflections("scrub")
    assert {"glues", "glued", "gluing"} <= inflections("glue")
    assert {"dries", "dried", "drying"} <= inflections("dry")
    assert {"saws", "sawed", "sawing"} <= inflections("saw")
