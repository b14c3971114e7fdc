"""House lines in force on a day: the one place where `on` and `until` are honoured."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from advisor.errors import Problem, Severity
from advisor.language.house import lay_over, taken_off
from advisor.language.library import Aside, AsideKind, Library
from advisor.language.nodes import HouseEdit


def as_of(library: Library, day: date) -> tuple[Library, tuple[Problem, ...]]:
    """Return a library with those house lines that count on a day, and a warning for each that does not.

    Notes
    -----
    A library is checked without a clock, with every line laid over. Whoever
    knows the day asked about comes here, and nowhere else is a day compared.
    The last day counts, and so does the first.
    """
    out = [aside for aside in (_aside(edit, day) for edit in library.house) if aside is not None]
    if not out:
        return replace(library, on=day.isoformat()), ()
    late = {aside.edit for aside in out}
    left, _ = lay_over(taken_off(library), [edit for edit in library.house if edit not in late])
    aside = (*library.aside, *left.aside, *out)
    return replace(left, aside=aside, on=day.isoformat()), tuple(_warning(item) for item in out)


def _aside(edit: HouseEdit, day: date) -> Aside | None:
    """Why a line does not count on a day; None if it does."""
    if edit.until and date.fromisoformat(edit.until) < day:
        return Aside(edit, AsideKind.RAN_OUT, edit.span)
    if edit.on and date.fromisoformat(edit.on) > day:
        return Aside(edit, AsideKind.NOT_YET, edit.span)
    return None


def _warning(aside: Aside) -> Problem:
    """The warning about a line that does not count on the day."""
    edit = aside.edit
    if aside.kind is AsideKind.RAN_OUT:
        what, mend = f"this line ran out on {edit.until}", "take it out, or give it a later day"
    else:
        what, mend = f"this line counts from {edit.on} on", "ask for that day or a later one with --on"
    return Problem(
        "house-512", what, edit.span, "it does not count; what ships counts", mend, Severity.WARNING
    )
