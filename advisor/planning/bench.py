"""Every rule of a library, compiled once, and their verdicts over one set of tables."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Level, Stage
from advisor.model.results import Months, Reason
from advisor.model.vocabulary import Kind
from advisor.planning.accepts import told, told_lapsed, with_accepts
from advisor.planning.dates import month_name, months_on
from advisor.planning.species import told_by_species
from advisor.reasoning.bindings import Bindings, Population, of_its_world, population_of
from advisor.reasoning.columns import Bools
from advisor.reasoning.compile import (
    CompiledPrefer,
    CompiledRule,
    compile_prefer,
    compile_rule,
)
from advisor.reasoning.cutoff import Reach, reach_of
from advisor.reasoning.judge import ACCEPTED, FAILS, UNDECIDED, Plane, judge, judge_bindings
from advisor.reasoning.open_names import open_words
from advisor.reasoning.reasons import NUMBERS, Asked, reasons_for
from advisor.reasoning.tables import Tables

FEW_PAIRS = 20_000
"""Pairs of world and animal up to which a question about one animal looks at all of them."""

GROWTH_DOUBT = "growth-doubt"
"""Name of the let that says by what factor growth may be faster or slower than a card's plan."""

_GAP = "gap"

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """A library ready to judge with."""

    library: Library
    rules: tuple[CompiledRule, ...]
    prefers: tuple[CompiledPrefer, ...]

    def at(self, stages: Sequence[Stage]) -> tuple[CompiledRule, ...]:
        """Return the rules asked at some stages."""
        return tuple(item for item in self.rules if item.rule.stage in stages)


def bench_of(library: Library) -> Bench:
    """Compile every rule and preference of a library, in the order of their names."""
    return Bench(
        library,
        tuple(compile_rule(library.rules[name], library) for name in sorted(library.rules)),
        tuple(compile_prefer(library.prefers[name], library) for name in sorted(library.prefers)),
    )


@dataclass(frozen=True, slots=True, eq=False)
class RulePlane:
    """One rule over its bindings: now, and at the horizon where the rule asks for it."""

    compiled: CompiledRule
    now: Plane
    later: Plane | None

    @property
    def level(self) -> Level:
        """The rule's level."""
        return self.compiled.rule.level


@dataclass(frozen=True, slots=True, eq=False)
class Sitting:
    """One set of tables before the bench: who is in which world, and the date asked about."""

    bench: Bench
    tables: Tables
    population: Population
    on: date
    horizon_months: int
    base_world: int = 0
    """The tank without what is asked about: what every other world is compared with."""
    sees_far: bool = False

    def judge(
        self, rules: Sequence[CompiledRule], *, ahead: bool = True, everywhere: bool = False
    ) -> list[RulePlane]:
        """Return the verdicts of some rules; `ahead` also at the horizon for those that ask for it."""
        return [self._judge(compiled, ahead=ahead, everywhere=everywhere) for compiled in rules]

    def _judge(self, compiled: CompiledRule, *, ahead: bool, everywhere: bool) -> RulePlane:
        """One rule's verdicts."""
        looks_ahead = ahead and compiled.rule.until_horizon
        reach = self.reach(compiled, self.horizon_months if looks_ahead else 0)
        now = judge(compiled, self.tables, self.population, reach=reach, everywhere=everywhere)
        accepted = with_accepts(now, compiled, self.tables)
        if not looks_ahead:
            return RulePlane(compiled, accepted, None)
        months = np.full(len(now.bindings), float(self.horizon_months))
        later = judge_bindings(compiled, self.tables, self.population, now.bindings, months)
        return RulePlane(compiled, accepted, with_accepts(later, compiled, self.tables))

    def reach(self, compiled: CompiledRule, months: float) -> Reach | None:
        """Return how far a rule can see, or None where it must see everything.

        A question about one animal sees every pair too, as long as they are
        few: how far off the nearest stinger is counts even where it is far.
        """
        if self.sees_far and self.population.worlds * len(self.population.coral) <= FEW_PAIRS:
            return None
        found = reach_of(compiled, self.tables, self.population, months)
        return found if found.within_cm is not None else None

    def reasons(
        self,
        plane: RulePlane,
        at: Sequence[int],
        about: str = "",
        *,
        level: int = NUMBERS,
        placed: bool = True,
    ) -> list[Reason]:
        """Return some bindings of a rule as reasons, dated where it holds now and fails later.

        Parameters
        ----------
        level
            How deep they are read; at 0 only their words are wanted.
        placed
            Whether it matters where an animal is thought to stand: its place is then part of their ids.
        """
        later = comes_later(plane)
        coming = self._first_months(plane, [row for row in at if later[row]])
        when = [coming.get(row) for row in at]
        ahead = [0 if found is None else found[0] for found in when]
        days = [self.on if found is None else found[1].expected or self.on for found in when]
        bindings, months = plane.now.bindings.take(np.array(at, np.int64)), np.array(ahead, np.float64)
        asked = [Asked(about, month_name(day), level, placed) for day in days]
        reasons = reasons_for(plane.compiled, self.tables, self.population, bindings, months, asked)
        if level:
            reasons = told_by_species(reasons, plane.compiled, self.tables, bindings, months)
        dated = [
            reason if found is None else _dated(reason, found[1], found[0])
            for reason, found in zip(reasons, when, strict=True)
        ]
        library = self.bench.library
        apart = self._apart(plane.compiled, bindings)
        return [
            told(reason.model_copy(update={"apart_cm": cm}), library)
            if plane.now.verdict[row] == ACCEPTED and not later[row]
            else told_lapsed(reason.model_copy(update={"apart_cm": cm}), library)
            for reason, row, cm in zip(dated, at, apart, strict=True)
        ]

    def _apart(self, compiled: CompiledRule, bindings: Bindings) -> list[float | None]:
        """How far apart the two animals of each binding are; None where nobody knows. [cm]"""
        animals = [binder.name for binder in compiled.binders if binder.kind.lives]
        gap = self.bench.library.vocabulary.measures.get(_GAP)
        if len(animals) != 2 or gap is None or not len(bindings):
            return [None] * len(bindings)
        rows = (bindings.rows[animals[0]], bindings.rows[animals[1]])
        found = self.tables.numbers(_GAP, rows, None, True)
        middle = np.where(np.isnan(found.best), (found.low + found.high) / 2.0, found.best)
        known = (found.high < gap.high) | ~np.isnan(found.best)
        return [float(cm) if told else None for cm, told in zip(middle, known, strict=True)]

    def _first_months(self, plane: RulePlane, rows: Sequence[int]) -> dict[int, tuple[int, Months]]:
        """The month a rule first fails at some bindings, with growth as planned, faster and slower."""
        if not rows:
            return {}
        let = self.bench.library.lets.get(GROWTH_DOUBT)
        factor = let.value.value if let is not None else 1.0
        horizon = self.horizon_months
        speeds = np.array([factor, 1.0, 1.0 / factor])
        months = (speeds[:, None] * np.arange(1, horizon + 1)).ravel()
        at = np.repeat(np.array(rows, np.int64), len(months))
        found = judge_bindings(
            plane.compiled,
            self.tables,
            self.population,
            plane.now.bindings.take(at),
            np.tile(months, len(rows)),
        )
        found = with_accepts(found, plane.compiled, self.tables)
        shape = (len(rows), len(speeds), horizon)
        failing = _points_to_no(found).reshape(shape)
        # the latest month is that of the slowest growth and the kindest reading
        failing[:, -1] = (found.verdict == FAILS).reshape(shape)[:, -1]
        first = np.where(failing.any(axis=2), failing.argmax(axis=2) + 1, 0)
        return {row: self._months(first[index].tolist()) for index, row in enumerate(rows)}

    def _months(self, first: Sequence[int]) -> tuple[int, Months]:
        """The planned month of failing and the dates it may be; a month of 0 is beyond the horizon."""
        earliest, expected, latest = (months_on(self.on, month) if month else None for month in first)
        last = months_on(self.on, self.horizon_months)
        return first[1] or self.horizon_months, Months(
            earliest=earliest or last, expected=expected, latest=latest
        )


