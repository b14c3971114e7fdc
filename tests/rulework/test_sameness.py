"""A change that cannot be noticed is told apart from one that nobody notices."""

from __future__ import annotations

from advisor.language.library import Library
from advisor.rulework.bench import Bench
from advisor.rulework.mutants import mutants_of
from advisor.rulework.sameness import same_meaning
from tests.reasoning.small import library_of, rule_text


def same(library: Library) -> dict[tuple[str, str], str]:
    """Every change of the rule that changes nothing, and why."""
    bench = Bench(library)
    found = {}
    for mutant in mutants_of(library.rules["tested"], bench.ops(["tested"]), library):
        why = same_meaning(mutant, bench)
        if why:
            found[mutant.kind, mutant.after] = why
    return found


def test_a_limit_beyond_all_that_can_be_measured_may_be_moved() -> None:
    found = same(library_of(rule_text("light(a.spot) <= 3000 PAR")))
    assert found == {
        (kind, f"light(a.spot) {rest}"): "the condition comes out the same whatever is measured"
        for kind, rest in (
            ("strictness", "< 3000 PAR"),
            ("limit a step higher", "<= 3005 PAR"),
            ("limit a step lower", "<= 2995 PAR"),
        )
    }


def test_an_assumption_settles_nothing() -> None:
    assert same(library_of(rule_text("origin(a) <= 200 PAR"))) == {}


def test_what_is_said_twice_may_be_left_out() -> None:
    found = same(library_of(rule_text("fenced(a) and fenced(a)")))
    assert found["left out", ""] == "it says the same in other words"


def test_a_count_of_others_is_never_settled_by_there_being_none() -> None:
    library = library_of(rule_text("count of neighbour b of a where (gap(a, b) < 10 cm) <= 3"))
    assert same(library) == {}


def test_what_can_be_noticed_is_not_the_same() -> None:
    assert same(library_of(rule_text("light(a.spot) <= 300 PAR"))) == {}
