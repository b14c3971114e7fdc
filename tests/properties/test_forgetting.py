"""What a reason rests on is enough for its verdict, and nothing of it can be spared.

The check goes another way than the search: the tables themselves are asked
with cells left blank, and the binding is judged anew, alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.reasoning import forget, truths
from advisor.reasoning.bindings import Population, bindings_of, population_of
from advisor.reasoning.columns import Bools, Floats, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.examples import rule_of, try_out
from advisor.reasoning.forget import kept_cells
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import (
    BY_EYE,
    UNDECIDED,
    VERDICTS,
    Plane,
    frame_of,
    judge_bindings,
    judge_frame,
)
from advisor.reasoning.leaves import keys_in_reach
from advisor.reasoning.record import Key, Row, key_of, keys_below, open_cells
from advisor.reasoning.tables import Tables
from tests.planning.tanks import coral, opened, spot
from tests.properties.demo import bench, sitting
from tests.properties.test_knowing_less import Forgetful
from tests.reasoning.grids import random_grid
from tests.reasoning.small import compiled_of
from tests.reasoning.test_judge import FORMULAS, made

MORE_FORMULAS = (
    ("(count of neighbour n of a where gap(a, n) < 6 cm and potency(n) >= 2) <= 1", "", "fenced(a)"),
    ("(sum of size(n) for neighbour n of a where gap(a, n) < 9 cm) <= 12 cm", "potency(a) >= 1", ""),
    ("(least of gap(a, n) for neighbour n of a where potency(n) >= 2) >= 3 cm", "", "divider(a, b)"),
    ("gap(a, b) >= reach(a) + reach(b) - 2 cm or divider(a, b)", "group(a) is not group(b)", "above(a, b)"),
    ("origin(a) >= 60 PAR and light(a.spot) >= origin(a)", "size(a) >= 1 cm", "light(b.spot) >= origin(b)"),
    ("genus(a) is genus(b) or (potency(a) >= 1 and gap(a, b) >= reach(a))", "genus(a) is genus(b)", ""),
)
"""Aggregates, repeated unknowns, assumed values and open names."""

MOST = 3
"""Bindings of one rule and verdict that are looked at."""


@dataclass(slots=True)
class Knowing(Forgetful):
    """Tables of which some cells are forgotten."""

    gone: frozenset[Key] = frozenset()

    def _gone(self, name: str, rows: tuple[Ints, ...]) -> Bools:
        """Which rows are forgotten."""
        measure = self.library.vocabulary.measures.get(name)
        turned = measure is not None and measure.symmetric
        each_row = zip(*(column.tolist() for column in rows), strict=True)
        found = [(name, tuple(sorted(each)) if turned else each) in self.gone for each in each_row]
        return np.array(found, np.bool_)


@dataclass(frozen=True, slots=True)
class Told:
    """A verdict with all that must stand."""

    verdict: str
    cause: str
    lean: int


@pytest.fixture(autouse=True)
def search_to_the_end() -> Iterator[None]:
    """However many members a rule counts over, here the search is not cut short."""
    with patch.object(forget, "MOST_ROWS", 10**9):
        yield


def told(plane: Plane, at: int) -> Told:
    """Return the verdict of one binding; only of an open one cause and lean count."""
    still_open = plane.verdict[at] == UNDECIDED
    return Told(
        VERDICTS[plane.verdict[at]].value, plane.causes()[at], int(plane.lean[at]) if still_open else 0
    )


def every_key(compiled: CompiledRule, row: Row) -> frozenset[Key]:
    """Return every cell a rule reads at one binding."""
    parts = (compiled.when, compiled.expect, compiled.unless)
    return frozenset(key for part in parts if part is not None for key in keys_below(part, row))


def assert_rests_on_what_is_kept(compiled: CompiledRule, frame: Frame, plane: Plane, some: list[int]) -> int:
    """Check some bindings; return how many cells were found to be needed."""
    kept = kept_cells(compiled, frame, plane)
    needed = 0
    for at in some:
        keys = {seen.key for seen in kept[at]}
        every = every_key(compiled, Row(frame, at))
        before = told(plane, at)
        assert keys <= every
        assert told_without(compiled, frame, plane, at, every - keys) == before
        for key in keys:
            assert told_without(compiled, frame, plane, at, every - keys | {key}) != before, key
        needed += len(keys)
    return needed


def told_without(compiled: CompiledRule, frame: Frame, plane: Plane, at: int, gone: frozenset[Key]) -> Told:
    """Return what is told of one binding, judged alone, once some cells are forgotten."""
    tables = Knowing(frame.tables, "", gone=gone)
    one = plane.bindings.take(np.array([at]))
    return told(judge_bindings(compiled, tables, frame.population, one, frame.months[[at]]), 0)


def some_of_each(plane: Plane) -> list[int]:
    """Return a few bindings of every verdict that occurs."""
    found: list[int] = []
    for code in np.unique(plane.verdict):
        at = np.flatnonzero(plane.verdict == code)
        found += at[:: max(1, len(at) // MOST)][:MOST].tolist()
    return found


# --- the rules that ship ----------------------------------------------------------


def rules_with_examples() -> list[str]:
    """Return the name of every rule and preference that has examples."""
    return sorted({example.rule for example in bench().library.examples})


@pytest.mark.parametrize("name", rules_with_examples())
def test_every_example_rests_on_what_is_kept(name: str) -> None:
    library = bench().library
    rule = rule_of(name, library)
    assert rule is not None
    compiled = compile_rule(rule, library)
    trial = try_out(compiled, [each for each in library.examples if each.rule == name], library)
    verdicts = trial.plane.verdict
    needed = assert_rests_on_what_is_kept(compiled, trial.frame, trial.plane, list(range(len(verdicts))))
    assert needed > 0 or (verdicts == BY_EYE).any()


@pytest.mark.parametrize("name", sorted(rule.rule.name for rule in bench().rules))
def test_every_rule_of_the_demonstration_tank_rests_on_what_is_kept(name: str) -> None:
    whole = sitting()
    compiled = next(rule for rule in whole.bench.rules if rule.rule.name == name)
    assert_in_tank(compiled, whole.tables, whole.population)


def assert_in_tank(compiled: CompiledRule, tables: Tables, population: Population) -> int:
    """Check a few bindings of every verdict of a rule in one tank."""
    every = bindings_of(tables, population, compiled.binders, everywhere=False)
    plane = judge_bindings(compiled, tables, population, every, np.zeros(len(every)))
    some = every.take(np.array(some_of_each(plane), np.int64))
    frame = frame_of(compiled, tables, population, some, np.zeros(len(some)))
    return assert_rests_on_what_is_kept(
        compiled, frame, judge_frame(compiled, frame, some), list(range(len(some)))
    )


CARDS = ("torch", "zoanthus", "branching-hammer", "candy-cane", "disc-mushroom", "kenya-tree", "leather")
WORDS = ("left", "middle", "right")


@pytest.mark.parametrize("seed", range(4))
def test_every_rule_of_a_tank_made_up_rests_on_what_is_kept(tmp_path: Path, seed: int) -> None:
    spots, corals = made_up(np.random.default_rng(seed))
    session = opened(tmp_path, spots=spots, corals=corals)
    own = session._desk
    here = own.sit(own.survey())
    assert sum(assert_in_tank(compiled, here.tables, here.population) for compiled in here.bench.rules) > 0


def made_up(rng: np.random.Generator) -> tuple[str, str]:
    """Return the spots and corals of a tank; some of what could be told is not."""
    spots, corals = "", ""
    for number, card in enumerate(rng.choice(CARDS, 3)):
        where = f"at: '{rng.choice(WORDS)}, back, low'"
        told_of = spot(f"s{number}", where) if rng.random() < 0.7 else spot(f"s{number}", what=where)
        spots += told_of
        corals += coral(
            f"c{number}", card, f"spot: s{number}" + (", size: 7 cm" if rng.random() < 0.7 else "")
        )
    return spots, corals


# --- the other way round: what would settle it -----------------------------------------


@dataclass(slots=True)
class Settled(Knowing):
    """Tables in which some cells that were open are known exactly: what that makes of them is drawn."""

    dice: np.random.Generator = field(default_factory=lambda: np.random.default_rng(0))

    def numbers(self, measure: str, rows: tuple[Ints, ...], months: Floats | None, assume: bool) -> Numbers:
        """A quantity, at one of the values it may have."""
        found, told = self.tables.numbers(measure, rows, months, assume), self._gone(measure, rows)
        high = np.minimum(found.high, found.low + 1e6)
        value = found.low + self.dice.random(len(found.low)) * (high - found.low)
        low, best, top = (np.where(told, value, end) for end in (found.low, found.best, found.high))
        return Numbers(low, best, top, np.where(told, 0, found.flags).astype(np.uint8))

    def words(self, measure: str, rows: tuple[Ints, ...]) -> Words:
        """A word, one of those it may be."""
        found, told = self.tables.words(measure, rows), self._gone(measure, rows)
        one = np.arange(len(found.domain)) == found.possible.argmax(axis=1)[:, None]
        possible = np.where(told[:, None], one, found.possible)
        return Words(possible, found.domain, np.where(told, 0, found.flags).astype(np.uint8))

    def sets(self, measure: str, rows: tuple[Ints, ...]) -> Sets:
        """A set, of what it surely has."""
        found, told = self.tables.sets(measure, rows), self._gone(measure, rows)
        possibly = np.where(told[:, None], found.surely, found.possibly)
        return Sets(found.surely, possibly, found.domain, np.where(told, 0, found.flags).astype(np.uint8))

    def truths(self, relation: str, rows: tuple[Ints, ...], months: Floats | None) -> Truths:
        """A relation that holds or does not."""
        found, told = self.tables.truths(relation, rows, months), self._gone(relation, rows)
        yes = np.where(told, self.dice.random(len(told)) < 0.5, found.yes)
        no = np.where(told, ~yes, found.no)
        return truths.of_bools(yes, no, np.where(told, 0, found.flags).astype(np.uint8))


def assert_open_cells_settle_it(compiled: CompiledRule, frame: Frame, plane: Plane, seed: int) -> int:
    """Check every open binding: once all it asks for is known exactly, nothing is missing any more."""
    parts = [part for part in (compiled.when, compiled.expect, compiled.unless) if part is not None]
    rows = np.flatnonzero(plane.verdict == UNDECIDED).tolist()
    for at in rows:
        cells = [pair for part in parts for pair in open_cells(part, Row(frame, at))]
        asked = frozenset(key_of(cell, row) for cell, row in cells)
        if plane.causes()[at] != "too close":
            assert asked
        tables = Settled(frame.tables, "", gone=asked, dice=np.random.default_rng(seed))
        one = plane.bindings.take(np.array([at]))
        after = judge_bindings(compiled, tables, frame.population, one, frame.months[[at]])
        assert after.causes()[0] in ("", "too close")
    return len(rows)


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("name", rules_with_examples())
def test_what_an_open_example_asks_for_settles_it(name: str, seed: int) -> None:
    library = bench().library
    rule = rule_of(name, library)
    assert rule is not None
    compiled = compile_rule(rule, library)
    trial = try_out(compiled, [each for each in library.examples if each.rule == name], library)
    assert_open_cells_settle_it(compiled, trial.frame, trial.plane, seed)


@settings(max_examples=25)
@pytest.mark.parametrize(("expect", "when", "unless"), [*FORMULAS, *MORE_FORMULAS])
@given(seed=st.integers(0, 10_000))
def test_what_an_open_random_formula_asks_for_settles_it(
    expect: str, when: str, unless: str, seed: int
) -> None:
    library, compiled = made(expect, when, unless, "danger")
    grid = random_grid(library, seed, animals=4, worlds=0, known=0.4)
    population = population_of(grid)
    every = bindings_of(grid, population, compiled.binders, everywhere=True)
    frame = frame_of(compiled, grid, population, every, np.zeros(len(every)))
    assert_open_cells_settle_it(compiled, frame, judge_frame(compiled, frame, every), seed)


# --- rules made up -------------------------------------------------------------------


@settings(max_examples=25)
@pytest.mark.parametrize("level", ["danger", "warning"])
@pytest.mark.parametrize(("expect", "when", "unless"), [*FORMULAS, *MORE_FORMULAS])
@given(seed=st.integers(0, 10_000), known=st.sampled_from([0.4, 0.8]))
def test_random_formulas_in_random_tanks_rest_on_what_is_kept(
    expect: str, when: str, unless: str, level: str, seed: int, known: float
) -> None:
    library, compiled = made(expect, when, unless, level)
    grid = random_grid(library, seed, animals=4, worlds=0, known=known)
    assert_in_tank(compiled, grid, population_of(grid))


CHAINS = (
    "b is not within 3 steps of a over near",
    "b is within 2 steps of a over above",
    "b is within 3 steps of a over near and potency(a) >= 2",
)


@settings(max_examples=20)
@pytest.mark.parametrize("expect", CHAINS)
@given(seed=st.integers(0, 10_000), known=st.sampled_from([0.5, 0.8, 0.95]))
def test_all_links_that_make_no_difference_are_forgotten_in_one_go(
    expect: str, seed: int, known: float
) -> None:
    library, compiled = compiled_of(expect, more=NEAR, binders="animal a, neighbour b of a")
    grid = random_grid(library, seed, animals=5, worlds=0, known=known)
    with patch.object(forget, "MANY", 0):
        assert_in_tank(compiled, grid, population_of(grid))
    every = bindings_of(grid, population_of(grid), compiled.binders, everywhere=False)
    frame = frame_of(compiled, grid, population_of(grid), every, np.zeros(len(every)))
    plane = judge_frame(compiled, frame, every)
    for at in range(len(every)):
        row = Row(frame, at)
        parts = (compiled.when, compiled.expect, compiled.unless)
        near = {key for part in parts if part is not None for key in keys_in_reach(part, row)}
        beyond = every_key(compiled, row) - near
        assert told_without(compiled, frame, plane, at, beyond) == told(plane, at)


NEAR = 'define near(animal a, animal b) as gap(a, b) <= 4 cm or divider(a, b)  say "{a} is near {b}"\n'
