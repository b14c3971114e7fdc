"""The nearest altered example that shows what is looked for."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.language.library import Library
from advisor.language.nodes import Example
from advisor.model.results import Verdict
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.examples import rule_of, try_out
from advisor.rulework.searching import Goal, search, starts_of
from tests.reasoning.small import rule_text
from tests.rulework.little import CROWD, FAR, NEAR, ONE, little


def compiled(library: Library, name: str = "tested") -> CompiledRule:
    rule = rule_of(name, library)
    assert rule is not None
    return compile_rule(rule, library)


def comes_out(rule: CompiledRule, verdict: Verdict, library: Library) -> Goal:
    def places(examples: Sequence[Example]) -> list[int]:
        trial = try_out(rule, examples, library)
        return [at for at in range(len(examples)) if trial.verdict(at) is verdict]

    return places


def test_what_an_example_shows_already_needs_no_change() -> None:
    library = little(FAR, NEAR)
    rule = compiled(library)
    found = search(
        starts_of(rule, library.examples, library, []), comes_out(rule, Verdict.FAILS, library), library
    )
    assert found is not None
    assert (found.example.title, found.changes) == ("near", ())


def test_one_fact_is_enough_where_it_is() -> None:
    library = little(FAR)
    rule = compiled(library)
    for verdict in (Verdict.FAILS, Verdict.UNDECIDED, Verdict.NOT_COVERED):
        found = search(
            starts_of(rule, library.examples, library, []), comes_out(rule, verdict, library), library
        )
        assert found is not None
        assert len(found.changes) == 1


def test_two_facts_are_changed_where_one_does_not_do() -> None:
    library = little(FAR)
    rule = compiled(library)
    found = search(
        starts_of(rule, library.examples, library, []), comes_out(rule, Verdict.EXCUSED, library), library
    )
    assert found is not None
    assert len(found.changes) == 2


def test_one_more_neighbour_is_found_where_a_rule_counts_them() -> None:
    library = little(ONE, rules=CROWD)
    rule = compiled(library, "roomy")
    found = search(
        starts_of(rule, library.examples, library, []), comes_out(rule, Verdict.FAILS, library), library
    )
    assert found is not None
    assert sum(bool(given.entity) for given in found.example.givens) == 3


def test_what_cannot_be_is_not_found() -> None:
    library = little(FAR)
    rule = compiled(library)
    goal = comes_out(rule, Verdict.BY_EYE, library)
    assert search(starts_of(rule, library.examples, library, []), goal, library) is None


WARM = """example "warm" for warm-enough
  given warmth(tank) = 25 °C
  then  tank holds
"""


def test_an_example_that_tells_nothing_is_never_found() -> None:
    library = little(WARM, rules=rule_text("warmth(tank) >= 24 °C", name="warm-enough", binders="tank"))
    rule = compiled(library, "warm-enough")
    starts = starts_of(rule, library.examples, library, [])
    tried: list[Example] = []

    def open_ones(examples: Sequence[Example]) -> list[int]:
        tried.extend(examples)
        trial = try_out(rule, examples, library)
        return [at for at in range(len(examples)) if trial.verdict(at) is Verdict.UNDECIDED]

    search(starts, open_ones, library)
    assert tried
    assert all(example.givens for example in tried)
