"""Knowing less never turns harm into fine, nor fine into harm: it can only leave more open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.language.library import Library
from advisor.language.nodes import Level
from advisor.model.cells import Cell
from advisor.model.vocabulary import Kind, NumberType, SetType
from advisor.reasoning import truths
from advisor.reasoning.bindings import bindings_of, population_of
from advisor.reasoning.columns import MISSING, Bools, Floats, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.judge import BY_EYE, EXCUSED, FAILS, HOLDS, NOT_COVERED, UNDECIDED, judge_bindings
from advisor.reasoning.listing import Listing
from advisor.reasoning.tables import Tables
from tests.properties.demo import bench, sitting
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.test_judge import FORMULAS, made

MAY_BECOME = {
    FAILS: {FAILS, UNDECIDED},
    UNDECIDED: {UNDECIDED},
    HOLDS: {HOLDS, UNDECIDED, EXCUSED, NOT_COVERED},
    EXCUSED: {EXCUSED, UNDECIDED, NOT_COVERED},
    NOT_COVERED: {NOT_COVERED, UNDECIDED, EXCUSED, HOLDS, BY_EYE},
    BY_EYE: {BY_EYE},
}
"""What forgetting may make of a verdict, from the table of verdicts: never the contrary."""


@dataclass(slots=True)
class Forgetful:
    """Tables in which one measure or relation is known of nothing (or not of one row)."""

    tables: Tables
    name: str
    row: int = -1

    @property
    def library(self) -> Library:
        """As in the tables."""
        return self.tables.library

    @property
    def animal_world(self) -> Ints:
        """As in the tables."""
        return self.tables.animal_world

    @property
    def animal_place(self) -> Ints:
        """As in the tables."""
        return self.tables.animal_place

    @property
    def removed(self) -> Bools:
        """As in the tables."""
        return self.tables.removed

    @property
    def place_count(self) -> int:
        """As in the tables."""
        return self.tables.place_count

    def tank_rows(self, worlds: Ints) -> Ints:
        """As in the tables."""
        return self.tables.tank_rows(worlds)

    def listing(self, kind: Kind, apart: bool = False) -> Listing:
        """As in the tables."""
        return self.tables.listing(kind, apart)

    def _gone(self, name: str, rows: tuple[Ints, ...]) -> Bools:
        """Which rows are forgotten."""
        if name != self.name:
            return np.zeros(len(rows[0]), np.bool_)
        found: Bools = np.full(len(rows[0]), True) if self.row < 0 else rows[0] == self.row
        if self.row >= 0 and len(rows) == 2 and name == "gap":
            found = found | (rows[1] == self.row)
        return found

    def numbers(self, measure: str, rows: tuple[Ints, ...], months: Floats | None, assume: bool) -> Numbers:
        """A quantity, at its physical range where it is forgotten."""
        found, gone = self.tables.numbers(measure, rows, months, assume), self._gone(measure, rows)
        limits = self.library.vocabulary.measures[measure]
        return Numbers(
            np.where(gone, limits.low, found.low),
            np.where(gone, np.nan, found.best),
            np.where(gone, limits.high, found.high),
            np.where(gone, MISSING, found.flags).astype(np.uint8),
        )

    def words(self, measure: str, rows: tuple[Ints, ...]) -> Words:
        """Words, any of them where it is forgotten."""
        found, gone = self.tables.words(measure, rows), self._gone(measure, rows)
        return Words(
            found.possible | gone[:, None],
            found.domain,
            np.where(gone, MISSING, found.flags).astype(np.uint8),
        )

    def sets(self, measure: str, rows: tuple[Ints, ...]) -> Sets:
        """A set, any at all where it is forgotten."""
        found, gone = self.tables.sets(measure, rows), self._gone(measure, rows)
        return Sets(
            found.surely & ~gone[:, None],
            found.possibly | gone[:, None],
            found.domain,
            np.where(gone, MISSING, found.flags).astype(np.uint8),
        )

    def truths(self, relation: str, rows: tuple[Ints, ...], months: Floats | None) -> Truths:
        """A relation, open where it is forgotten."""
        found, gone = self.tables.truths(relation, rows, months), self._gone(relation, rows)
        return truths.of_bools(
            found.yes & ~gone, found.no & ~gone, np.where(gone, MISSING, found.flags).astype(np.uint8)
        )

    def cell(self, name: str, rows: tuple[int, ...], month: float = 0.0, assume: bool = True) -> Cell:
        """As in the tables; nothing here explains."""
        return self.tables.cell(name, rows, month, assume)

    def label(self, kind: Kind, row: int) -> str:
        """As in the tables."""
        return self.tables.label(kind, row)

    def say(self, name: str, rows: tuple[int, ...]) -> str:
        """As in the tables."""
        return self.tables.say(name, rows)

    def asked_of(self, name: str, rows: tuple[int, ...]) -> tuple[str, ...]:
        """As in the tables."""
        return self.tables.asked_of(name, rows)

    def ask(self, name: str, rows: tuple[int, ...]) -> str:
        """As in the tables."""
        return self.tables.ask(name, rows)

    def set_domain(self, measure: str, words: Sequence[str]) -> None:
        """As in the tables."""
        self.tables.set_domain(measure, words)


def assert_only_less_is_said(compiled: CompiledRule, knows: Tables, forgot: Tables) -> int:
    """Check every binding of a rule; return how many verdicts changed."""
    population = population_of(knows)
    every = bindings_of(knows, population, compiled.binders, everywhere=True)
    months = np.zeros(len(every))
    before = judge_bindings(compiled, knows, population, every, months).verdict
    after = judge_bindings(compiled, forgot, population, every, months).verdict
    for code, allowed in MAY_BECOME.items():
        assert np.isin(after[before == code], list(allowed)).all()
    return int((before != after).sum())


def names_in(library: Library) -> list[str]:
    """Return every measure and relation."""
    return [*library.vocabulary.measures, *library.vocabulary.relations]


@settings(max_examples=25)
@pytest.mark.parametrize("level", ["danger", "warning"])
@pytest.mark.parametrize(("expect", "when", "unless"), FORMULAS)
@given(seed=st.integers(0, 10_000), cell=st.data())
def test_forgetting_any_cell_of_a_random_tank(
    expect: str, when: str, unless: str, level: str, seed: int, cell: st.DataObject
) -> None:
    library, compiled = made(expect, when, unless, level)
    grid = random_grid(library, seed, animals=4, worlds=0, known=0.8)
    name = cell.draw(st.sampled_from(names_in(library)))
    row = cell.draw(st.integers(-1, 3))
    assert_only_less_is_said(compiled, grid, Forgetful(grid, name, row))


def assumable(library: Library, name: str) -> bool:
    """Return whether a measure is reckoned with where nobody tells it."""
    measure = library.vocabulary.measures.get(name)
    return measure is not None and bool(measure.assumptions)


@pytest.mark.parametrize("name", names_in(bench().library))
def test_forgetting_any_measure_of_the_demonstration_tank(name: str) -> None:
    """All rules that do not count others see only some rows; here a measure is forgotten of every row."""
    whole = sitting()
    forgot = Forgetful(whole.tables, name)
    for compiled in whole.bench.rules:
        if compiled.rule.level is Level.DANGER or not assumable(whole.bench.library, name):
            assert_only_less_is_said(compiled, whole.tables, forgot)


@pytest.mark.parametrize("row", [0, 7, 15])
def test_forgetting_one_animals_cells_of_the_demonstration_tank(row: int) -> None:
    whole = sitting()
    changed = 0
    for name in ("gap", "reach-most", "potency", "group", "contact-group", "toxins", "size"):
        forgot = Forgetful(whole.tables, name, row)
        for compiled in whole.bench.rules:
            changed += assert_only_less_is_said(compiled, whole.tables, forgot)
    assert changed > 0


def widened(grid: Grid, rng: np.random.Generator) -> Grid:
    """Return a grid in which every quantity is known less well."""
    wider = random_grid(grid.library, 0, animals=len(grid.animal_world), worlds=0)
    for field in ("animal_world", "animal_place", "removed", "domains", "word", "group_of", "truth"):
        setattr(wider, field, getattr(grid, field))
    for name, (low, best, high, flags) in grid.plain.items():
        limits = grid.library.vocabulary.measures[name]
        more = rng.integers(0, 3, low.shape) * limits.step
        more = (more + more.T) / 2 if limits.symmetric else more
        parts = [np.maximum(low - more, limits.low), best, np.minimum(high + more, limits.high), flags]
        wider.number[name] = wider.plain[name] = parts
    return wider


@settings(max_examples=25)
@pytest.mark.parametrize(("expect", "when", "unless"), FORMULAS)
@given(seed=st.integers(0, 10_000))
def test_wider_readings_only_leave_more_open(expect: str, when: str, unless: str, seed: int) -> None:
    library, compiled = made(expect, when, unless, "danger")
    grid = random_grid(library, seed, animals=4, worlds=0, known=0.8)
    assert_only_less_is_said(compiled, grid, widened(grid, np.random.default_rng(seed)))


def test_every_kind_of_measure_is_forgotten_somewhere() -> None:
    """The lists above are drawn from the vocabulary; it has all kinds."""
    measures = bench().library.vocabulary.measures.values()
    assert {type(measure.type) for measure in measures} >= {NumberType, SetType}
    assert bench().library.vocabulary.relations
