"""Findings a keeper has accepted in a house file: which are in force, and where they apply.

The one place that honours them. An `accept` binds a rule and the ids of its
animals, and ends with its date. How large a shortfall was accepted, and where
the animals stood, is not kept, so it does not lapse when one of them is really
moved: for a danger it counts only with an end, and the finding stays in the
audit with both its numbers. It never covers a change that is only thought of.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import HouseEdit, HouseVerb, Level
from advisor.model.results import Reason, Verdict
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Bools
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.judge import ACCEPTED, FAILS, UNDECIDED, Plane
from advisor.reasoning.tables import Tables


def accepts_of(library: Library, rule: str = "") -> tuple[HouseEdit, ...]:
    """Return the accepts of a library, of one rule or (empty) of all."""
    return tuple(
        edit for edit in library.house if edit.verb is HouseVerb.ACCEPT and rule in ("", edit.target)
    )


def in_force(edit: HouseEdit, on: date) -> bool:
    """Return whether an accept still counts on a day; its last day counts."""
    return not edit.until or date.fromisoformat(edit.until) >= on


def days_left(edit: HouseEdit, on: date) -> int | None:
    """Return how many days an accept has left, None where it has no end. [days]"""
    return (date.fromisoformat(edit.until) - on).days if edit.until else None


def with_accepts(plane: Plane, compiled: CompiledRule, tables: Tables, on: date) -> Plane:
    """Return a rule's verdicts with those accepted that the keeper has accepted."""
    edits = [edit for edit in accepts_of(tables.library, compiled.rule.name) if in_force(edit, on)]
    if compiled.rule.level is Level.DANGER:
        edits = [edit for edit in edits if edit.until]
    if not edits or not len(plane.bindings):
        return plane
    known = {tables.label(Kind.ANIMAL, row): row for row in np.flatnonzero(tables.animal_world < 0).tolist()}
    covered = np.zeros(len(plane.bindings), np.bool_)
    for edit in edits:
        covered |= _bound(plane, compiled, [known.get(name, -1) for name in edit.entities])
    covered &= np.isin(plane.verdict, (FAILS, UNDECIDED))
    return replace(plane, verdict=np.where(covered, ACCEPTED, plane.verdict).astype(np.int8))


def _bound(plane: Plane, compiled: CompiledRule, rows: Sequence[int]) -> Bools:
    """Where a rule's animals are exactly some rows, in either order."""
    names = [binder.name for binder in compiled.binders if binder.kind in (Kind.ANIMAL, Kind.CORAL)]
    if len(names) != len(rows):
        return np.zeros(len(plane.bindings), np.bool_)
    orders = [list(rows), list(reversed(rows))]
    found = [
        np.logical_and.reduce(
            [plane.bindings.rows[name] == row for name, row in zip(names, order, strict=True)]
        )
        for order in orders
    ]
    both: Bools = found[0] | found[1]
    return both


def told(reason: Reason, library: Library, on: date) -> Reason:
    """Return a reason as accepted, with the keeper's own ground and the days left."""
    lines = []
    for edit in accepts_of(library, reason.rule):
        if in_force(edit, on) and set(edit.entities) == set(reason.subjects):
            left = days_left(edit, on)
            ends = "" if left is None else f" (until {edit.until}, {left} days left)"
            lines.append(f"your house file accepts this{ends}: {edit.because}")
    return reason.model_copy(update={"verdict": Verdict.ACCEPTED, "house": (*reason.house, *lines)})


def notes_on_accepts(library: Library, on: date, met: Sequence[Reason]) -> tuple[str, ...]:
    """Return what has run out, and what was accepted but no longer occurs."""
    out = []
    for edit in accepts_of(library):
        names = " and ".join(edit.entities)
        rule = library.rules.get(edit.target)
        if rule is not None and rule.level is Level.DANGER and not edit.until:
            out.append(
                f"your accept of {edit.target} for {names} does not count: a danger needs an until DATE"
            )
        elif not in_force(edit, on):
            out.append(f"your accept of {edit.target} for {names} ran out on {edit.until}")
        elif not any(
            reason.rule == edit.target and set(reason.subjects) == set(edit.entities) for reason in met
        ):
            out.append(f"your accept of {edit.target} for {names} matches nothing now: take it out")
    return tuple(out)
