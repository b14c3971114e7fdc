"""What a person is about to do, out of their own words."""

from __future__ import annotations

import pytest

from advisor.knowledge.actions import understood
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


@pytest.mark.parametrize(
    ("said", "meant"),
    [("boyl and cut it", "boil"), ("styam it", "steam"), ("put it in a pan on the stove", "boil")],
)
def test_what_heats_is_heard_in_short_and_misspelt_words(said: str, meant: str) -> None:
    assert meant in understood(said, ACTIONS).actions


def test_words_nothing_was_recognised_in_are_kept() -> None:
    assert understood("cut it with my zorkle outdoors", ACTIONS).unread == ("zorkle", "outdoors")
    assert understood("cut it in a bowl", ACTIONS).unread == ()


def test_an_action_heard_only_through_the_words_of_another_is_told() -> None:
    assert ("scrub", "steam") in understood("steam clean it", ACTIONS).shared
    assert understood("cut and dip it", ACTIONS).shared == frozenset()
