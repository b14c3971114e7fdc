"""Rules as a keeper would say them."""

from __future__ import annotations

import re

import pytest

from advisor.rulework.sentences import Speaker
from tests.reasoning.small import library_of, rule_text
from tests.rulework.shelves import shelf


@pytest.mark.parametrize(
    ("expect", "said"),
    [
        ("gap(a, b) >= 12 cm", "gap of a and b is at least 12 cm"),
        ("light(a.spot) between 20 PAR and dim", "light of the place of a is from 20 PAR to 45 PAR (dim)"),
        ("group(a) is not clam", "group of a is not clam"),
        ("group(a) is one of soft, clam", "group of a is soft or clam"),
        ("genus(a) is genus(b)", "genus of a is the same as genus of b"),
        ("weapons(a) has not mucus", "mucus is not among weapons of a"),
        ("not divider(a, b)", "it is not so that divider of a and b"),
        ("above(a, b) and (fenced(a) or fenced(b))", "above of a and b and (fenced of a or fenced of b)"),
        ("larger of reach(a), 3 cm < 9 cm", "the largest of reach of a and 3 cm is less than 9 cm"),
        ("reach(a) + 2 cm <= 9 cm", "reach of a plus 2 cm is at most 9 cm"),
        ("any neighbour n of a where fenced(n)", "there is a neighbour n of a such that fenced of n"),
        ("every animal n where fenced(n)", "for every animal n fenced of n"),
        (
            "count of animal n where fenced(n) > 2",
            "the number of animal n such that fenced of n is more than 2",
        ),
    ],
)
def test_an_expression_in_words(expect: str, said: str) -> None:
    text = 'let dim = 45 PAR because "x" source "a test" kind guess\n'
    library = library_of(text + rule_text(expect, binders="animal a, neighbour b of a"))
    rule = library.rules["tested"]
    assert rule.expect is not None
    assert Speaker(library).said(rule.expect).replace("\0", " ") == said


def test_a_whole_rule_in_words() -> None:
    rule = shelf().library.rules["not-too-bright"]
    assert Speaker(shelf().library).rule(rule) == (
        "For every animal a, where what a lives on is light: it is required that light at the place of a "
        "is at most most light for a, unless a comes from light as strong as that. "
        "Not keeping it is a danger."
    )


def test_no_sentence_about_a_shipped_rule_has_a_hole() -> None:
    speaker = Speaker(shelf().library)
    said = [speaker.rule(rule) for rule in shelf().library.rules.values()]
    said += [speaker.preference(prefer) for prefer in shelf().library.prefers.values()]
    assert [text for text in said if re.search(r"[{}]|  |None", text)] == []
