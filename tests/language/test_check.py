"""Files joined into one library."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.check import check
from advisor.language.parse import parse_file
from advisor.language.walk import conditions, names_used
from advisor.model.vocabulary import Measure
from tests.language.texts import (
    COMPUTED,
    base,
    base_library,
    checked,
    codes,
    shipped_trees,
)


def test_the_base_has_everything_it_declares() -> None:
    library = base_library()
    assert set(library.rules) == {"keep-clear", "light-enough", "mind-your-hands"}
    assert set(library.defines) == {"can-hurt"}
    assert set(library.lets) == {"sweeper-allowance", "low-light"}
    assert set(library.cards) == {"lamp-torch"}
    assert library.house == ()


def test_the_shipped_rules_have_no_fault() -> None:
    library, problems = check(shipped_trees())
    assert problems == ()
    assert library.rules
    assert library.cards
    assert library.examples


def test_the_order_of_the_files_makes_no_difference() -> None:
    trees = list(shipped_trees())
    first = check(trees)
    random.Random(1).shuffle(trees)
    assert check(trees) == first


@given(st.permutations(range(4)))
def test_the_order_of_faulty_files_makes_no_difference(order: list[int]) -> None:
    texts = (
        "let a-gap = 3 cm\nlet twice = 1 cm",
        "let twice = 2 cm\ndefine odd(animal a) as size(a) >= low-light",
        "define odder(animal a) as odd(a)",
        'house\n  change sweeper-allowance from 5 cm to 6 cm because "x"\n  switch off nothing',
    )
    files = [parse_file(f"file-{index}.rules", "edition 1\n" + text)[0] for index, text in enumerate(texts)]
    shuffled = [files[index] for index in order]
    assert check([base(), *shuffled], COMPUTED) == check([base(), *files], COMPUTED)


def test_what_rests_on_a_fault_is_left_out_with_it() -> None:
    library, problems = checked(
        "define odd(animal a) as size(a) >= low-light\n"
        "define odder(animal a) as odd(a) and size(a) > 3 cm\n"
        'rule r\n  for animal a\n  expect odder(a)\n  level advice\n  because "{a}"\n'
        'example "e" for r\n  given a-1 is animal\n  then a-1 holds\n'
        "define sound(animal a) as size(a) > 3 cm\n"
    )
    assert codes(problems) == ["units-201"]
    assert "sound" in library.defines
    assert not {"odd", "odder"} & set(library.defines)
    assert "r" not in library.rules
    assert library.examples == ()


def test_the_second_of_two_names_is_left_out() -> None:
    library, problems = checked("let low-light = 60 PAR")
    assert codes(problems) == ["word-126"]
    assert problems[0].related[0].span.file == "base.rules"
    assert library.lets["low-light"].value.value == 50.0


def test_a_rule_and_a_preference_share_their_names() -> None:
    _, problems = checked(
        'prefer keep-clear\n  for animal a\n  want size(a) > 3 cm\n  weight 1\n  because "x"'
    )
    assert codes(problems) == ["word-126"]


def test_a_card_may_be_called_like_a_rule() -> None:
    assert checked('card keep-clear "x"\n  genus odd\n  source "s" kind guess')[1] == ()


def test_names_that_may_be_computed_are_a_closed_list_only_if_it_is_given() -> None:
    text = "measure shade(place p) in PAR between 0 and 9 PAR from computed by sorcery"
    assert codes(checked(text)[1]) == ["measure-605"]
    file, _ = parse_file("x", "edition 1\n" + text)
    assert check([base(), file])[1] == ()


def test_no_files_make_an_empty_library() -> None:
    library, problems = check([])
    assert problems == ()
    assert library.vocabulary.measures == {}


@pytest.mark.parametrize("name", ["gap", "light", "group", "size"])
def test_a_measure_taken_away_is_told_wherever_it_was_used(name: str) -> None:
    trees = [
        replace(
            tree,
            declarations=tuple(
                item for item in tree.declarations if not (isinstance(item, Measure) and item.name == name)
            ),
        )
        for tree in shipped_trees()
    ]
    library, problems = check(trees)
    assert any(f"I do not know '{name}'" in problem.what for problem in problems)
    used = [
        rule.name for rule in library.rules.values() if name in names_used(conditions(rule), library.defines)
    ]
    assert used == []


def test_a_rule_with_an_unknown_word_of_the_language_hides_its_own_mistakes_and_no_other_rules() -> None:
    rule = 'rule {0}\n  for animal a\n  expect ligt(a.spot) >= 30 PAR\n  level {1}\n  because "{{a}}"\n'
    file, unread = parse_file(
        "own.rules", "edition 1\n" + rule.format("one", "warnign") + rule.format("two", "warning")
    )
    _, problems = check([base(), file], COMPUTED)
    assert (codes(unread), codes(problems)) == (["word-101"], ["word-104"])
    _, mended = checked(rule.format("one", "warning") + rule.format("two", "warning"))
    assert codes(mended) == ["word-104", "word-104"]
