"""Compiled rules against the same rule written out by hand in numpy, in one run.

Not timed tests: nothing is said about seconds. The answers must be the same,
and the ratio of the two best times must stay below a bound that is generous
on purpose (a busy machine, a cold cache). An evaluator that went through its
bindings one by one would be hundreds of times slower and fail.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import cache

import numpy as np
import numpy.typing as npt

from advisor.language.library import Library
from advisor.reasoning.bindings import Bindings, Population, bindings_of, population_of
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.judge import FAILS, HOLDS, NOT_COVERED, UNDECIDED, judge, judge_bindings
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of

ANIMALS = 300
GENEROUS = 40.0
"""How many times longer than by hand a rule may take; it takes about six times as long."""
REPEATS = 5

Codes = npt.NDArray[np.int8]
REACH = """
define toward(animal a, animal b) in cm as
    0 cm      when potency(a) < 2
    reach(a)  otherwise
"""


def best_of(run: Callable[[], object]) -> float:
    """Return the shortest of a few runs. [s]"""
    times = []
    for _ in range(REPEATS):
        started = time.perf_counter()
        run()
        times.append(time.perf_counter() - started)
    return min(times)


@cache
def tank(known: float = 0.6) -> tuple[Library, CompiledRule, Grid, Population]:
    """Return a rule about every pair of a crowded tank."""
    library, compiled = compiled_of(
        "gap(a, b) >= toward(a, b) + 1 cm", when="potency(b) <= 4", binders="animal a, neighbour b of a",
        more=REACH,
    )  # fmt: skip
    grid = random_grid(library, 1, animals=ANIMALS, worlds=0, known=known)
    return library, compiled, grid, population_of(grid)


def by_hand(grid: Grid, first: npt.NDArray[np.int64], second: npt.NDArray[np.int64]) -> Codes:
    """Return the same verdicts, written out."""
    gap_low, gap_high = grid.number["gap"][0][first, second], grid.number["gap"][2][first, second]
    reach_low, reach_high = grid.number["reach"][0][first], grid.number["reach"][2][first]
    strong_low, strong_high = grid.number["potency"][0][first], grid.number["potency"][2][first]
    other_low, other_high = grid.number["potency"][0][second], grid.number["potency"][2][second]
    weak, strong = strong_high < 2, strong_low >= 2
    low = np.where(weak, 0.0, np.where(strong, reach_low, np.minimum(0.0, reach_low))) + 1.0
    high = np.where(weak, 0.0, np.where(strong, reach_high, np.maximum(0.0, reach_high))) + 1.0
    holds, fails = gap_low >= high, gap_high < low
    meant, not_meant = other_high <= 4, other_low > 4
    codes = np.select([not_meant, holds, meant & fails], [NOT_COVERED, HOLDS, FAILS], default=UNDECIDED)
    return codes.astype(np.int8)


def test_a_rule_over_all_pairs_against_the_same_by_hand() -> None:
    _, compiled, grid, population = tank()
    every = bindings_of(grid, population, compiled.binders, everywhere=False)
    months = np.zeros(len(every))
    first, second = every.rows["a"], every.rows["b"]
    assert len(every) == ANIMALS * (ANIMALS - 1)
    verdicts = judge_bindings(compiled, grid, population, every, months).verdict
    np.testing.assert_array_equal(verdicts, by_hand(grid, first, second))
    assert len(np.unique(verdicts)) == 4
    ours = best_of(lambda: judge_bindings(compiled, grid, population, every, months))
    hand = best_of(lambda: by_hand(grid, first, second))
    assert ours / hand < GENEROUS


def all_pairs_by_hand(size: int) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """Return every ordered pair of two different animals."""
    first, second = np.divmod(np.arange(size * size), size)
    apart = first != second
    return first[apart], second[apart]


def test_binding_all_pairs_against_the_same_by_hand() -> None:
    _, compiled, grid, population = tank()
    found = bindings_of(grid, population, compiled.binders, everywhere=False)
    first, second = all_pairs_by_hand(ANIMALS)
    np.testing.assert_array_equal(found.rows["a"], first)
    np.testing.assert_array_equal(found.rows["b"], second)
    ours = best_of(lambda: bindings_of(grid, population, compiled.binders, everywhere=False))
    hand = best_of(lambda: all_pairs_by_hand(ANIMALS))
    assert ours / hand < GENEROUS


MOST = 135


def crowd_by_hand(grid: Grid) -> Codes:
    """Return whether at most `MOST` neighbours stand nearer than 6 cm, written out."""
    low, high = grid.number["gap"][0], grid.number["gap"][2]
    apart = ~np.eye(ANIMALS, dtype=np.bool_)
    surely, perhaps = ((high < 6) & apart).sum(axis=1), ((low < 6) & apart).sum(axis=1)
    return np.select([perhaps <= MOST, surely > MOST], [HOLDS, FAILS], default=UNDECIDED).astype(np.int8)


def test_counting_neighbours_against_the_same_by_hand() -> None:
    library, compiled = compiled_of(f"count of neighbour n of a where (gap(a, n) < 6 cm) <= {MOST}")
    grid = random_grid(library, 2, animals=ANIMALS, worlds=0, known=0.9)
    population = population_of(grid)
    verdicts = judge(compiled, grid, population).verdict
    np.testing.assert_array_equal(verdicts, crowd_by_hand(grid))
    assert len(np.unique(verdicts)) == 3
    ours = best_of(lambda: judge(compiled, grid, population))
    hand = best_of(lambda: crowd_by_hand(grid))
    # the inner bindings are laid out pair by pair, which a plain matrix need not: about a hundred times
    assert ours / hand < 10 * GENEROUS


def test_ten_times_the_bindings_do_not_take_a_hundred_times_as_long() -> None:
    """Work grows with the number of bindings, not with its square."""
    _, compiled, grid, population = tank()
    every = bindings_of(grid, population, compiled.binders, everywhere=False)
    few = every.take(np.arange(len(every) // 10))

    def run(bindings: Bindings) -> Callable[[], object]:
        """Return a run over some bindings."""
        return lambda: judge_bindings(compiled, grid, population, bindings, np.zeros(len(bindings)))

    assert best_of(run(every)) / best_of(run(few)) < 100.0
