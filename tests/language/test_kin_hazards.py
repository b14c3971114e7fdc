"""A house card cannot leave out what can hurt a person in all of its kin."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.errors import Problem, Severity
from advisor.language.check import check
from advisor.language.kin_hazards import with_kin_hazards
from advisor.language.library import Library
from advisor.language.nodes import Card
from advisor.language.parse import parse_file
from tests.language.texts import COMPUTED, base

SHIPPED = """edition 1
card first-button "first button"
  genus    buttona  group soft
  hazard   palytoxin "It may hold palytoxin: gloves."
  source   "invented" kind guess
card second-button "second button"
  genus    buttonella  group soft
  hazard   palytoxin, mild-sting "It may hold palytoxin, and stings."
  source   "invented" kind guess
card third-button "third button"
  genus    buttonella  group soft
  hazard   palytoxin "It may hold palytoxin: goggles."
  source   "invented" kind guess
"""
OWN = """edition 1
card mine "mine"
  {kin}
  hazard   {hazard}
  source   "invented" kind guess
"""


def laid(kin: str, hazard: str) -> tuple[Library, list[Problem]]:
    shipped, faults = parse_file("shipped.rules", SHIPPED)
    own, more = parse_file("house.rules", OWN.format(kin=kin, hazard=hazard))
    assert not faults
    assert not more
    library, problems = check([base(), shipped], COMPUTED, [own])
    return library, [each for each in problems if each.code == "card-911"]


def said(library: Library, key: str) -> set[str]:
    values = [value for value in library.cards["mine"].values if value.key == key]
    return {word for value in values for word in (*value.words, value.text) if word}


@pytest.mark.parametrize("kin", ["genus buttona", "genus buttonella", "genus buttona  group stony"])
def test_what_all_of_a_genus_have_counts_for_an_own_card_and_is_told(kin: str) -> None:
    library, (problem,) = laid(kin, "none")
    assert said(library, "hazard") == {"palytoxin"}
    assert any("palytoxin" in text for text in said(library, "hazard-text"))
    assert problem.severity is Severity.WARNING
    assert "'palytoxin'" in problem.what
    assert problem.mend == "hazard palytoxin"


def test_hazards_of_its_own_stay_beside_them() -> None:
    library, (problem,) = laid("genus buttona", "mild-sting")
    assert said(library, "hazard") == {"palytoxin", "mild-sting"}
    assert problem.span is not None
    assert problem.span.line == 4


def test_what_only_some_of_its_kin_have_or_it_names_itself_is_its_own_affair() -> None:
    assert laid("genus buttonella", "palytoxin")[1] == []
    assert laid("genus elsewhere", "none")[1] == []


def test_a_card_without_a_hazard_line_gets_that_of_its_group() -> None:
    shipped, _ = parse_file("shipped.rules", SHIPPED)
    own, _ = parse_file("house.rules", OWN.format(kin="group soft", hazard="none"))
    cards = [item for item in shipped.declarations if isinstance(item, Card)]
    (card,) = [item for item in own.declarations if isinstance(item, Card)]
    bare = replace(card, values=tuple(value for value in card.values if value.key != "hazard"))
    (problem,), whole = with_kin_hazards(bare, cards)
    assert problem.span == card.span
    assert [value.words for value in whole.values if value.key == "hazard"] == [("palytoxin",)]
