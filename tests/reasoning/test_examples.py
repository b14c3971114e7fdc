"""Examples of rule files run through the evaluator, and an example that is wrong is said to be."""

from __future__ import annotations

import pytest

from advisor.language.library import Library
from advisor.model.results import Verdict
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import Outcomes, rule_of, run_examples, try_out
from advisor.session.opening import shipped
from tests.reasoning.small import VOCABULARY, library_of, rule_text

PAIR = "animal a, neighbour b of a"
RULE = rule_text("gap(a, b) >= reach(a)", binders=PAIR, when="potency(a) >= 2", unless="divider(a, b)",
                 level="danger")  # fmt: skip
MORE = (
    'measure grows-out(animal a) in mm/month between 0 and 40 mm/month from card growth-out ask "growth?"\n'
    "relation kept-trimmed(animal a) given from keeper\n"
)


def library(thens: str, *, given: str = "gap(x, y) = 12 cm", rule: str = RULE,
            of_x: str = "potency = 3, reach = 20 cm") -> Library:  # fmt: skip
    """Return a library with one rule and one example."""
    text = (
        f'{rule}example "tried" for tested\n  given x is coral with {of_x}\n        y is animal\n'
        f"        {given}\n  then  {thens}\n"
    )
    return library_of(text, VOCABULARY + MORE)


def outcome(thens: str, *, given: str = "gap(x, y) = 12 cm", rule: str = RULE,
            of_x: str = "potency = 3, reach = 20 cm") -> Outcomes:  # fmt: skip
    """Return what became of the only `then` of an example."""
    (found,) = run_examples(library(thens, given=given, rule=rule, of_x=of_x))
    return found


GOOD = [
    ("x, y fails by 8 cm", "gap(x, y) = 12 cm"),
    ("x, y fails by 80 mm", "gap(x, y) = 12 cm"),
    ("x, y fails", "gap(x, y) = 12 cm"),
    ("x, y holds by 5 cm", "gap(x, y) = 25 cm"),
    ("x, y holds", "gap(y, x) = 25 cm"),
    ("x, y undecided too close leans yes", "gap(x, y) = 20.5 cm"),
    ("x, y undecided too close leans no", "gap(x, y) = 19.5 cm"),
    ("x, y undecided needs gap(x, y)", "gap(x, y) unknown"),
    ("x, y undecided needs gap(y, x)", "gap(x, y) unknown"),
    ("x, y undecided", "gap(x, y) = 10 to 40 cm"),
    ("x, y excused", "gap(x, y) = 1 cm\n        divider(x, y) = yes"),
]


@pytest.mark.parametrize(("thens", "given"), GOOD)
def test_a_right_example_is_right(thens: str, given: str) -> None:
    found = outcome(thens, given=given)
    assert (found.ok, found.expected) == (True, found.got)
    assert found.reason is not None


BAD = [
    ("x, y holds", "gap(x, y) = 12 cm", "fails"),
    ("x, y fails by 7 cm", "gap(x, y) = 12 cm", "fails by 8 cm"),
    ("x, y fails by 8 mm", "gap(x, y) = 12 cm", "fails by 80 mm"),
    ("x, y holds by 5 cm", "gap(x, y) = 12 cm", "fails by 8 cm"),
    ("x, y undecided too close leans no", "gap(x, y) = 20.5 cm", "undecided too close leans yes"),
    ("x, y undecided too close", "gap(x, y) unknown", "undecided"),
    ("x, y holds by 1 cm", "gap(x, y) = 20.5 cm", "undecided"),
    ("x, y undecided needs reach(x)", "gap(x, y) unknown", "undecided"),
    ("x, y not covered", "gap(x, y) = 12 cm", "fails"),
    ("x, y excused", "gap(x, y) = 12 cm", "fails"),
]


