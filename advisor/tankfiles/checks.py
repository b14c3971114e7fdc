"""What must hold between entries of a tank: room on spots, one place for each, nothing older than a move."""

from __future__ import annotations

from collections import defaultdict
from datetime import date

from advisor.errors import Related, Severity, Span
from advisor.model.tank import SAID_WHERE_IT_STANDS, Animal, Box, Event, EventKind, Fact, Phase, Spot
from advisor.model.vocabulary import Kind
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.sources import TANK_FILE

NOT_UNDERSTOOD = "# not understood: "
"""Begins the remark that a new tank holds in place of an answer nobody could read."""


def note_not_understood(text: str, ledger: Ledger) -> None:
    """Warn of every answer that stands in a tank.yaml as a remark, because it was not understood."""
    for number, line in enumerate(text.splitlines(), start=1):
        said = line.strip()
        if said.startswith(NOT_UNDERSTOOD):
            begins = line.index(NOT_UNDERSTOOD) + 1
            ledger.note(
                "key-125",
                "an answer was not understood, so it counts for nothing",
                Span(TANK_FILE, number, begins, number, len(line) + 1, line),
                mend="write what is meant as a line of its own, or take this one out",
                severity=Severity.WARNING,
            )


def check_crowding(spots: tuple[Spot, ...], animals: tuple[Animal, ...], reading: Reading) -> None:
    """Note spots with more animals than they hold, and animals at one and the same position."""
    standing = [a for a in animals if a.phase is not Phase.WAITING]
    for spot in spots:
        here = [a for a in standing if a.spot == spot.id]
        if len(here) > spot.holds:
            related = tuple(Related(a.span, a.id) for a in here if a.span is not None)
            reading.ledger.note(
                "place-152",
                f"{len(here)} animals stand on {spot.id}, which holds {spot.holds}",
                here[-1].span,
                label=", ".join(a.id for a in here),
                related=related,
                mend=f"holds: {len(here)} under {spot.id}, or move one",
            )
    at: dict[tuple[object, ...], list[Animal]] = defaultdict(list)
    for animal in standing:
        if animal.box is not None and _exact(animal.box):
            at[(animal.box.x, animal.box.y, animal.box.z)].append(animal)
    for together in at.values():
        if len(together) > 1:
            first, *others = together
            related = (Related(first.span, first.id),) if first.span is not None else ()
            reading.ledger.note(
                "place-153",
                f"{' and '.join(a.id for a in together)} have the same position",
                others[0].span,
                related=related,
                mend="correct one of the positions",
            )


def _exact(box: Box) -> bool:
    return not box.by_word and all(low == high for low, high in (box.x, box.y, box.z))


def current_facts(
    facts: tuple[Fact, ...], animals: tuple[Animal, ...], events: tuple[Event, ...], reading: Reading
) -> tuple[Fact, ...]:
    """Return the facts that still hold where animals stand now.

    What was said of the surroundings of an animal before its last move is left
    out, with one note that names all of it. An undated
    statement counts as older only where a command has dated the move in
    tank.yaml: by hand, tank.yaml is what is now.
    """
    moved_now = {a.id: a.moved_on for a in animals if a.moved_on is not None}
    moved_ever = dict(moved_now)
    for event in events:
        if event.kind in (EventKind.MOVED, EventKind.PLACED) and event.subject:
            moved_ever[event.subject] = max(event.on, moved_ever.get(event.subject, event.on))
    kept: list[Fact] = []
    old: dict[str, list[Fact]] = {}
    for fact in facts:
        mover = _moved_since(fact, moved_now, moved_ever, reading)
        (old.setdefault(mover, []) if mover else kept).append(fact)
    if old:
        _note_old(old, moved_ever, reading)
    return tuple(kept)


def _note_old(old: dict[str, list[Fact]], moved: dict[str, date], reading: Reading) -> None:
    """Note once everything that was said before a move: how much, of whom, and what to say again."""
    every = [fact for facts in old.values() for fact in facts]
    told = "1 thing was" if len(every) == 1 else f"{len(every)} things were"
    again = "; ".join(
        f"{mover}: {', '.join(dict.fromkeys(_named(fact, mover) for fact in facts))}"
        for mover, facts in old.items()
    )
    reading.ledger.note(
        "reading-162",
        f"{told} said before {_and(list(old))} moved, and {'counts' if len(every) == 1 else 'count'} no more",
        every[0].said.span,
        label=("" if len(every) == 1 else "the first of them; ")
        + ", ".join(f"{mover} moved on {moved[mover]}" for mover in old),
        severity=Severity.NOTE,
        mend=f"measure or look again, with the day (on: …): {again}",
    )


def _named(fact: Fact, mover: str) -> str:
    """A statement about one that was moved: ``gap to shelf``."""
    others = [subject for subject in fact.subjects if subject != mover]
    return f"{fact.measure} to {_and(others)}" if others else fact.measure


def _and(names: list[str]) -> str:
    """Names as a list in a sentence."""
    return " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else names[0]


def _moved_since(
    fact: Fact, moved_now: dict[str, date], moved_ever: dict[str, date], reading: Reading
) -> str:
    """The subject that was moved after this was said of its surroundings, or an empty text."""
    if not _of_surroundings(fact, reading):
        return ""
    said_on = fact.said.on or fact.said.since
    for subject in fact.subjects:
        if subject in moved_now and said_on is None:
            return subject
        if subject in moved_ever and said_on is not None and said_on < moved_ever[subject]:
            return subject
    return ""


def _of_surroundings(fact: Fact, reading: Reading) -> bool:
    if len(fact.subjects) == 2 or fact.measure in SAID_WHERE_IT_STANDS:
        return True
    measure = reading.vocabulary.measures.get(fact.measure)
    return measure is not None and any(p.kind is Kind.PLACE for p in measure.params)