def _dated(reason: Reason, when: Months, months_ahead: int) -> Reason:
    """A reason that is to come."""
    return reason.model_copy(update={"until": when, "months_ahead": months_ahead})


def sitting_of(
    bench: Bench,
    tables: Tables,
    on: date,
    horizon_months: int,
    base_world: int = 0,
    *,
    sees_far: bool = False,
) -> Sitting:
    """Return some tables before the bench."""
    for measure, words in open_words(bench.library).items():
        tables.set_domain(measure, words)
    return Sitting(bench, tables, population_of(tables), on, horizon_months, base_world, sees_far)


def comes_later(plane: RulePlane) -> Bools:
    """Return where a rule does not fail now and fails, or leans that way, at the horizon."""
    if plane.later is None:
        return np.zeros(len(plane.now.bindings), np.bool_)
    found: Bools = ~_points_to_no(plane.now) & _points_to_no(plane.later)
    return found


def _points_to_no(plane: Plane) -> Bools:
    """Where a verdict fails, or is open and leans that way."""
    found: Bools = (plane.verdict == FAILS) | ((plane.verdict == UNDECIDED) & (plane.lean < 0))
    return found


def concerns(plane: RulePlane, sitting: Sitting) -> Bools:
    """Return which bindings a world's change is answerable for.

    Those in which something of its own has any role (an animal, a changed
    place or thing), and every other whose verdict is worse than in the tank
    without what is asked about.
    """
    bindings = plane.now.bindings
    own = np.zeros(len(bindings), np.bool_)
    for binder in plane.compiled.binders:
        if binder.kind is not Kind.WEAPON:
            own |= of_its_world(sitting.tables, binder.kind, bindings.rows[binder.name])
    return own | (worsened(plane, sitting.base_world) & (bindings.worlds > 0))


def worsened(plane: RulePlane, base_world: int) -> Bools:
    """Return where a binding's verdict, now or at the horizon, is worse than the same one's in a world."""
    bindings = plane.now.bindings
    found = np.zeros(len(bindings), np.bool_)
    if not plane.compiled.aggregates or not len(bindings):
        return found
    keys = np.stack([bindings.rows[binder.name] for binder in plane.compiled.binders], axis=1)
    which = np.unique(keys, axis=0, return_inverse=True)[1].reshape(-1)
    base = bindings.worlds == base_world
    for part in (plane.now, plane.later):
        if part is not None:
            harm = np.select([part.verdict == FAILS, part.verdict == UNDECIDED], [2, 1], 0)
            plain = np.zeros(which.max() + 1, np.int64)
            plain[which[base]] = harm[base]
            found |= harm > plain[which]
    return found


def reaches(library: Library) -> tuple[tuple[str, str], ...]:
    """Return, for each rule, which pairs it must see, with the reach of the shipped cards."""
    from advisor.reasoning.givens import (
        Givens,  # tables in which nothing is known: every measure at its widest
    )

    tables = Givens(library, ("a", "b"), {})
    population = population_of(tables)
    out = []
    for compiled in bench_of(library).rules:
        found = reach_of(compiled, tables, population)
        text = found.kind if found.within_cm is None else f"within {found.within_cm:g} cm"
        out.append((compiled.rule.name, text))
    return tuple(out)
