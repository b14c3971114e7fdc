"""Rules about places, rocks, lamps, pumps, fish and weapons: all bindings at once, or one by one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.model.changes import SetFact
from advisor.model.tank import Fact
from advisor.reasoning.bindings import population_of
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import FAILS, HOLDS, NOT_COVERED, UNDECIDED, Plane, judge, judge_bindings
from advisor.reasoning.logic_ops import operations_run
from advisor.reasoning.ops import truth
from advisor.reasoning.survey import Survey
from tests.properties.test_bulk_and_reason import assert_agrees, explained_alone
from tests.reasoning import armed

SEEDS = st.integers(0, 100_000)

RULES = {
    "weapons": ("animal a, weapon w of a", "weapon-reach-most(w) <= 6 cm", "weapon-potency(w) >= 2"),
    "two-weapons": (
        "animal a, weapon w of a, neighbour b of a, weapon v of b",
        "weapon-reach-most(w) + weapon-reach-most(v) <= gap(a, b)",
        "weapon-kind(w) is weapon-kind(v)",
    ),
    "rocks": ("rock r", "rock-lifts-out(r) is yes", "any animal a where stands-on(a, r)"),
    "touching": ("rock r, rock s", "(count of animal a where (stands-on(a, r) or stands-on(a, s))) <= 1",
                 "touches(r, s)"),
    "places": ("place p", "moat(p) >= 8 cm", "any rock r where on-rock(p, r)"),
    "slopes": ("animal a", "slope(a.spot) <= 45 degrees", ""),
    "lamps": ("lamp l", "lamp-age(l) <= 365 days", "lamp-kind(l) is tube"),
    "pumps": ("pump p", "pump-guard(p) is yes", "pump-flow(p) >= 2000 L/h"),
    "pull": ("pump p, place q", "pull(p, q) <= 15 cm/s", ""),
    "fish": ("fish f, animal a", "mood(f, a) is not wild", "fish-size(f) >= 5 cm"),
    "bites": ("fish f, animal a", "not habits(f, a) has bites", "nips(f)"),
    "guards": ("tank", "pump-guards(tank) is yes", "any pump p where pump-flow(p) >= 1000 L/h"),
    "sums": ("tank", "(sum of pump-flow(p) for pump p where (pump-guard(p) is yes)) >= 3000 L/h", ""),
    "nested": (
        "tank",
        "every fish f where not nips(f) or (any animal a where mood(f, a) is calm)",
        "(count of lamp l where (lamp-kind(l) is led)) >= 1",
    ),
    "least": ("fish f", "(least of slope(p) for place p) <= 60 degrees", ""),
    "a-month": ("animal a, neighbour b of a",
                "(most of weapon-reach-most(w) for weapon w of a) <= gap(a, b) until horizon", ""),
}  # fmt: skip


def tables(seed: int, name: str, level: str = "warning") -> tuple[CompiledRule, Survey]:
    """Return a rule and the tables of a random tank."""
    rng = np.random.default_rng(seed)
    cards = [armed.card_text(rng, f"c-{at}") for at in range(3)]
    binders, expect, when = RULES[name]
    text = armed.rule_text(binders, expect, when, level)
    library = armed.library(text, cards)
    return armed.compiled(library), armed.random_sample(seed).survey(library)


def alone(rule: CompiledRule, made: Survey, plane: Plane, at: int, month: float) -> Plane:
    """Return one binding judged with nobody beside it."""
    one = plane.bindings.take(np.array([at]))
    return judge_bindings(rule, made, population_of(made), one, np.full(1, month))


def row(plane: Plane, at: int) -> tuple[object, ...]:
    """Return everything a plane says of one binding."""
    ends = (plane.low, plane.best, plane.high)
    numbers = tuple(None if np.isnan(end[at]) else float(end[at]) for end in ends)
    return int(plane.verdict[at]), int(plane.lean[at]), int(plane.flags[at]), numbers


@settings(max_examples=8, deadline=None)
@pytest.mark.parametrize("level", ["warning", "danger"])
@pytest.mark.parametrize("name", sorted(RULES))
@given(seed=SEEDS)
def test_in_bulk_and_one_by_one_everything_comes_out_alike(name: str, level: str, seed: int) -> None:
    rule, made = tables(seed, name, level)
    for month in (0.0, 12.0) if rule.rule.until_horizon else (0.0,):
        plane = judge(rule, made, population_of(made), month=month, everywhere=True)
        assert len(plane.bindings) > 0
        for at in range(len(plane.bindings)):
            assert row(plane, at) == row(alone(rule, made, plane, at, month), 0)


@settings(max_examples=3, deadline=None)
@pytest.mark.parametrize("name", sorted(RULES))
@given(seed=SEEDS)
def test_every_binding_is_explained_as_it_was_judged(name: str, seed: int) -> None:
    rule, made = tables(seed, name)
    plane = judge(rule, made, population_of(made))
    for at in range(len(plane.bindings)):
        assert_agrees(plane, at, explained_alone(rule, made, plane, at, 0.0))


@settings(max_examples=10, deadline=None)
@pytest.mark.parametrize("name", sorted(RULES))
@given(seed=SEEDS)
def test_a_change_says_what_the_changed_tank_would(name: str, seed: int) -> None:
    rng = np.random.default_rng(seed)
    cards = [armed.card_text(rng, f"c-{at}") for at in range(3)]
    binders, expect, when = RULES[name]
    library = armed.library(armed.rule_text(binders, expect, when), cards)
    rule, sample = armed.compiled(library), armed.random_sample(seed)
    made = sample.survey(library)
    plane = judge(rule, made, population_of(made), everywhere=True)
    for world, change in enumerate(sample.worlds, 1):
        edit = change[0]
        assert isinstance(edit, SetFact)
        changed = changed_sample(sample, edit.fact)
        plain = changed.survey(library)
        there = judge(rule, plain, population_of(plain))
        assert told(plane, made, rule, world) == told(there, plain, rule, 0)


def changed_sample(sample: armed.Sample, fact: Fact) -> armed.Sample:
    """Return a tank whose file says what a change states, and nothing else of it."""
    other = tuple(each for each in sample.tank.facts if not about_the_same(each, fact))
    return replace(sample, tank=sample.tank.model_copy(update={"facts": (*other, fact)}), worlds=())


def about_the_same(one: Fact, other: Fact) -> bool:
    """Return whether two facts are of one measure and one subject."""
    return one.measure == other.measure and sorted(one.subjects) == sorted(other.subjects)


def told(plane: Plane, made: Survey, rule: CompiledRule, world: int) -> dict[tuple[str, ...], object]:
    """Return what a plane says of each binding of one world, by the names of its things."""
    found: dict[tuple[str, ...], object] = {}
    for at in np.flatnonzero(plane.bindings.worlds == world).tolist():
        names = tuple(
            made.label(binder.kind, int(plane.bindings.rows[binder.name][at])) for binder in rule.binders
        )
        assert names not in found
        found[names] = row(plane, at)
    return found


@pytest.mark.parametrize("name", sorted(RULES))
def test_few_are_judged_in_a_changed_world_and_none_is_missed(name: str) -> None:
    for seed in range(12):
        rule, made = tables(seed, name)
        population = population_of(made)
        whole = judge(rule, made, population, everywhere=True)
        few = judge(rule, made, population)
        base = told(whole, made, rule, 0)
        for world in range(1, population.worlds):
            there, seen = told(whole, made, rule, world), told(few, made, rule, world)
            assert all(there[names] == what for names, what in seen.items())
            assert all(base[names] == what for names, what in there.items() if names not in seen)


def test_the_random_tanks_know_every_verdict() -> None:
    seen: set[int] = set()
    for name in RULES:
        for seed in range(6):
            rule, made = tables(seed, name)
            seen |= set(judge(rule, made, population_of(made)).verdict.tolist())
    assert seen >= {HOLDS, FAILS, UNDECIDED, NOT_COVERED}


@pytest.mark.parametrize("name", sorted(RULES))
def test_the_steps_taken_do_not_depend_on_how_many_are_asked_about(name: str) -> None:
    rule, made = tables(3, name)
    plane = judge(rule, made, population_of(made), everywhere=True)

    def steps(times: int) -> int:
        at = np.tile(np.arange(len(plane.bindings)), times)
        some = plane.bindings.take(at)
        frame = Frame(made, population_of(made), some.worlds, some.rows, np.zeros(len(at)))
        for part in (rule.when, rule.expect):
            if part is not None:
                truth(frame, part)
        return operations_run(frame)

    assert steps(1) == steps(50)
