"""A name that is taken: which of two counts, and what a house file is told to write instead."""

from __future__ import annotations

import pytest

from advisor.language.check import check
from advisor.language.nodes import RuleFile
from advisor.language.parse import parse_file
from advisor.language.twice import place_of
from tests.language.texts import COMPUTED, base

SHIPPED = """let my-gap = 3 cm
define near(animal a, animal b) as gap(a, b) < my-gap  say "{a} is near {b}"
rule keep-off
  for animal a, neighbour b of a
  expect gap(a, b) >= my-gap
  level warning
  because "x"
card odd "odd coral"
  genus odd
  source "s" kind guess
"""


def parsed(name: str, text: str) -> RuleFile:
    """Return a file; a mistake in it fails the test."""
    file, problems = parse_file(name, f"edition 1\n{text}")
    assert problems == ()
    return file


@pytest.mark.parametrize("name", ["a-house.rules", "z-house.rules"])
@pytest.mark.parametrize(("text", "mend"), [
    ("let my-gap = 5 cm", "change my-gap from 3 cm to 5 cm"),
    ('define near(animal a, animal b) as gap(a, b) < 9 cm  say "{a} is near {b}"',
     "give yours another name"),
    ('rule keep-off\n  for animal a\n  expect size(a) >= 9 cm\n  level advice\n  because "y"',
     "give yours another name, and switch off keep-off"),
    ('prefer keep-off\n  for animal a\n  want size(a) >= 9 cm\n  weight 1\n  because "y"',
     "give yours another name, and switch off keep-off"),
    ('card odd "another"\n  genus even\n  source "s" kind guess',
     "give yours another name, or change odd, line by line"),
    ("measure my-gap(animal a) in cm between 0 and 9 cm from keeper ask \"?\"", "give yours another name"),
])  # fmt: skip
def test_what_is_shipped_counts_however_the_house_file_is_called(name: str, text: str, mend: str) -> None:
    shipped = parsed("m-shipped.rules", SHIPPED)
    alone, none = check([base(), shipped], COMPUTED)
    assert none == ()
    library, problems = check([base(), shipped], COMPUTED, [parsed(name, text)])
    (problem,) = [each for each in problems if each.code == "word-126"]
    assert problem.span is not None
    assert problem.span.file == name
    assert problem.mend == mend
    assert [(each.span.file, each.label) for each in problem.related] == [
        ("m-shipped.rules", "the shipped one")
    ]
    assert (library.lets, library.rules, library.cards) == (alone.lets, alone.rules, alone.cards)
    assert library.vocabulary == alone.vocabulary


def test_two_of_the_house_are_told_as_any_two() -> None:
    own = [parsed("one.rules", "let mine = 3 cm"), parsed("two.rules", "let mine = 4 cm")]
    for house in (own, own[::-1]):
        library, problems = check([base()], COMPUTED, house)
        (problem,) = problems
        assert (problem.code, problem.mend) == ("word-126", "give one of them another name")
        assert library.lets["mine"].value.value == 3.0
        assert problem.related[0].label == "the first one"


def test_a_declaration_begins_where_it_stands() -> None:
    assert place_of(parsed("one.rules", "let mine = 3 cm").declarations[0]).line == 2  # type: ignore[arg-type]  # a let


WORD = 'word "{word}" of light from {who} means {low} to {high} PAR  source "s" kind guess\n'
FLAT = WORD.format(word="flat", who="anyone", low=400, high=800)
WEAK = WORD.format(word="weak", who="seller", low=30, high=90)


@pytest.mark.parametrize(
    ("word", "who"),
    [("flat", "anyone"), ("Flat", "keeper"), ("flat", "seller"), ("weak", "seller"), ("weak", "anyone")],
)
def test_a_word_that_has_a_shipped_meaning_is_not_the_houses_to_give(word: str, who: str) -> None:
    shipped = parsed("shipped.rules", FLAT + WEAK)
    own = parsed("a-house.rules", WORD.format(word=word, who=who, low=1, high=2))
    library, problems = check([base(), shipped], COMPUTED, [own])
    told = [each for each in problems if each.code == "word-126"]
    assert [(each.span.file if each.span else "", each.mend) for each in told] == [
        ("a-house.rules", "choose another word")
    ]
    assert library.words == check([base(), shipped], COMPUTED)[0].words


@pytest.mark.parametrize(("word", "who"), [("weak", "keeper"), ("faint", "anyone")])
def test_a_word_of_ones_own_that_takes_nothing_away_counts(word: str, who: str) -> None:
    shipped = parsed("shipped.rules", FLAT + WEAK)
    own = parsed("a-house.rules", WORD.format(word=word, who=who, low=1, high=2))
    library, problems = check([base(), shipped], COMPUTED, [own])
    assert not [each for each in problems if each.code == "word-126"]
    assert [each.word for each in library.words].count(word) == (2 if word == "weak" else 1)


@pytest.mark.parametrize("turned", [False, True])
def test_two_meanings_of_ones_own_are_an_error_in_either_order(*, turned: bool) -> None:
    lines = [WORD.format(word="brisk", who="keeper", low=low, high=low * 2) for low in (10, 100)]
    own = parsed("house.rules", "".join(reversed(lines) if turned else lines))
    _, problems = check([base()], COMPUTED, [own])
    assert [each.code for each in problems if each.code == "word-126"] == ["word-126"]
