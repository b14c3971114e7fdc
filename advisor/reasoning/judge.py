"""Verdicts: every rule over all its bindings, in every world of the tables."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from advisor.language.nodes import Level
from advisor.model.results import Verdict
from advisor.reasoning import truths
from advisor.reasoning.bindings import Bindings, Population, bindings_of
from advisor.reasoning.columns import STALE, Bools, Codes, Flags, Floats, Leans, Truths
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.cutoff import Reach, near_enough
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import Op, truth
from advisor.reasoning.tables import Tables

VERDICTS: tuple[Verdict, ...] = (
    Verdict.HOLDS,
    Verdict.FAILS,
    Verdict.UNDECIDED,
    Verdict.EXCUSED,
    Verdict.ACCEPTED,
    Verdict.NOT_COVERED,
    Verdict.BY_EYE,
)
HOLDS, FAILS, UNDECIDED, EXCUSED, ACCEPTED, NOT_COVERED, BY_EYE = range(7)


@dataclass(frozen=True, slots=True)
class Plane:
    """The verdicts of one rule over its bindings, at one month each.

    `lean` is +1 where an open verdict leans towards the good side; margins
    are those of `expect`, in steps. Only open verdicts have flags.
    """

    bindings: Bindings
    verdict: Codes
    lean: Leans
    low: Floats
    best: Floats
    high: Floats
    flags: Flags

    def causes(self) -> list[str]:
        """Return why each binding is open: ``missing``, ``stale``, ``too close`` or empty."""
        out = []
        for verdict, flags in zip(self.verdict, self.flags, strict=True):
            if verdict != UNDECIDED:
                out.append("")
            elif flags & ~np.uint8(STALE):
                out.append("missing")
            else:
                out.append("stale" if flags & STALE else "too close")
        return out


def judge(
    compiled: CompiledRule,
    tables: Tables,
    population: Population,
    *,
    month: float = 0.0,
    reach: Reach | None = None,
    everywhere: bool = False,
) -> Plane:
    """Return the verdicts of a rule over all its bindings.

    Parameters
    ----------
    month
        Months of growth ahead of the tables' date.
    reach
        How far the rule can see; bindings surely beyond it are left out.
    everywhere
        Judge every binding in every world, not only those a world's own
        animals take part in. Always so for a rule with aggregates.
    """
    found = bindings_of(tables, population, compiled.binders, everywhere=everywhere or compiled.aggregates)
    if reach is not None:
        found = near_enough(found, compiled, tables, reach)
    return judge_bindings(compiled, tables, population, found, np.full(len(found), month))


def judge_bindings(
    compiled: CompiledRule, tables: Tables, population: Population, bindings: Bindings, months: Floats
) -> Plane:
    """Return the verdicts of a rule over given bindings, each at its own month."""
    return judge_frame(compiled, frame_of(compiled, tables, population, bindings, months), bindings)


def judge_frame(compiled: CompiledRule, frame: Frame, bindings: Bindings) -> Plane:
    """Return the verdicts of a rule over the bindings of a frame, leaving its columns in the frame."""
    sober = plane_of(compiled, frame, bindings)
    doubtful = (sober.verdict == UNDECIDED) & (sober.lean == 0)
    if frame.assume or not doubtful.any():
        return sober
    return leaning(sober, plane_of(compiled, hopeful_of(frame), bindings))


def hopeful_of(frame: Frame) -> Frame:
    """Return a new frame of the same bindings that reckons with what the rules assume."""
    return Frame(frame.tables, frame.population, frame.worlds, frame.rows, frame.months, assume=True)


def leaning(sober: Plane, hopeful: Plane) -> Plane:
    """Return verdicts with the leans that assumptions give those that lean neither way.

    An assumption never decides a danger; it only says which way an open one leans.
    """
    doubtful = (sober.verdict == UNDECIDED) & (sober.lean == 0)
    lean = np.where(doubtful, _leaning(hopeful), sober.lean).astype(np.int8)
    return replace(sober, lean=lean)


def frame_of(
    compiled: CompiledRule, tables: Tables, population: Population, bindings: Bindings, months: Floats
) -> Frame:
    """Return the frame a rule is judged in; a danger is judged without assumptions."""
    assume = compiled.rule.level is not Level.DANGER
    return Frame(tables, population, bindings.worlds, bindings.rows, months, assume=assume)


def _leaning(plane: Plane) -> Leans:
    """Which way each verdict points: good, bad or open."""
    good = np.isin(plane.verdict, (HOLDS, EXCUSED, NOT_COVERED))
    return np.where(good, 1, np.where(plane.verdict == FAILS, -1, plane.lean)).astype(np.int8)


def plane_of(compiled: CompiledRule, frame: Frame, bindings: Bindings) -> Plane:
    """Run a rule's operations over a frame and read the verdicts off the table of the rule language."""
    size = frame.size
    when = _part(compiled.when, frame, default=True)
    unless = _part(compiled.unless, frame, default=False)
    if compiled.expect is None:
        verdict = np.where(when.no, NOT_COVERED, BY_EYE).astype(np.int8)
        none = np.full(size, np.nan)
        return Plane(bindings, verdict, np.zeros(size, np.int8), none, none, none, np.zeros(size, np.uint8))
    expect = truth(frame, compiled.expect)
    verdict = verdicts(when, unless, expect)
    flags = np.where(verdict == UNDECIDED, when.flags | unless.flags | expect.flags, 0).astype(np.uint8)
    lean = _lean(when, unless, expect, verdict)
    return Plane(bindings, verdict, lean, expect.low, expect.best, expect.high, flags)


def _part(op: Op | None, frame: Frame, *, default: bool) -> Truths:
    """A clause's truth, or what its absence means."""
    return truths.constant(default, frame.size) if op is None else truth(frame, op)


def verdicts(when: Truths, unless: Truths, expect: Truths) -> Codes:
    """Return verdict codes by the table of the rule language.

    =============  =============  ================  ===========
    when           unless         expect            verdict
    =============  =============  ================  ===========
    false          any            any               not covered
    true, unknown  any            true              holds
    true           true           false, unknown    excused
    unknown        true           false             excused
    unknown        true           unknown           not covered
    true           false          false             fails
    every other combination                         undecided
    =============  =============  ================  ===========
    """
    when_open = ~(when.yes | when.no)
    expect_open = ~(expect.yes | expect.no)
    conditions: Sequence[Bools] = (
        when.no,
        expect.yes,
        when.yes & unless.yes,
        when_open & unless.yes & expect.no,
        when_open & unless.yes & expect_open,
        when.yes & unless.no & expect.no,
    )
    codes = (NOT_COVERED, HOLDS, EXCUSED, EXCUSED, NOT_COVERED, FAILS)
    return np.select(conditions, codes, default=UNDECIDED).astype(np.int8)


def _lean(when: Truths, unless: Truths, expect: Truths, verdict: Codes) -> Leans:
    """Which way an open verdict points, from the leans of its clauses."""
    good = (expect.lean > 0) | (unless.lean > 0) | (when.lean < 0)
    bad = (expect.lean < 0) & (unless.lean < 0) & (when.lean > 0)
    lean = np.where(good, 1, np.where(bad, -1, 0))
    settled = np.where(verdict == FAILS, -1, 1)
    return np.where(verdict == UNDECIDED, lean, settled).astype(np.int8)
