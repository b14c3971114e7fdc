"""The nearest example that would notice a change."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Example
from advisor.model.mutation import Change, Survivor
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.examples import Trial, try_out
from advisor.reasoning.ops import Op
from advisor.rulework.bench import Bench, Proven
from advisor.rulework.following import ops_of
from advisor.rulework.mutants import Mutant
from advisor.rulework.pasting import block_of, outcome_of, titled
from advisor.rulework.searching import Found, Goal, search, starts_of

Differs = Callable[[Trial, Trial], list[int]]
_SMALL = 1e-9
"""Margins closer than this are the same. [steps]"""


def survivor_of(change: Change, mutant: Mutant, bench: Bench) -> Survivor:
    """Return a change no example notices with the nearest one that would."""
    for name in bench.users(mutant.thing):
        ready, changed = bench.proven(name), bench.changed(mutant, name)
        if ready is None or changed is None or not ready.examples:
            continue
        found = _killer(mutant, ready, *changed, bench.library)
        if found is not None:
            return _told(change, name, found, (ready.compiled, bench.library), changed, bench.library)
    return Survivor(change=change)


def _told(
    change: Change,
    name: str,
    found: Found,
    before: tuple[CompiledRule, Library],
    after: tuple[CompiledRule, Library],
    library: Library,
) -> Survivor:
    """A survivor with the block to paste and both outcomes."""
    said = [outcome_of(try_out(rule, (found.example,), used), 0) for rule, used in (before, after)]
    comments = (f"comes out: {said[0]}", f"with the change: {said[1]}")
    block = block_of(titled(found.example, found.changes, library.vocabulary), comments)
    return Survivor(change=change, example=block, comes_out=said[0], changed=said[1], rule=name)


def _killer(
    mutant: Mutant, ready: Proven, changed: CompiledRule, after: Library, library: Library
) -> Found | None:
    """The nearest example that comes out otherwise with the change."""
    focus = _focus(mutant, ready, library)
    starts = starts_of(ready.compiled, ready.examples, library, focus)
    for differs in (_verdicts_differ, _outcomes_differ):
        found = search(starts, _goal(ready.compiled, changed, after, library, differs), library)
        if found is not None:
            return found
    return None


def _focus(mutant: Mutant, ready: Proven, library: Library) -> Sequence[Op]:
    """The operation that was changed, if the rule has it."""
    op = ops_of(ready.compiled, library).get(id(mutant.node))
    return [] if op is None else [op]


def _goal(
    compiled: CompiledRule, changed: CompiledRule, after: Library, library: Library, differs: Differs
) -> Goal:
    """The places of the examples that come out otherwise."""

    def places(examples: Sequence[Example]) -> Iterator[int]:
        return iter(differs(try_out(compiled, examples, library), try_out(changed, examples, after)))

    return places


def _verdicts_differ(before: Trial, after: Trial) -> list[int]:
    """Where two runs give different verdicts."""
    return [int(at) for at in np.flatnonzero(before.plane.verdict != after.plane.verdict)]


def _outcomes_differ(before: Trial, after: Trial) -> list[int]:
    """Where two runs differ in anything an example can say."""
    with np.errstate(invalid="ignore"):
        apart = np.abs(before.plane.best - after.plane.best) > _SMALL
    may = apart | (before.plane.lean != after.plane.lean) | (before.plane.flags != after.plane.flags)
    return [
        int(at) for at in np.flatnonzero(may) if outcome_of(before, int(at)) != outcome_of(after, int(at))
    ]
