"""Every example of the shipped rules comes out, and every rule has examples of each kind."""

from __future__ import annotations

from collections.abc import Callable

from advisor.language.library import Library
from advisor.language.nodes import Aggregate, And, Between, Compare, Expr, Not, Or, Outcome, Rule
from advisor.language.walk import names_used
from advisor.reasoning.examples import Outcomes
from advisor.units import DEFAULT_STEP, unit_named

Ran = dict[str, list[Outcomes]]
Steps = Callable[[Outcomes], float | None]


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


def tolerates(rule: Rule, library: Library) -> bool:
    """Whether a rule excuses a little of what it refuses, so that its sharp limit stands in `unless`."""
    names = names_used((rule.unless,), library.defines) if rule.unless is not None else frozenset()
    return any(name.startswith("only-a-little-") for name in names)


def steps_of_tolerance(item: Outcomes) -> float | None:
    """How many steps the nearer end of the margin of what is tolerated is from its limit."""
    todo = [item.reason.step] if item.reason is not None and item.reason.step is not None else []
    while todo:
        step = todo.pop()
        margin = step.margin
        if "/unless" in step.id and step.op == "compare" and margin is not None:
            if margin.low is None or margin.high is None:
                return None
            return min(abs(margin.low), abs(margin.high)) / DEFAULT_STEP[unit_named(margin.unit).dimension]
        todo.extend(step.inputs)
    return None


def near(outcomes: Ran, rule: Rule, side: Outcome, steps_from: Steps) -> bool:
    """Whether an example of a rule stands within a step of the limit, on one side."""
    found = [steps_from(item) for item in outcomes.get(rule.name, ()) if item.then.outcome is side]
    return any(steps is not None and steps <= 1.0 for steps in found)


def test_every_limit_has_a_case_within_a_step_on_either_side(library: Library, outcomes: Ran) -> None:
    sharp = [
        rule for rule in judged(library) if rests_on_a_limit(rule.expect) and not tolerates(rule, library)
    ]
    assert len(sharp) > 30
    lacking = [
        (rule.name, side.value)
        for rule in sharp
        for side in (Outcome.HOLDS, Outcome.FAILS)
        if not near(outcomes, rule, side, surest_steps)
    ]
    assert lacking == []


def test_every_tolerance_has_a_case_within_a_step_on_either_side(library: Library, outcomes: Ran) -> None:
    tolerant = [
        rule for rule in judged(library) if rests_on_a_limit(rule.expect) and tolerates(rule, library)
    ]
    assert {rule.name for rule in tolerant} >= {"not-far-too-dim", "not-torn-by-the-flow"}
    lacking = [
        (rule.name, side.value)
        for rule in tolerant
        for side in (Outcome.EXCUSED, Outcome.FAILS)
        if not near(outcomes, rule, side, steps_of_tolerance)
    ]
    lacking += [
        (rule.name, "holds") for rule in tolerant if not near(outcomes, rule, Outcome.HOLDS, surest_steps)
    ]
    assert lacking == []
