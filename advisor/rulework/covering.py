"""What the examples reach, put together: every rule's marks, the gaps of those asked for, one count."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.language.library import Library
from advisor.language.nodes import Define, Prefer, Rule
from advisor.model.coverage import CoverAnswer, ThingCover, tally
from advisor.reasoning.examples import Case, Trial, expected
from advisor.rulework.coverage import Tracks, cover_define, cover_rule, track, users_of
from advisor.rulework.gaps import gaps_of


def cover(library: Library, names: Sequence[str] = (), shipped: Library | None = None) -> CoverAnswer:
    """Return what the examples show of every rule, preference and definition.

    Parameters
    ----------
    names
        Only these, each with its gaps, why they are there, and an example for each.
    shipped
        The rules without house lines. A shipped example says what comes out of these, so that one
        which is otherwise only with the house lines is told as moved, not as wrong.
    """
    speaking: list[Rule | Prefer] = [*library.rules.values(), *library.prefers.values()]
    everything: list[Rule | Prefer | Define] = [*speaking, *library.defines.values()]
    tracks, trials = track(library, [item.name for item in speaking])
    wrong = _not_as_expected(trials)
    moved = [] if shipped is None or not wrong else _as_shipped(wrong, shipped)
    things = tuple(
        _thing(item, tracks, library, explained=bool(names))
        for item in everything
        if not names or item.name in names
    )
    return CoverAnswer(
        examples=len(library.examples),
        outcomes=sum(len(trial.cases) for trial in trials),
        failed=len(wrong) - len(moved),
        moved=len(moved),
        moved_by=tuple(dict.fromkeys(edit.span.file for edit in library.house)) if moved else (),
        things=things,
        total=tally(mark for thing in things for mark in thing.marks),
    )


def _not_as_expected(trials: Iterable[Trial]) -> list[Case]:
    """The outcomes that are not what their example says."""
    return [
        case
        for trial in trials
        for at, case in enumerate(trial.cases)
        if trial.got(at) != expected(case.then)
    ]


def _as_shipped(wrong: Sequence[Case], shipped: Library) -> list[Case]:
    """Those of some outcomes that are as their example says in the rules without house lines."""
    theirs = {example.span for example in shipped.examples}
    rules = dict.fromkeys(case.example.rule for case in wrong if case.example.span in theirs)
    still = _not_as_expected(track(shipped, list(rules))[1])
    failing = {case.then.span for case in still}
    return [case for case in wrong if case.example.span in theirs and case.then.span not in failing]


def _thing(item: Rule | Prefer | Define, tracks: Tracks, library: Library, *, explained: bool) -> ThingCover:
    """What the examples show of one thing."""
    if isinstance(item, Define):
        found = cover_define(item, tracks, decides=bool(users_of(item.name, library)))
    else:
        found = cover_rule(item, tracks)
    if not explained:
        return found
    return found.model_copy(update={"gaps": gaps_of(item, found, tracks, library)})
