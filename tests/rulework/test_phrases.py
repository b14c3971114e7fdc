"""Expressions as a keeper would say them."""

from __future__ import annotations

import pytest

from advisor.language.nodes import Define, Prefer, Rule
from advisor.rulework.bench import Bench
from advisor.rulework.mutants import mutants_of
from advisor.rulework.phrases import Phrases, listed
from advisor.rulework.sentences import Speaker
from tests.reasoning.small import library_of, rule_text
from tests.rulework.shelves import shelf

LET = 'let dim = 45 PAR because "x" source "a test" kind guess\n'


def phrases(expect: str) -> tuple[str, str]:
    """What is said of an expression, and what is asked for with it."""
    library = library_of(LET + rule_text(expect, binders="animal a, neighbour b of a"))
    node = library.rules["tested"].expect
    assert node is not None
    made = Phrases(library)
    return made.said(node).replace("\0", " "), made.must(node).replace("\0", " ")


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
        (
            "not fenced(a) and fenced(b)",
            "(it is not so that fenced of a) and fenced of b",
        ),
        ("not (fenced(a) and fenced(b))", "it is not so that (fenced of a and fenced of b)"),
        ("larger of reach(a), 3 cm < 9 cm", "(reach of a or 3 cm, whichever is larger) is less than 9 cm"),
        ("reach(a) + 2 cm <= 9 cm", "reach of a plus 2 cm is at most 9 cm"),
        ("reach(a) - (2 cm + reach(b)) <= 9 cm", "reach of a minus (2 cm plus reach of b) is at most 9 cm"),
        ("reach(a) - 2 cm + reach(b) <= 9 cm", "reach of a minus 2 cm plus reach of b is at most 9 cm"),
        ("(reach(a) + 1 cm) * 2 <= 9 cm", "(reach of a plus 1 cm) times 2 is at most 9 cm"),
        ("2 times * reach(a) <= 9 cm", "2 times reach of a is at most 9 cm"),
        ("any neighbour n of a where fenced(n)", "there is a neighbour n of a such that fenced of n"),
        ("any animal n where fenced(n)", "there is an animal n such that fenced of n"),
        ("every animal n where fenced(n)", "for every animal n, fenced of n"),
        (
            "(count of animal n where fenced(n)) > 2",
            "(the number of animals n such that fenced of n) is more than 2",
        ),
        (
            "sum of reach(n) for neighbour n of a < 2 cm",
            "(the sum of reach of n over all neighbours n of a) is less than 2 cm",
        ),
        ("days since fixed of a > 3 days", "the days since the last 'fixed' of a is more than 3 days"),
        (
            "b is within 2 steps of a over above",
            "b is within 2 steps of a (a step: above of one and the next)",
        ),
    ],
)
def test_an_expression_in_words(expect: str, said: str) -> None:
    assert phrases(expect)[0] == said


@pytest.mark.parametrize(
    ("expect", "asked"),
    [
        ("gap(a, b) >= 12 cm", "gap of a and b must be at least 12 cm"),
        ("group(a) is not clam", "group of a must not be clam"),
        ("fenced(a) and gap(a, b) > 1 cm",
         "it must be so that fenced of a, and gap of a and b must be more than 1 cm"),
        ("not divider(a, b)", "it must not be so that divider of a and b"),
        ("any animal n where fenced(n)", "there must be an animal n such that fenced of n"),
        ("every animal n where reach(n) < 2 cm", "for every animal n, reach of n must be less than 2 cm"),
        ("fenced(a) or fenced(b)", "it must be so that fenced of a or fenced of b"),
    ],
)  # fmt: skip
def test_what_is_asked_for_in_words(expect: str, asked: str) -> None:
    assert phrases(expect)[1] == asked


def test_a_yes_or_no_that_is_called_whether_is_told_as_what_is_so() -> None:
    library = shelf().library
    said = Speaker(library).rule(library.rules["an-islet-has-its-moat"])
    assert said.startswith("For every place p: if p is an islet of its own, then bare ground")


def test_no_small_change_of_a_rule_leaves_its_sentence_as_it_is() -> None:
    library, count = shelf().library, 0
    bench, speaker = Bench(library), Speaker(library)

    def told(thing: Rule | Prefer | Define) -> str:
        if isinstance(thing, Define):
            return " / ".join(speaker.definition(thing))
        return speaker.rule(thing) if isinstance(thing, Rule) else speaker.preference(thing)

    things: list[Rule | Prefer | Define] = [*library.rules.values(), *library.prefers.values()]
    for thing in (*things, *library.defines.values()):
        judged = not isinstance(thing, Rule) or thing.expect is not None
        for mutant in mutants_of(thing, bench.ops(bench.users(thing)), library) if judged else ():
            count += 1
            assert told(mutant.changed) != told(thing), (thing.name, mutant.before, mutant.after)
    assert count > 1000


def test_parts_are_joined_by_a_last_word() -> None:
    assert [listed("a"), listed("ab"), listed("abc", "or")] == ["a", "a and b", "a, b or c"]
