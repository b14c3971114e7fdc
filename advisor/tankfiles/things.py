"""Lamps, pumps and fish of a tank file: what each is, and what a keeper tells of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from advisor.model.tank import Fact, Fish, Glass, Lamp, Pump
from advisor.model.vocabulary import Kind
from advisor.tankfiles.entries import Entry, Reading
from advisor.tankfiles.facts import Subject
from advisor.tankfiles.lighting import LAMP_BODY_KEYS, read_lamp_body
from advisor.tankfiles.said import is_unknown, read_date
from advisor.tankfiles.sections import Found, find_entries, section_items
from advisor.tankfiles.standing import LAMP_SPANS, check_lamp, check_lamps
from advisor.tankfiles.surroundings import read_rest

SECTIONS = {
    Kind.ROCK: ("rocks",),
    Kind.LAMP: ("lamps", "lights-over-the-tank"),
    Kind.PUMP: ("pumps",),
    Kind.FISH: ("fish", "fishes"),
}
"""How the lists of things are called in a tank file."""

LAMP_KEYS = ("id", "name", "installed", "replaced", "cleaned", *LAMP_BODY_KEYS, "note")
PUMP_KEYS = ("id", "name", "cleaned", "note")
FISH_KEYS = ("id", "kind", "name", "note")
_NEW = ("installed", "installed-on", "replaced", "tubes-replaced", "new")
_CLEANED = ("cleaned", "cleaned-on", "lens-changed")


@dataclass(frozen=True, slots=True)
class Things:
    """The lamps, pumps and fish of a tank."""

    lamps: tuple[Lamp, ...]
    pumps: tuple[Pump, ...]
    fish: tuple[Fish, ...]


def told_kinds(top: Entry) -> tuple[str, ...]:
    """Return the kinds of things of which the file has a list, were it empty; asked before it is read."""
    nodes = {kind: top.peek(*names) for kind, names in SECTIONS.items()}
    return tuple(kind.value for kind, node in nodes.items() if node is not None and not is_unknown(node))


def read_things(top: Entry, glass: Glass | None, reading: Reading) -> tuple[Things, tuple[Fact, ...]]:
    """Return the lamps, pumps and fish of a tank, and what is told of them."""
    lamps = _found(top, Kind.LAMP, reading)
    pumps = _found(top, Kind.PUMP, reading)
    fish = _found(top, Kind.FISH, reading, ("kind", "is", "species"))
    of_lamps = [read_lamp(one, glass, reading) for one in lamps]
    check_lamps([lamp for lamp, _ in of_lamps], reading.ledger)
    of_pumps = [read_pump(one, reading) for one in pumps]
    of_fish = [read_fish(one, reading) for one in fish]
    things = Things(
        tuple(lamp for lamp, _ in of_lamps),
        tuple(pump for pump, _ in of_pumps),
        tuple(one for one, _ in of_fish),
    )
    facts = [facts for _, facts in (*of_lamps, *of_pumps, *of_fish)]
    return things, tuple(fact for told in facts for fact in told)


def _found(top: Entry, kind: Kind, reading: Reading, named_by: tuple[str, ...] = ()) -> list[Found]:
    node = top.take(*SECTIONS[kind])
    nodes = section_items(node, SECTIONS[kind][0], reading.ledger)
    numbered = bool(named_by)
    return find_entries(
        nodes, kind.value, reading.names.of(kind), reading, named_by=named_by, numbered=numbered
    )


def read_lamp(one: Found, glass: Glass | None, reading: Reading) -> tuple[Lamp, tuple[Fact, ...]]:
    """Return one lamp and the facts stated of it."""
    told = {key: one.entry.peek(*others) for key, others in LAMP_SPANS.items()}
    spans = {key: node.span for key, node in told.items() if node is not None}
    lamp = Lamp(
        id=one.id,
        name=one.name,
        installed_on=_last_day(one, _NEW, reading),
        cleaned_on=_last_day(one, _CLEANED, reading),
        body=read_lamp_body(one.entry, reading),
        span=one.span,
    )
    check_lamp(lamp, spans, glass, reading.ledger)
    return lamp, read_rest(one.entry, Subject(Kind.LAMP, one.id), reading, "a lamp", LAMP_KEYS)


def _last_day(one: Found, keys: tuple[str, ...], reading: Reading) -> date | None:
    """The last of the days that some keys tell."""
    nodes = [node for key in keys if (node := one.entry.take(key)) is not None]
    days = [day for node in nodes if (day := read_date(node, reading.ledger)) is not None]
    return max(days, default=None)


def read_pump(one: Found, reading: Reading) -> tuple[Pump, tuple[Fact, ...]]:
    """Return one pump and the facts stated of it."""
    node = one.entry.take("cleaned", "cleaned-on")
    cleaned = read_date(node, reading.ledger) if node is not None else None
    facts = read_rest(one.entry, Subject(Kind.PUMP, one.id), reading, "a pump", PUMP_KEYS)
    return Pump(id=one.id, name=one.name, cleaned_on=cleaned, span=one.span), facts


def read_fish(one: Found, reading: Reading) -> tuple[Fish, tuple[Fact, ...]]:
    """Return one fish and the facts stated of it."""
    facts = read_rest(one.entry, Subject(Kind.FISH, one.id), reading, "a fish", FISH_KEYS)
    return Fish(id=one.id, kind=one.called, span=one.span), facts
