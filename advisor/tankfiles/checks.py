"""What must hold between entries of a tank: room on spots, one place for each, nothing older than a move."""

from __future__ import annotations

from collections import defaultdict
from datetime import date

from advisor.errors import Related, Severity
from advisor.model.tank import SAID_WHERE_IT_STANDS, Animal, Box, Event, EventKind, Fact, Phase, Spot
from advisor.model.vocabulary import Kind
from advisor.tankfiles.entries import Reading


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
    out, with a note where it stands in a file the keeper writes. An undated
    statement counts as older only where a command has dated the move in
    tank.yaml: by hand, tank.yaml is what is now.
    """
    moved_now = {a.id: a.moved_on for a in animals if a.moved_on is not None}
    moved_ever = dict(moved_now)
    for event in events:
        if event.kind in (EventKind.MOVED, EventKind.PLACED) and event.subject:
            moved_ever[event.subject] = max(event.on, moved_ever.get(event.subject, event.on))
    kept = []
    for fact in facts:
        mover = _moved_since(fact, moved_now, moved_ever, reading)
        if not mover:
            kept.append(fact)
        else:
            reading.ledger.note(
                "reading-162",
                f"{fact.measure} of {' and '.join(fact.subjects)} was said before {mover} was moved",
                fact.said.span,
                label=f"moved on {moved_ever[mover]}",
                severity=Severity.NOTE,
                mend="measure again and date it (on: …), or delete it",
            )
    return tuple(kept)


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