@pytest.mark.parametrize(("thens", "given", "got"), BAD)
def test_a_wrong_example_is_wrong_and_says_what_came_out(thens: str, given: str, got: str) -> None:
    found = outcome(thens, given=given)
    assert not found.ok
    assert found.got == got
    assert found.expected != got


def test_what_is_not_covered_says_so() -> None:
    assert outcome("x, y not covered", of_x="potency = 1, reach = 20 cm").ok


def test_an_example_about_the_tank_needs_nobody() -> None:
    rule = rule_text("warmth(tank) <= 28 °C", binders="tank")
    for value, then in (
        ("27 °C", "holds by 1 K"),
        ("30 °C", "fails by 2 K"),
        ("28.2 °C", "undecided too close"),
    ):
        text = f'{rule}example "t" for tested\n  given warmth(tank) = {value}\n  then tank {then}\n'
        (found,) = run_examples(library_of(text))
        assert found.ok, (found.expected, found.got)


def test_a_look_ahead_takes_growth_off_the_gap() -> None:
    grows = "potency = 3, reach = 20 cm, grows-out = 5 mm/month"
    growing = "gap(x, y) = 25 cm\n        grows-out(y) = 5 mm/month"
    assert outcome("x, y holds by 5 cm", given=growing, of_x=grows).ok
    assert outcome("at month 12, x, y fails by 7 cm", given=growing, of_x=grows).ok
    trimmed = f"{growing}\n        kept-trimmed(x) = yes"
    assert outcome("at month 12, x, y undecided too close leans no", given=trimmed, of_x=grows).ok


def test_growth_nobody_told_leaves_a_look_ahead_open() -> None:
    assert outcome("at month 12, x, y undecided", given="gap(x, y) = 25 cm").ok


def test_a_preference_has_examples_of_its_own() -> None:
    text = (
        "prefer calm for animal a want light(a.spot) between 50 PAR and 90 PAR weight 3 fade 10 steps\n"
        '  because "{a} sits in {light(a.spot)}" source "us" kind guess\n'
        'example "bright" for calm\n  given x is coral\n        light(x.spot) = 200 PAR\n  then x fails\n'
        'example "fine" for calm\n  given x is coral\n        light(x.spot) = 70 PAR\n  then x holds\n'
    )
    assert [found.ok for found in run_examples(library_of(text))] == [True, True]


def test_an_example_for_nothing_is_left_to_the_checker() -> None:
    assert run_examples(library_of('example "t" for nothing\n  given x is coral\n  then x holds\n')) == ()


def test_reasons_may_be_left_to_those_that_are_wrong() -> None:
    made = library("x, y fails by 8 cm\n        x, y holds")
    assert [item.reason is None for item in run_examples(made, explained=False)] == [True, False]


def test_one_trial_judges_every_then_of_an_example_and_keeps_its_columns() -> None:
    made = library("x, y fails by 8 cm\n        y, x not covered", of_x="potency = 3, reach = 20 cm")
    rule = rule_of("tested", made)
    assert rule is not None
    trial = try_out(compile_rule(rule, made), made.examples, made)
    assert [trial.verdict(at) for at in (0, 1)] == [Verdict.FAILS, Verdict.UNDECIDED]
    assert trial.got(1, made.examples[0].thens[0]) == "undecided"
    assert trial.asks(1) == {"potency(y)", "reach(y)"}
    assert set(trial.frame.columns) >= {trial.compiled.when, trial.compiled.expect}


# --- the shipped examples -----------------------------------------------------------


def test_every_shipped_example_comes_out_as_written() -> None:
    found = run_examples(shipped())
    assert len(found) > 100
    wrong = [
        (item.example.rule, item.example.title, item.expected, item.got) for item in found if not item.ok
    ]
    assert wrong == []
    assert {item.reason.verdict for item in found if item.reason is not None} >= {
        Verdict.HOLDS, Verdict.FAILS, Verdict.UNDECIDED, Verdict.EXCUSED, Verdict.NOT_COVERED,
    }  # fmt: skip
