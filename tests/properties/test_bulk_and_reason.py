"""One evaluator: what the bulk run says of a binding is what its explanation says."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.model.results import Reason, Step, Verdict
from advisor.reasoning.bindings import population_of
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.judge import UNDECIDED, VERDICTS, Plane, judge, judge_bindings
from advisor.reasoning.reasons import LEANS, Asked, reasons_for
from advisor.reasoning.tables import Tables
from tests.properties.demo import bench, sitting
from tests.reasoning.grids import random_grid
from tests.reasoning.test_judge import FORMULAS, made

MOST = 10
"""Bindings of one rule and verdict that are explained one by one."""


def some_of_each(plane: Plane, most: int = MOST) -> list[int]:
    """Return a few bindings of every verdict that occurs."""
    found: list[int] = []
    for code in np.unique(plane.verdict):
        at = np.flatnonzero(plane.verdict == code)
        found += at[:: max(1, len(at) // most)][:most].tolist()
    return found


def assert_agrees(plane: Plane, at: int, reason: Reason) -> None:
    """Check verdict, cause, lean and margin of one explanation against the bulk run."""
    assert reason.verdict is VERDICTS[int(plane.verdict[at])]
    assert reason.cause == plane.causes()[at]
    assert reason.lean == LEANS[int(plane.lean[at])]
    best = float(plane.best[at])
    if math.isfinite(best):
        assert reason.margin_steps == pytest.approx(best)
    else:
        assert reason.margin_steps is None
    if reason.verdict is Verdict.HOLDS and reason.margin_steps is not None:
        assert reason.margin_steps >= 0
    if reason.verdict is Verdict.FAILS and reason.margin_steps is not None:
        assert reason.margin_steps <= 0


def explained_alone(compiled: CompiledRule, tables: Tables, plane: Plane, at: int, month: float) -> Reason:
    """Return the reason of one binding, judged with nobody beside it."""
    months = np.full(1, month)
    return reasons_for(
        compiled, tables, population_of(tables), plane.bindings.take(np.array([at])), months, [Asked()]
    )[0]


@pytest.mark.parametrize("name", sorted(rule.rule.name for rule in bench().rules))
def test_every_rule_explains_what_it_judged_in_the_demonstration_tank(name: str) -> None:
    whole = sitting()
    compiled = next(rule for rule in whole.bench.rules if rule.rule.name == name)
    for month in (0.0, 12.0) if compiled.rule.until_horizon else (0.0,):
        plane = judge(compiled, whole.tables, whole.population, month=month)
        for at in some_of_each(plane, 3 if compiled.aggregates else MOST):
            assert_agrees(plane, at, explained_alone(compiled, whole.tables, plane, at, month))


@settings(max_examples=10)
@pytest.mark.parametrize("level", ["warning", "danger"])
@pytest.mark.parametrize(("expect", "when", "unless"), FORMULAS)
@given(seed=st.integers(0, 10_000))
def test_every_rule_explains_what_it_judged_at_random(
    expect: str, when: str, unless: str, level: str, seed: int
) -> None:
    library, compiled = made(expect, when, unless, level)
    grid = random_grid(library, seed, animals=3, worlds=1, own=1)
    plane = judge(compiled, grid, population_of(grid), everywhere=True)
    for at in range(len(plane.bindings)):
        assert_agrees(plane, at, explained_alone(compiled, grid, plane, at, 0.0))


@settings(max_examples=10)
@pytest.mark.parametrize(("expect", "when", "unless"), FORMULAS)
@given(seed=st.integers(0, 10_000))
def test_a_binding_is_judged_alike_whoever_stands_beside_it_in_the_run(
    expect: str, when: str, unless: str, seed: int
) -> None:
    library, compiled = made(expect, when, unless)
    grid = random_grid(library, seed, animals=4, worlds=0)
    population = population_of(grid)
    plane = judge(compiled, grid, population)
    order = np.random.default_rng(seed).permutation(len(plane.bindings))[:5]
    again = judge_bindings(compiled, grid, population, plane.bindings.take(order), np.zeros(len(order)))
    for name in ("verdict", "lean", "low", "best", "high", "flags"):
        np.testing.assert_array_equal(getattr(again, name), getattr(plane, name)[order])


def steps_of(step: Step) -> list[Step]:
    """Return a recorded step and all below it."""
    return [step, *(item for part in step.inputs for item in steps_of(part))]


@pytest.mark.parametrize("name", sorted(rule.rule.name for rule in bench().rules))
def test_a_recorded_tree_names_each_node_once_and_its_clauses_agree_with_the_verdict(name: str) -> None:
    whole = sitting()
    compiled = next(rule for rule in whole.bench.rules if rule.rule.name == name)
    plane = judge(compiled, whole.tables, whole.population)
    for at in some_of_each(plane, 2 if compiled.aggregates else 6)[:12]:
        reason = explained_alone(compiled, whole.tables, plane, at, 0.0)
        assert reason.step is not None
        nodes = steps_of(reason.step)
        assert len({step.id for step in nodes}) == len(nodes)
        clauses = {step.id.rpartition("/")[2]: step.value.truth for step in reason.step.inputs}
        if reason.verdict is Verdict.FAILS:
            assert clauses.get("when", True) is True
            assert clauses["expect"] is False
            assert clauses.get("unless", False) is False
        elif reason.verdict is Verdict.HOLDS:
            assert clauses["expect"] is True
        elif reason.verdict is Verdict.NOT_COVERED and clauses.get("expect", False) is not None:
            assert clauses["when"] is False


def test_the_demonstration_tank_has_every_verdict_worth_explaining() -> None:
    whole = sitting()
    found = {
        VERDICTS[int(code)]
        for compiled in whole.bench.rules
        for code in np.unique(judge(compiled, whole.tables, whole.population).verdict)
    }
    assert found >= {
        Verdict.HOLDS, Verdict.FAILS, Verdict.UNDECIDED, Verdict.EXCUSED, Verdict.NOT_COVERED,
    }  # fmt: skip


def test_whatever_is_open_asks_for_something_or_is_too_close() -> None:
    """Nothing stays open without a way to settle it."""
    whole = sitting()
    for compiled in whole.bench.rules:
        plane = judge(compiled, whole.tables, whole.population)
        for at in np.flatnonzero(plane.verdict == UNDECIDED)[:MOST]:
            reason = explained_alone(compiled, whole.tables, plane, int(at), 0.0)
            assert reason.needs or reason.cause == "too close", reason.id
