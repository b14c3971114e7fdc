"""Every example of the shipped rules comes out, and every rule has examples of each kind."""

from __future__ import annotations

from advisor.language.library import Library
from advisor.language.nodes import Aggregate, And, Between, Compare, Expr, Not, Or, Outcome, Rule
from advisor.reasoning.examples import Outcomes
from advisor.units import DEFAULT_STEP, unit_named

Ran = dict[str, list[Outcomes]]


def kinds(name: str, outcomes: Ran) -> set[Outcome]:
    return {item.then.outcome for item in outcomes.get(name, ())}


def rests_on_a_limit(expr: Expr | None) -> bool:
    """Whether a requirement compares quantities; one about words has no limit to stand beside."""
    match expr:
        case Compare() | Between():
            return True
        case And(items=items) | Or(items=items):
            return any(rests_on_a_limit(item) for item in items)
        case Not(of=of):
            return rests_on_a_limit(of)
        case Aggregate(where=where):
            return rests_on_a_limit(where)
        case _:
            return False


def judged(library: Library) -> list[Rule]:
    return [rule for rule in library.rules.values() if rule.expect is not None]


def test_every_example_comes_out(outcomes: Ran) -> None:
    wrong = [
        f"{item.example.span.file}:{item.example.span.line} {name}, {item.example.title}: "
        f"{', '.join(item.then.entities)} should be '{item.expected}', is '{item.got}'"
        for name, items in outcomes.items()
        for item in items
        if not item.ok
    ]
    assert wrong == []


def test_every_example_belongs_to_a_rule(library: Library, outcomes: Ran) -> None:
    assert {example.rule for example in library.examples} <= set(library.rules) | set(library.prefers)
    assert sum(len(items) for items in outcomes.values()) == sum(len(e.thens) for e in library.examples)


def test_every_rule_has_a_good_a_bad_and_an_open_case(library: Library, outcomes: Ran) -> None:
    wanted = {Outcome.HOLDS, Outcome.FAILS, Outcome.UNDECIDED}
    lacking = {
        rule.name: wanted - kinds(rule.name, outcomes)
        for rule in judged(library)
        if wanted - kinds(rule.name, outcomes)
    }
    # a rule that speaks only of what is amiss may show its good side as "not covered"
    assert {
        name: left
        for name, left in lacking.items()
        if left != {Outcome.HOLDS} or Outcome.NOT_COVERED not in kinds(name, outcomes)
    } == {}


def test_every_preference_has_a_case_each_way(library: Library, outcomes: Ran) -> None:
    lacking = [
        name for name in library.prefers if not {Outcome.HOLDS, Outcome.FAILS} <= kinds(name, outcomes)
    ]
    assert lacking == []


def test_every_exception_has_a_case_that_is_excused(library: Library, outcomes: Ran) -> None:
    lacking = [
        rule.name
        for rule in judged(library)
        if rule.unless is not None and Outcome.EXCUSED not in kinds(rule.name, outcomes)
    ]
    assert lacking == []


def surest_steps(item: Outcomes) -> float | None:
    """How many steps the nearer end of a case's margin is from the limit, None without a margin."""
    if item.reason is None:
        return None
    margin, steps = item.reason.margin, item.reason.margin_steps
    if margin is None or margin.low is None or margin.high is None:
        return None if steps is None else abs(steps)
    near = min(abs(margin.low), abs(margin.high))
    if steps is None or not margin.best:
        return near / DEFAULT_STEP[unit_named(margin.unit).dimension] if margin.unit else None
    return near * abs(steps) / abs(margin.best)


def test_every_limit_has_a_case_within_a_step_on_either_side(library: Library, outcomes: Ran) -> None:
    lacking = []
    for rule in judged(library):
        if not rests_on_a_limit(rule.expect):
            continue
        for side in (Outcome.HOLDS, Outcome.FAILS):
            near = [surest_steps(item) for item in outcomes.get(rule.name, ()) if item.then.outcome is side]
            if not any(steps is not None and steps <= 1.0 for steps in near):
                lacking.append((rule.name, side.value, near))
    assert lacking == []
