"""From verdicts to an answer per world: the fold and the ranking of the rule language.

A place is *no* if a danger fails, *not known yet* if one is open without a
good lean, *likely* if every open one leans well, else *yes*. A warning that
fails, or that leans to failing, makes either a *but*; one that is to come an
*until*. A preference never outvotes a danger.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from advisor.language.nodes import Level
from advisor.model.results import Comfort, Value, Word
from advisor.model.vocabulary import Kind
from advisor.planning.bench import RulePlane, Sitting, comes_later, concerns
from advisor.reasoning.bindings import bindings_of
from advisor.reasoning.columns import Bools, Codes, Floats, Ints, Leans
from advisor.reasoning.compile import CompiledPrefer
from advisor.reasoning.deciding import weighed
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import FAILS, HOLDS, UNDECIDED
from advisor.reasoning.ops import truth
from advisor.reasoning.record import Row
from advisor.reasoning.sentences import fill
from advisor.reasoning.truths import constant

_SURE = (Word.YES, Word.YES_UNTIL, Word.YES_BUT)
_HOPEFUL = (Word.LIKELY, Word.LIKELY_UNTIL, Word.LIKELY_BUT)
_LEVELS = {Level.DANGER: 0, Level.WARNING: 1, Level.ADVICE: 2}


@dataclass(frozen=True, slots=True)
class Table:
    """The bindings that matter to a world's answer, of all rules, one row each."""

    plane: Ints
    at: Ints
    world: Ints
    verdict: Codes
    lean: Leans
    level: Ints
    steps: Floats
    later: Bools

    def rows(self, keep: Bools) -> Ints:
        """Return the numbers of some rows."""
        return np.flatnonzero(keep)

    def only(self, keep: Bools) -> Table:
        """Return the table of some rows."""
        return Table(
            self.plane[keep],
            self.at[keep],
            self.world[keep],
            self.verdict[keep],
            self.lean[keep],
            self.level[keep],
            self.steps[keep],
            self.later[keep],
        )


def table_of(planes: Sequence[RulePlane], sitting: Sitting, *, everything: bool = False) -> Table:
    """Return one row per binding a world answers for; `everything` keeps the plain tank's too."""
    parts: list[tuple[Ints | Codes, ...]] = []
    steps, later = [], []
    for index, plane in enumerate(planes):
        keep = np.ones(len(plane.now.bindings), np.bool_) if everything else concerns(plane, sitting)
        at = np.flatnonzero(keep)
        now = plane.now
        parts.append(
            (
                np.full(len(at), index),
                at,
                now.bindings.worlds[at],
                now.verdict[at],
                now.lean[at],
                np.full(len(at), _LEVELS[plane.level]),
            )
        )
        steps.append(now.best[at])
        later.append(comes_later(plane)[at])
    if not parts:
        none = np.zeros(0, np.int64)
        return Table(
            none,
            none,
            none,
            none.astype(np.int8),
            none.astype(np.int8),
            none,
            none.astype(float),
            none.astype(np.bool_),
        )
    plane_, at_, world, verdict, lean, level = (np.concatenate(column) for column in zip(*parts, strict=True))
    return Table(
        plane_,
        at_,
        world,
        verdict.astype(np.int8),
        lean.astype(np.int8),
        level,
        np.concatenate(steps),
        np.concatenate(later),
    )


@dataclass(frozen=True, slots=True)
class Standing:
    """How one world stands, in the order of the ranking."""

    world: int
    dangers: int
    open_bad: int
    open_good: int
    warnings: int
    warned_now: bool
    """Whether a warning fails today, or is open and leans that way."""
    comes_later: bool
    comfort_low: float
    comfort: float
    comfort_high: float

    @property
    def key(self) -> tuple[int, int, int, int]:
        """The part of the ranking that comfort never outvotes."""
        return self.dangers, self.open_bad, self.open_good, self.warnings

    @property
    def middle(self) -> float:
        """The midpoint of its comfort."""
        return (self.comfort_low + self.comfort_high) / 2.0

    @property
    def word(self) -> Word:
        """The answer for this world."""
        if self.dangers:
            return Word.NO
        if self.open_bad:
            return Word.NOT_KNOWN
        plain, until, but = _HOPEFUL if self.open_good else _SURE
        if self.warned_now:
            return but
        return until if self.comes_later else plain


def standings(table: Table, worlds: int, comforts: Sequence[Sequence[Comfort]]) -> list[Standing]:
    """Return the standing of every world but the plain tank (world 0).

    Parameters
    ----------
    worlds
        Number of worlds, the plain tank included.
    comforts
        Terms of comfort per world, by world number.
    """
    danger, warning = table.level == 0, table.level == 1
    fails, still_open = table.verdict == FAILS, table.verdict == UNDECIDED
    bad = table.lean <= 0

    def count(keep: Bools) -> Ints:
        return np.bincount(table.world[keep], minlength=worlds)

    to_come = table.later & (danger | warning)  # what is to come is a dated warning, a danger's too
    warned = warning & (fails | (still_open & (table.lean < 0)))  # a warning follows its lean
    columns = [
        count(danger & fails),
        count(danger & still_open & bad),
        count(danger & still_open & ~bad),
        count(warned | to_come),
        count(to_come),
        count(warned & ~table.later),
    ]
    out = []
    for world in range(1, worlds):
        terms = comforts[world]
        dangers, open_bad, open_good, warnings, later, now = (int(column[world]) for column in columns)
        out.append(
            Standing(
                world,
                dangers,
                open_bad,
                open_good,
                warnings,
                warned_now=now > 0,
                comes_later=later > 0,
                comfort_low=sum(term.low for term in terms),
                comfort=sum(term.best for term in terms),
                comfort_high=sum(term.high for term in terms),
            )
        )
    return out


