"""What a rule's reach leaves out can neither fail nor be open."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.language.library import Library
from advisor.reasoning.bindings import Bindings, bindings_of, population_of
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.cutoff import Reach, near_enough, reach_of
from advisor.reasoning.judge import FAILS, UNDECIDED, judge_bindings
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of

PAIR = "animal a, neighbour b of a"
LETS = "let far = 9 cm\nlet near = 4 cm\n"
CASES = """
define toward(animal a, animal b) in cm as
    0 cm            when potency(a) < 2
    reach(a)        when above(a, b)
    smaller of reach(a), far  otherwise
define close(animal a, animal b) as gap(a, b) < near
define roomy(animal a, animal b) as gap(a, b) > reach(a) + reach(b)
"""
SHAPES: dict[str, dict[str, str]] = {
    "a literal": {"expect": "gap(a, b) >= 7 cm"},
    "a card": {"expect": "gap(a, b) > reach(a)"},
    "cases": {"expect": "gap(a, b) >= toward(a, b)"},
    "a limit in when": {"expect": "potency(a) >= 3", "when": "gap(a, b) <= 6 cm"},
    "a definition in when": {"expect": "potency(a) >= 3", "when": "close(a, b) and potency(b) >= 1"},
    "an excuse": {"expect": "potency(a) >= 3", "unless": "gap(a, b) >= 8 cm or divider(a, b)"},
    "either of two": {"expect": "gap(a, b) >= far or divider(a, b)"},
    "the nearer of several": {
        "expect": "gap(a, b) >= 11 cm",
        "when": "gap(a, b) < far",
        "unless": "roomy(a, b)",
    },
    "written the other way round": {"expect": "far <= gap(a, b)"},
    "a gap of both orders": {"expect": "gap(b, a) >= near"},
    "both": {"expect": "gap(a, b) >= near and gap(a, b) >= far"},
    "not nearer than": {"expect": "not gap(a, b) < far", "when": "potency(a) >= 1"},
    "a guess": {"expect": "gap(a, b) >= origin(a) / 60 PAR * 1 cm"},
    "the gap on both sides": {"expect": "gap(a, b) >= gap(a, b) * 0.5 + 2 cm"},
}


SEE_ALL = ("both", "a guess", "the gap on both sides")
"""Shapes whose limit lies beyond every gap of these grids, or that have none."""


@cache
def made(shape: str, level: str = "warning") -> tuple[Library, CompiledRule]:
    """Return one of the rules, compiled, and its library."""
    clauses = SHAPES[shape]
    return compiled_of(
        clauses["expect"],
        binders=PAIR,
        more=LETS + CASES,
        level=level,
        when=clauses.get("when", ""),
        unless=clauses.get("unless", ""),
    )


def wide_gaps(grid: Grid, seed: int) -> None:
    """Spread the gaps of a grid so that some lie beyond every limit."""
    rng = np.random.default_rng(seed)
    stretch = rng.choice([1.0, 8.0], grid.number["gap"][0].shape)
    stretch = np.triu(stretch) + np.triu(stretch, 1).T
    for part in (0, 1, 2):
        grid.number["gap"][part] = np.minimum(grid.number["gap"][part] * stretch, 500.0)


def keys(of: Bindings) -> list[tuple[int, ...]]:
    """Return world and rows of every binding."""
    return list(zip(of.worlds.tolist(), *(rows.tolist() for rows in of.rows.values()), strict=True))


@settings(max_examples=25)
@pytest.mark.parametrize("level", ["danger", "warning"])
@pytest.mark.parametrize("shape", SHAPES)
@given(seed=st.integers(0, 5000), horizon=st.sampled_from([0.0, 12.0]))
def test_what_lies_beyond_never_fails_and_is_never_open(
    shape: str, level: str, seed: int, horizon: float
) -> None:
    library, compiled = made(shape, level)
    grid = random_grid(library, seed, animals=5, worlds=1, own=1)
    grid.closing = 0.7
    wide_gaps(grid, seed)
    population = population_of(grid)
    every = bindings_of(grid, population, compiled.binders, everywhere=True)
    reach = reach_of(compiled, grid, population, horizon)
    kept = near_enough(every, compiled, grid, reach)
    near = set(keys(kept))
    beyond = np.array([key not in near for key in keys(every)])
    for month in (0.0, horizon / 2, horizon):
        plane = judge_bindings(compiled, grid, population, every, np.full(len(every), month))
        assert not np.isin(plane.verdict[beyond], (FAILS, UNDECIDED)).any()


def test_the_reach_is_the_longest_limit_any_animal_of_the_tank_has() -> None:
    library, compiled = compiled_of("gap(a, b) >= reach(a)", binders=PAIR)
    grid = random_grid(library, 1, animals=3, worlds=0, known=1.0)
    grid.number["reach"][2][:] = grid.plain["reach"][2][:] = (3.0, 11.0, 5.0)
    found = reach_of(compiled, grid, population_of(grid))
    assert found == Reach("within", 11.0, 0.0)


def test_a_pair_of_unknown_gap_always_stays() -> None:
    library, compiled = compiled_of("gap(a, b) >= 7 cm", binders=PAIR)
    grid = random_grid(library, 0, animals=3, worlds=0)
    for part, value in enumerate((0.0, np.nan, 500.0)):
        grid.plain["gap"][part][:] = value
    every = bindings_of(grid, population_of(grid), compiled.binders, everywhere=True)
    assert len(near_enough(every, compiled, grid, Reach("within", 7.0))) == len(every) == 6


def test_a_pair_at_the_very_limit_stays_and_one_beyond_goes() -> None:
    library, compiled = compiled_of("gap(a, b) > 7 cm", binders=PAIR)
    grid = random_grid(library, 0, animals=2, worlds=0)
    every = bindings_of(grid, population_of(grid), compiled.binders, everywhere=True)
    for gap, left in ((7.0, 2), (7.01, 0)):
        grid.plain["gap"][0][:] = gap
        assert len(near_enough(every, compiled, grid, Reach("within", 7.0))) == left


def test_growth_up_to_the_horizon_is_reckoned_with() -> None:
    library, compiled = compiled_of("gap(a, b) >= 7 cm", binders=PAIR)
    grid = random_grid(library, 0, animals=2, worlds=0)
    grid.plain["gap"][0][:] = 10.0
    grid.closing = 0.5
    every = bindings_of(grid, population_of(grid), compiled.binders, everywhere=True)
    assert len(near_enough(every, compiled, grid, Reach("within", 7.0, 0.0))) == 0
    assert len(near_enough(every, compiled, grid, Reach("within", 7.0, 12.0))) == 2


@pytest.mark.parametrize(
    ("binders", "expect", "kind"),
    [
        ("tank", "salt(tank) >= 30 ppt", "once per tank"),
        ("place p", "light(p) >= 30 PAR", "each place"),
        ("coral c", "light(c.spot) >= 30 PAR", "each animal"),
        (PAIR, "potency(a) >= 3", "all pairs"),
        (PAIR, "gap(a, b) <= 9 cm", "all pairs"),
        (f"{PAIR}, neighbour d of a", "gap(a, b) >= 9 cm", "all pairs"),
        (PAIR, "count of neighbour n of a where (gap(a, n) < 9 cm) <= 3", "all pairs"),
    ],
)
def test_a_rule_without_a_limit_of_its_own_says_what_it_must_see(
    binders: str, expect: str, kind: str
) -> None:
    library, compiled = compiled_of(expect, binders=binders)
    grid = random_grid(library, 0)
    assert reach_of(compiled, grid, population_of(grid)) == Reach(kind)


def test_a_quantity_nobody_knows_counts_at_its_widest_even_where_it_is_assumed() -> None:
    """A danger is judged without assumptions, so its reach must not lean on one either."""
    library, compiled = compiled_of("gap(a, b) >= origin(a) / 60 PAR * 1 cm", binders=PAIR, level="danger")
    grid = random_grid(library, 0, animals=2, worlds=0)
    for part, value in enumerate((0.0, np.nan, 2500.0, 1.0)):
        grid.plain["origin"][part][:] = value
    for part, value in enumerate((40.0, np.nan, 110.0, 4.0)):
        grid.number["origin"][part] = np.full(2, value)
    found = reach_of(compiled, grid, population_of(grid))
    assert found.within_cm is not None
    assert found.within_cm == pytest.approx(2500.0 / 60.0)


@pytest.mark.parametrize("shape", [name for name in SHAPES if name not in SEE_ALL])
def test_the_reach_of_most_shapes_does_leave_something_out(shape: str) -> None:
    library, compiled = made(shape)
    left_out = 0
    for seed in range(8):
        grid = random_grid(library, seed, animals=5, worlds=0, known=0.9)
        wide_gaps(grid, seed)
        every = bindings_of(grid, population_of(grid), compiled.binders, everywhere=True)
        reach = reach_of(compiled, grid, population_of(grid))
        left_out += len(every) - len(near_enough(every, compiled, grid, reach))
    assert left_out > 0
