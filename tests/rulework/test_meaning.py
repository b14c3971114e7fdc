"""Rules that say the same in other words mean the same; others are never taken for it."""

from __future__ import annotations

import pytest

from advisor.rulework.meaning import meaning_of
from tests.reasoning.small import compiled_of

SAME = [
    ("gap(a, b) >= 5 cm", "5 cm <= gap(a, b)"),
    ("gap(a, b) > 5 cm", "not (gap(a, b) <= 5 cm)"),
    ("gap(a, b) >= 2 cm + 3 cm", "gap(a, b) >= 5 cm"),
    ("gap(a, b) >= 2 cm * 3", "gap(a, b) >= 6 cm"),
    ("fenced(a) and fenced(b)", "fenced(b) and fenced(a)"),
    ("fenced(a) and fenced(a)", "fenced(a)"),
    ("not (not fenced(a))", "fenced(a)"),
    ("group(a) is one of soft, stony", "group(a) is one of stony, soft"),
    ("not (group(a) is soft)", "group(a) is not soft"),
    ("gap(a, b) >= larger of reach(a), reach(b)", "gap(a, b) >= larger of reach(b), reach(a)"),
    ("gap(a, b) >= reach(a) + reach(b)", "gap(a, b) >= reach(b) + reach(a)"),
]
OTHER = [
    ("gap(a, b) >= 5 cm", "gap(a, b) > 5 cm"),
    ("gap(a, b) >= 5 cm", "gap(a, b) <= 5 cm"),
    ("gap(a, b) >= 5 cm", "gap(a, b) >= 6 cm"),
    ("fenced(a) and fenced(b)", "fenced(a) or fenced(b)"),
    ("gap(a, b) >= larger of reach(a), reach(b)", "gap(a, b) >= smaller of reach(a), reach(b)"),
    ("gap(a, b) >= reach(a) - reach(b)", "gap(a, b) >= reach(b) - reach(a)"),
    ("any animal c where fenced(c)", "every animal c where fenced(c)"),
    ("any animal c where fenced(c)", "any animal c where not fenced(c)"),
    ("group(a) is soft", "group(a) is not soft"),
    ("gap(a, b) between 5 cm and 9 cm", "gap(a, b) between 5 cm and 10 cm"),
]


def meaning(expect: str) -> object:
    return meaning_of(compiled_of(expect, binders="animal a, neighbour b of a")[1])


@pytest.mark.parametrize(("one", "other"), SAME)
def test_other_words_mean_the_same(one: str, other: str) -> None:
    assert meaning(one) == meaning(other)


@pytest.mark.parametrize(("one", "other"), OTHER)
def test_what_can_come_out_otherwise_does_not(one: str, other: str) -> None:
    assert meaning(one) != meaning(other)


def test_every_clause_counts() -> None:
    bare = meaning_of(compiled_of("fenced(a)")[1])
    assert bare != meaning_of(compiled_of("fenced(a)", when="group(a) is soft")[1])
    assert bare != meaning_of(compiled_of("fenced(a)", unless="group(a) is soft")[1])
