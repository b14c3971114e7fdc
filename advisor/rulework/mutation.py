"""Small changes of the rules, and which of them no example notices."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.language.library import Library
from advisor.language.nodes import Rule
from advisor.model.mutation import Change, MutateAnswer, SameMeaning
from advisor.rulework.bench import Bench
from advisor.rulework.killing import survivor_of
from advisor.rulework.mutants import Mutant, Thing, mutants_of
from advisor.rulework.sameness import same_meaning

Told = Callable[[int, int], None]
"""Is told how many changes have been tried, and of how many."""


def mutate(
    library: Library, names: Sequence[str] = (), *, most: int | None = None, told: Told | None = None
) -> MutateAnswer:
    """Return which small changes of rules, preferences and definitions their examples notice.

    Parameters
    ----------
    names
        What to change; everything, if left out.
    most
        At most so many changes of each, spread evenly over all of them.
    told
        Is told of the progress.
    """
    bench = Bench(library)
    things: list[Thing] = [*library.rules.values(), *library.prefers.values(), *library.defines.values()]
    chosen = [thing for thing in things if not names or thing.name in names]
    left_out = [f"{thing.name}: {why}" for thing in chosen if (why := _why_not(thing, bench))]
    mutants = [
        mutant
        for thing in chosen
        if not _why_not(thing, bench)
        for mutant in _spread(list(mutants_of(thing, bench.ops(bench.users(thing)), library)), most)
    ]
    survivors, same, noticed = [], [], 0
    for count, mutant in enumerate(mutants, 1):
        if _noticed(mutant, bench):
            noticed += 1
        elif why := same_meaning(mutant, bench):
            same.append(SameMeaning(change=change_of(mutant), why=why))
        else:
            survivors.append(survivor_of(change_of(mutant), mutant, bench))
        if told is not None:
            told(count, len(mutants))
    return MutateAnswer(
        tried=noticed + len(survivors),
        noticed=noticed,
        survivors=tuple(survivors),
        same=tuple(same),
        left_out=tuple(left_out),
    )


def _why_not(thing: Thing, bench: Bench) -> str:
    """Why a thing cannot be tried; empty if it can."""
    if isinstance(thing, Rule) and thing.expect is None:
        return "it is checked by eye"
    if not bench.users(thing):
        return "no rule that is judged uses it"
    return ""


def _spread(mutants: list[Mutant], most: int | None) -> list[Mutant]:
    """At most so many of them, evenly over the whole list."""
    if most is None or len(mutants) <= most:
        return mutants
    return [mutants[index * len(mutants) // most] for index in range(most)]


def change_of(mutant: Mutant) -> Change:
    """Return a change as it is published."""
    return Change(
        thing=mutant.thing.name,
        kind=mutant.kind,
        clause=mutant.clause,
        file=mutant.span.file,
        line=mutant.span.line,
        before=mutant.before,
        after=mutant.after,
    )


def _noticed(mutant: Mutant, bench: Bench) -> bool:
    """Whether the examples of any rule come out otherwise."""
    for name in bench.users(mutant.thing):
        ready, changed = bench.proven(name), bench.changed(mutant, name)
        if ready is not None and changed is not None and ready.notices(*changed):
            return True
    return False
