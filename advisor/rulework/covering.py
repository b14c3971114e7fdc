"""What the examples reach, put together: every rule's marks, the gaps of those asked for, one count."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.language.library import Library
from advisor.language.nodes import Define, Prefer, Rule
from advisor.model.coverage import CoverAnswer, ThingCover, tally
from advisor.reasoning.examples import expected
from advisor.rulework.coverage import Tracks, cover_define, cover_rule, track, users_of
from advisor.rulework.gaps import gaps_of


def cover(library: Library, names: Sequence[str] = ()) -> CoverAnswer:
    """Return what the examples show of every rule, preference and definition.

    Parameters
    ----------
    names
        Only these, each with its gaps, why they are there, and an example for each.
    """
    speaking: list[Rule | Prefer] = [*library.rules.values(), *library.prefers.values()]
    everything: list[Rule | Prefer | Define] = [*speaking, *library.defines.values()]
    tracks, trials = track(library, [item.name for item in speaking])
    wrong = [
        case
        for trial in trials
        for at, case in enumerate(trial.cases)
        if trial.got(at) != expected(case.then)
    ]
    things = tuple(
        _thing(item, tracks, library, explained=bool(names))
        for item in everything
        if not names or item.name in names
    )
    return CoverAnswer(
        examples=len(library.examples),
        outcomes=sum(len(trial.cases) for trial in trials),
        failed=len(wrong),
        things=things,
        total=tally(mark for thing in things for mark in thing.marks),
    )


def _thing(item: Rule | Prefer | Define, tracks: Tracks, library: Library, *, explained: bool) -> ThingCover:
    """What the examples show of one thing."""
    if isinstance(item, Define):
        found = cover_define(item, tracks, decides=bool(users_of(item.name, library)))
    else:
        found = cover_rule(item, tracks)
    if not explained:
        return found
    return found.model_copy(update={"gaps": gaps_of(item, found, tracks, library)})
