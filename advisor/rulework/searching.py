"""The nearest example that shows something: existing ones altered in one fact, then in two."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from advisor.language.library import Library
from advisor.language.nodes import Example
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.examples import try_out
from advisor.reasoning.ops import Op
from advisor.reasoning.record import Row
from advisor.rulework.altering import (
    Change,
    Slot,
    Value,
    alone,
    altered,
    cells_at,
    choices,
    pool_of,
    slot_of,
    told,
)
from advisor.rulework.beside import beside_limits
from advisor.rulework.crowding import crowds_of

MOST_AT_ONCE = 400
"""How many altered examples are judged in one run."""
MOST_TRIED = 6000
"""How many are judged before the search gives up."""

Goal = Callable[[Sequence[Example]], Iterable[int]]
"""Judges examples of one outcome each; returns the places of those that show what is looked for."""


@dataclass(frozen=True, slots=True)
class Found:
    """An altered example that shows what was looked for."""

    example: Example
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Start:
    """An example of one outcome to begin from, and every fact its rule reads with what else it may be."""

    example: Example
    focus: dict[Slot, tuple[Value | None, ...]]
    """The facts that what is looked for rests on."""
    others: dict[Slot, tuple[Value | None, ...]]


def starts_of(
    compiled: CompiledRule, examples: Sequence[Example], library: Library, focus: Sequence[Op]
) -> list[Start]:
    """Return where a search can begin: each outcome of a rule's examples by itself.

    Parameters
    ----------
    focus
        The operations of the rule that what is looked for rests on; the facts
        below them are altered first.
    """
    singles = [
        alone(example, then, crowd=compiled.aggregates) for example in examples for then in example.thens
    ]
    if compiled.aggregates:
        singles += [crowd for single in singles for crowd in crowds_of(single)]
    trial = try_out(compiled, singles, library)
    pool = pool_of(examples)
    parts = [op for op in (compiled.when, compiled.expect, compiled.unless) if op is not None]
    found = []
    for at, single in enumerate(singles):
        row = Row(trial.frame, at)
        beside = beside_limits(trial, at, parts)
        every = _slots(parts, row)
        chosen = _slots(parts, row, focus) if focus else every
        offered = {
            slot: tuple(
                value
                for value in choices(slot, library, pool, beside.get(slot, ()))
                if value != told(single, slot)
            )
            for slot in every
        }
        found.append(
            Start(
                single,
                {slot: offered[slot] for slot in chosen if slot in offered},
                {slot: values for slot, values in offered.items() if slot not in chosen},
            )
        )
    return found


def _slots(ops: Sequence[Op], row: Row, among: Sequence[Op] = ()) -> dict[Slot, None]:
    """Every fact below some operations (below `among`, if given) that an example can tell."""
    return {slot_of(cell, where): None for op in ops for cell, where in cells_at(op, row, among)}


def search(starts: Sequence[Start], goal: Goal, library: Library) -> Found | None:
    """Return the nearest altered example that shows what is looked for, None if none of those tried does."""
    writable = (found for found in _tries(starts, library) if found.example.givens)
    tries = islice(writable, MOST_TRIED)
    while batch := list(islice(tries, MOST_AT_ONCE)):
        for at in goal([found.example for found in batch]):
            return batch[at]
    return None


def _tries(starts: Sequence[Start], library: Library) -> Iterator[Found]:
    """Altered examples, the nearest first."""
    for start in starts:
        yield Found(start.example, ())
    for slots in ("focus", "others"):
        for start in starts:
            for change in _changes(getattr(start, slots)):
                yield _made(start, (change,), library)
    for slots in ("focus", "others"):
        for start in starts:
            for first in _changes(start.focus):
                for second in _changes(getattr(start, slots)):
                    if first.slot != second.slot and (slots == "others" or str(first) < str(second)):
                        yield _made(start, (first, second), library)


def _changes(slots: dict[Slot, tuple[Value | None, ...]]) -> Iterator[Change]:
    """Every single change of some facts, the first choice of each before the second of any."""
    longest = max((len(values) for values in slots.values()), default=0)
    for index in range(longest):
        for slot, values in slots.items():
            if index < len(values):
                yield Change(slot, values[index])


def _made(start: Start, changes: tuple[Change, ...], library: Library) -> Found:
    """An example with some changes."""
    return Found(altered(start.example, changes, library), changes)