def ranked(found: Sequence[Standing], ids: Sequence[str]) -> list[tuple[int, Standing]]:
    """Return standings best first with their ranks; overlapping comfort shares a rank.

    Parameters
    ----------
    ids
        Id of the place of each world, by world number, for the order of ties.
    """
    groups: list[list[Standing]] = []
    for item in sorted(found, key=lambda item: (item.key, -item.comfort_high)):
        last = groups[-1] if groups else []
        if last and last[0].key == item.key and item.comfort_high >= min(one.comfort_low for one in last):
            last.append(item)
        else:
            groups.append([item])
    out: list[tuple[int, Standing]] = []
    for group in groups:
        rank = len(out) + 1
        group.sort(key=lambda item: (-item.middle, ids[item.world]))
        out += [(rank, item) for item in group]
    return out


def comforts_of(prefers: Sequence[CompiledPrefer], sitting: Sitting) -> list[list[Comfort]]:
    """Return the comfort terms of every world, by world number."""
    out: list[list[Comfort]] = [[] for _ in range(sitting.population.worlds)]
    for compiled in prefers:
        for world, comfort in _terms(compiled, sitting):
            out[world].append(comfort)
    return out


def _terms(compiled: CompiledPrefer, sitting: Sitting) -> list[tuple[int, Comfort]]:
    """One preference's terms where an animal of the world itself takes part."""
    bindings = bindings_of(
        sitting.tables, sitting.population, compiled.binders, everywhere=compiled.aggregates
    )
    own = np.zeros(len(bindings), np.bool_)
    first = compiled.binders[0]
    if first.kind.value in ("animal", "coral"):
        own |= sitting.tables.animal_world[bindings.rows[first.name]] >= 0
    bindings = bindings.take(own)
    frame = Frame(sitting.tables, sitting.population, bindings.worlds, bindings.rows, np.zeros(len(bindings)))
    want = truth(frame, compiled.want)
    meant = constant(True, len(bindings)) if compiled.when is None else truth(frame, compiled.when)
    low, best, high = (_comfort(margin, compiled) for margin in (want.low, want.best, want.high))
    low = np.where(meant.yes, low, 0.0)  # who may not be meant at all may have nothing of it
    best = np.where(np.isnan(best), (low + high) / 2.0, best)
    out = []
    for at in np.flatnonzero(~meant.no).tolist():
        row = Row(frame, at)
        about = sitting.tables.label(Kind.ANIMAL, int(frame.rows[first.name][at])) if own.any() else ""
        quantity, here, wanted_low, wanted_high = weighed(compiled.want, row, about)
        band = wanted_low is not None and wanted_high is not None  # an end alone is no more than a limit
        out.append(
            (
                int(bindings.worlds[at]),
                Comfort(
                    preference=compiled.prefer.name,
                    low=float(low[at]),
                    best=float(best[at]),
                    high=float(high[at]),
                    weight=compiled.prefer.weight,
                    sentence=fill(compiled.because, row),
                    quantity=quantity if band else "",
                    here=here,
                    wanted_low=_outer(wanted_low, low_end=True),
                    wanted_high=_outer(wanted_high, low_end=False),
                ),
            )
        )
    return out


def _outer(end: Value | None, *, low_end: bool) -> Value | None:
    """One end of a band on which sources disagree, told as the wider of what they say."""
    if end is None or end.best is not None:
        return end
    number = end.low if low_end else end.high
    return end.model_copy(update={"low": number, "best": number, "high": number})


def _comfort(margin: Floats, compiled: CompiledPrefer) -> Floats:
    """Weight times how far a margin has faded: full when wanted, nothing `fade` steps outside."""
    with np.errstate(invalid="ignore"):
        share = np.clip(1.0 + margin / compiled.prefer.fade_steps, 0.0, 1.0)
    return compiled.prefer.weight * share


def about(table: Table, planes: Sequence[RulePlane], row: int) -> Table:
    """Return the part of the plain tank's table in which one animal has a role, as if it were world 1."""
    keep = np.zeros(len(table.at), np.bool_)
    for index, plane in enumerate(planes):
        own = np.zeros(len(plane.now.bindings), np.bool_)
        for binder in plane.compiled.binders:
            if binder.kind in (Kind.ANIMAL, Kind.CORAL):
                own |= plane.now.bindings.rows[binder.name] == row
        here = table.plane == index
        keep[here] = own[table.at[here]]
    kept = table.only(keep & (table.world == 0))
    return replace(kept, world=np.ones(len(kept.at), np.int64))


def speaks(table: Table) -> Bools:
    """Return the rows that an answer must show: failing, open, or failing later, and accepted no longer."""
    found: Bools = (table.verdict == FAILS) | (table.verdict == UNDECIDED) | table.later
    return found


def holding(table: Table) -> Bools:
    """Return the rows that hold with a margin of their own."""
    found: Bools = (table.verdict == HOLDS) & np.isfinite(table.steps) & ~table.later
    return found
