"""House lines in force on a day: the one place where `on` and `until` are honoured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from advisor.errors import Problem, Severity
from advisor.language.house import lay_over, taken_off
from advisor.language.house_state import CONTRADICTED
from advisor.language.library import Aside, AsideKind, Library
from advisor.language.nodes import HouseEdit

DISORDER = "card-910"
"""Code of a card whose values stand in the wrong order."""


def as_of(
    library: Library, day: date, problems: Sequence[Problem] = ()
) -> tuple[Library, tuple[Problem, ...]]:
    """Return a library with those house lines that count on a day, and its problems as of that day.

    These are the problems found without a clock, a warning for each line that
    does not count on the day, and of the lines that contradict each other only
    those that do so on the day or later.

    Parameters
    ----------
    problems
        What was found when the library was checked.

    Notes
    -----
    A library is checked without a clock, with every line laid over. Whoever
    knows the day asked about comes here, and nowhere else is a day compared.
    The last day counts, and so does the first.
    """
    every = (*library.house, *library.contested)
    out = [aside for aside in (_aside(edit, day) for edit in every) if aside is not None]
    if not out:
        return replace(library, on=day.isoformat()), tuple(problems)
    late = {aside.edit for aside in out}
    bare = taken_off(library)
    left, _ = lay_over(bare, [edit for edit in every if edit not in late])
    told = [aside for aside in library.aside if aside.edit not in library.contested]
    kept = [problem for problem in problems if problem.code != CONTRADICTED]
    if library.contested:
        over = {aside.edit for aside in out if aside.kind is AsideKind.RAN_OUT}
        _, ahead = lay_over(bare, [edit for edit in every if edit not in over])
        kept += [problem for problem in ahead if problem.code == CONTRADICTED]
    left = replace(left, aside=(*told, *left.aside, *out), on=day.isoformat())
    return left, tuple(sorted((*kept, *(_warning(item) for item in out)), key=_place))


def _place(problem: Problem) -> tuple[str, int, int]:
    """Where a problem stands."""
    span = problem.span
    return (span.file, span.line, span.column) if span is not None else ("", 0, 0)


def laid_by_day(library: Library, edits: Sequence[HouseEdit]) -> tuple[Library, list[Problem]]:
    """Lay all lines over, and hold cards against those lines together that count on one day.

    Lines whose days do not meet never stand in a card side by side: what they
    would make of it together is no fault, and what one alone makes of it is
    one, even where another mends it on other days.
    """
    laid, found = lay_over(library, edits)
    days = sorted({day for edit in edits if (day := _day(edit.on)) is not None} | _ends(edits))
    if not days:
        return laid, found
    kept = [problem for problem in found if problem.code != DISORDER]
    for day in (days[0] - timedelta(days=1), *days):
        counting = [edit for edit in edits if _aside(edit, day) is None]
        kept += [problem for problem in lay_over(library, counting)[1] if problem.code == DISORDER]
    return laid, list(dict.fromkeys(kept))


def _ends(edits: Sequence[HouseEdit]) -> set[date]:
    """The first days on which lines no longer count."""
    return {day + timedelta(days=1) for edit in edits if (day := _day(edit.until)) is not None}


def _day(text: str) -> date | None:
    """A day as written; what is no day is told elsewhere."""
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        return None


def _aside(edit: HouseEdit, day: date) -> Aside | None:
    """Why a line does not count on a day; None if it does."""
    last, first = _day(edit.until), _day(edit.on)
    if last is not None and last < day:
        return Aside(edit, AsideKind.RAN_OUT, edit.span)
    if first is not None and first > day:
        return Aside(edit, AsideKind.NOT_YET, edit.span)
    return None


def _warning(aside: Aside) -> Problem:
    """The warning about a line that does not count on the day."""
    edit = aside.edit
    if aside.kind is AsideKind.RAN_OUT:
        what, mend = f"this line ran out on {edit.until}", "take it out, or give it a later day"
    else:
        what, mend = f"this line counts from {edit.on} on", "ask for that day or a later one with --on"
    return Problem("house-512", what, edit.span, "it does not count on that day", mend, Severity.WARNING)
