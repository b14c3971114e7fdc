"""Edits that cannot be made alone bring along what they need; each half-made set of rules can be read."""

from __future__ import annotations

import pytest

from advisor.reasoning.compile import compile_prefer, compile_rule
from advisor.rulework.declared import Key, differing, mixed, parts_of
from advisor.rulework.together import together
from tests.rulework.lints import library_of

LET = 'let my-limit = 100 PAR because "a"\n'
SHADE = "measure shade(place p) in hours between 0 and 24 hours  from keeper\n"
DEFINE = "define bright(place p) as light(p) >= my-limit and shade(p) <= 3 hours\n"
RULE = """rule own
  for      animal a
  expect   not bright(a.spot)
  level    advice
  because  "{a}"
"""
WORDY = RULE.replace("not bright(a.spot)", "size(a) <= 40 cm").replace('"{a}"', '"{a} is over {my-limit}"')
WISH = """prefer shady
  for      animal a
  want     shade(a.spot) >= 2 hours
  weight   2  fade 2 steps
  because  "{a}"
"""
LIMIT = 'let limit = {} because "a"\n'
ROOM = "define room(animal a) in {} as {}\n"


def by_limit(value: str) -> str:
    """The rule that compares a value with the limit."""
    return RULE.replace("not bright(a.spot)", f"{value} <= limit")


def by_room(limit: str) -> str:
    """The rule that compares the room with an amount."""
    return RULE.replace("not bright(a.spot)", f"room(a) >= {limit}")


CM, PAR = LIMIT.format("9 cm"), LIMIT.format("9 PAR")
WIDE, LIT = ROOM.format("cm", "size(a)"), ROOM.format("PAR", "light(a.spot)")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", LET + SHADE + DEFINE + RULE + WISH),
        ("", LET + WORDY),
        (CM + by_limit("size(a)"), PAR + by_limit("light(a.spot)")),
        (WIDE + by_room("3 cm"), LIT + by_room("3 PAR")),
        (CM + by_limit("size(a)"), by_limit("size(a)").replace("limit", "9 cm")),
    ],
    ids=["all is new", "a number only in a sentence", "another unit", "another quantity", "no longer named"],
)  # fmt: skip
def test_every_edit_with_what_it_needs_gives_rules_that_can_be_read(before: str, after: str) -> None:
    for one, other in ((before, after), (after, before)):
        old, new = library_of(one), library_of(other)
        edits = differing(parts_of(old), parts_of(new))
        assert edits
        needed = together(old, new, edits)
        for key in edits:
            library = mixed(old, new, sorted(needed.with_needed([key])))
            for rule in library.rules.values():
                compile_rule(rule, library)
            for wish in library.prefers.values():
                compile_prefer(wish, library)


def test_what_stands_alone_needs_nothing() -> None:
    old, new = library_of(LET + WORDY), library_of(LET.replace("100", "90") + WORDY.replace("40", "30"))
    edits = differing(parts_of(old), parts_of(new))
    needed = together(old, new, edits)
    assert [needed.with_needed([key]) for key in edits] == [{key} for key in edits]


def test_a_rule_brings_its_number_and_the_number_alone_brings_nothing() -> None:
    old, new = library_of(""), library_of(LET + SHADE + DEFINE + RULE)
    needed = together(old, new, differing(parts_of(old), parts_of(new)))
    let, rule = Key("let", "my-limit"), Key("rule", "own")
    assert needed.with_needed([let]) == {let}
    assert needed.with_needed([rule]) == {rule, let, Key("define", "bright"), Key("measure", "shade")}
    back = together(new, old, differing(parts_of(new), parts_of(old)))
    assert back.with_needed([let]) == {let, rule, Key("define", "bright")}


def test_a_rule_that_stays_is_not_left_with_half_of_its_names_changed() -> None:
    old, new = library_of(CM + WIDE + by_limit("room(a)")), library_of(PAR + LIT + by_limit("room(a)"))
    edits = differing(parts_of(old), parts_of(new))
    needed = together(old, new, edits)
    assert needed.with_needed([Key("let", "limit")]) == {Key("let", "limit"), Key("define", "room")}
