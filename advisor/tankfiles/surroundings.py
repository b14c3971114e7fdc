"""What spots and animals without a spot share: place, rock, stated gaps, and what is closed off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from advisor.errors import QuantityError
from advisor.model.tank import Box, Fact, Glass
from advisor.model.vocabulary import LISTED
from advisor.tankfiles.entries import Entry, Reading, note_unknown_key
from advisor.tankfiles.facts import OTHER_SPELLINGS, Subject, known_keys, read_facts
from advisor.tankfiles.nodes import Keyed, Node, Scalar, key_of
from advisor.tankfiles.numbers import amount_text
from advisor.tankfiles.places import LENGTH_CM, read_place
from advisor.tankfiles.said import NOTHING_TOLD, Circumstances, is_none, is_unknown, read_date, read_yes_no

NOTES = ("note", "notes", "comment", "remarks")


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Where a thing is and what is said to be round it."""

    box: Box | None
    place: str
    rock: str
    nothing_else_within_cm: float | None
    gaps_complete: bool
    closed_on: date | None


def read_surroundings(entry: Entry, glass: Glass | None, reading: Reading) -> Surroundings:
    """Take the keys of place and closure out of an entry."""
    place_node = entry.take("at", "place", "position", "where")
    place = read_place(place_node, glass, reading.ledger) if place_node is not None else None
    rock_node = entry.take("rock", "on-rock", "which-rock")
    rock = ""
    if rock_node is not None and not is_none(rock_node) and not is_unknown(rock_node):
        rock = reading.refer(rock_node, "rock", reading.names.rocks)
    within_node, within_on = _dated(entry.take("nothing-else-within", "nothing-within"), reading)
    complete_node, complete_on = _dated(entry.take("gaps-complete", "all-gaps-stated"), reading)
    complete = read_yes_no(complete_node, reading.ledger) if complete_node is not None else None
    return Surroundings(
        box=place.box if place else None,
        place=place.written if place else "",
        rock=rock,
        nothing_else_within_cm=read_length_cm(within_node, "nothing else within", reading),
        gaps_complete=bool(complete),
        closed_on=within_on or complete_on,
    )


def _dated(node: Node | None, reading: Reading) -> tuple[Node | None, date | None]:
    if isinstance(node, Keyed):
        parts = {key_of(k.text): v for k, v in node.entries}
        on = parts.get("on", parts.get("date"))
        return parts.get("value"), read_date(on, reading.ledger) if on is not None else None
    return node, None


def read_length_cm(node: Node | None, what: str, reading: Reading) -> float | None:
    """Return one plain length not below zero, or None where it is blank, unknown or faulty (noted). [cm]"""
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return None
    try:
        if not isinstance(node, Scalar):
            raise QuantityError(f"{what} is one length")
        amount = amount_text(node.text, LENGTH_CM)
        value = amount.best if amount.best is not None else amount.low
        if value is None or value < 0:
            raise QuantityError(f"'{node.text}' is not a length for {what}")
        return value
    except QuantityError as fault:
        reading.ledger.note("value-131", str(fault), node.span, label=f"expected {what} in cm", mend="25 cm")
        return None


def read_rest(
    entry: Entry,
    subject: Subject,
    reading: Reading,
    what: str,
    own_keys: tuple[str, ...],
    told: Circumstances = NOTHING_TOLD,
) -> tuple[Fact, ...]:
    """Return the facts of every key left in an entry; keys nobody knows are noted."""
    entry.take(*NOTES)
    facts: list[Fact] = []
    for name, key, node in entry.rest():
        if name == "also":
            facts += _also(node, subject, reading, told)
            continue
        found = read_facts(name, node, subject, reading, told)
        if found is None:
            others = [each for each in _spellings(subject, reading) if each.replace("-", " ") not in own_keys]
            note_unknown_key(key, what, (*own_keys, *others), reading.ledger)
        else:
            facts += found
    return tuple(facts)


def _spellings(subject: Subject, reading: Reading) -> list[str]:
    known = known_keys(subject, reading)
    if subject.kind in LISTED:
        return [*known, *(name.removeprefix(f"{subject.kind.value}-") for name in known)]
    return [*known, *(spelling for spelling, name in OTHER_SPELLINGS.items() if name in known)]


def _also(node: Node, subject: Subject, reading: Reading, told: Circumstances) -> tuple[Fact, ...]:
    if isinstance(node, Scalar) and node.blank:
        return ()
    if not isinstance(node, Keyed):
        reading.ledger.note(
            "key-122", "also: holds measures with their values", node.span, mend="my-measure: 3 cm"
        )
        return ()
    facts: list[Fact] = []
    for key, value in node.entries:
        found = read_facts(key_of(key.text), value, subject, reading, told)
        if found is None:
            note_unknown_key(key, "a measure of your own", known_keys(subject, reading), reading.ledger)
        else:
            facts += found
    return tuple(facts)
