"""Rocks and spots of a tank file."""

from __future__ import annotations

import re

from advisor.model.tank import Fact, Glass, Rock, Spot
from advisor.model.vocabulary import Kind
from advisor.tankfiles.entries import Entry, Reading, as_list
from advisor.tankfiles.facts import Subject
from advisor.tankfiles.lighting import ROCK_BODY_KEYS, read_rock_body
from advisor.tankfiles.nodes import Keyed, Node, Scalar, key_of
from advisor.tankfiles.said import is_none, is_unknown, read_yes_no
from advisor.tankfiles.sections import Found, find_entries
from advisor.tankfiles.standing import check_rock
from advisor.tankfiles.surroundings import read_length_cm, read_rest, read_surroundings

SPOT_KEYS = (
    "id",
    "name",
    "place",
    "at",
    "rock",
    "extent",
    "holds",
    "temporary",
    "gaps",
    "gaps complete",
    "nothing else within",
    "below",
    "above",
    "note",
    "also",
)
ROCK_KEYS = ("id", "name", "lifts out", "touches", *ROCK_BODY_KEYS, "note")


def read_rocks(
    nodes: list[Node], spot_nodes: list[Node], glass: Glass | None, reading: Reading
) -> tuple[tuple[Rock, ...], tuple[Fact, ...]]:
    """Return the rocks of a tank with the facts stated of them.

    They are those listed, and those a spot describes in place (``rock: {id: …}``).
    """
    described = [
        value
        for node in spot_nodes
        if isinstance(node, Keyed)
        for key, value in node.entries
        if key_of(key.text) == "rock" and isinstance(value, Keyed)
    ]
    found = find_entries([*nodes, *described], "rock", reading.names.rocks, reading)
    read = [_rock(one, glass, reading) for one in found]
    return tuple(rock for rock, _ in read), tuple(fact for _, facts in read for fact in facts)


def _rock(one: Found, glass: Glass | None, reading: Reading) -> tuple[Rock, tuple[Fact, ...]]:
    lifts = one.entry.take("lifts-out", "liftable")
    touches = one.entry.take("touches", "touching")
    told = {"at": one.entry.peek("at", "place"), "size": one.entry.peek("size")}
    body = read_rock_body(one.entry, reading)
    spans = {key: node.span for key, node in told.items() if node is not None}
    check_rock(one.id, body, spans, glass, reading.ledger)
    facts = read_rest(one.entry, Subject(Kind.ROCK, one.id), reading, "a rock", ROCK_KEYS)
    rock = Rock(
        id=one.id,
        name=one.name,
        span=one.span,
        touches=_touched(touches, one.id, reading),
        lifts_out=read_yes_no(lifts, reading.ledger) if lifts is not None else None,
        body=body,
    )
    return rock, facts


def _touched(node: Node | None, own_id: str, reading: Reading) -> tuple[str, ...] | None:
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return None
    if is_none(node):
        return ()
    named = (reading.refer(item, "rock", reading.names.rocks) for item in as_list(node))
    return tuple(rock for rock in named if rock and rock != own_id)


def find_spots(nodes: list[Node], reading: Reading) -> list[Found]:
    """Return the entries of the spots, their ids registered."""
    return find_entries([_rock_by_name(node) for node in nodes], "spot", reading.names.spots, reading)


def _rock_by_name(node: Node) -> Node:
    """Replace a rock described in a spot by its name; `read_rocks` has read it."""
    if not isinstance(node, Keyed):
        return node
    entries = []
    for key, value in node.entries:
        if key_of(key.text) == "rock" and isinstance(value, Keyed):
            named = {key_of(k.text): v for k, v in value.entries}
            value = named.get("id", named.get("name", Scalar("", value.span)))
        entries.append((key, value))
    return Keyed(tuple(entries), node.span, node.flow)


def read_spot(one: Found, glass: Glass | None, reading: Reading) -> tuple[Spot, tuple[Fact, ...]]:
    """Return one spot and the facts stated of it."""
    entry, subject = one.entry, Subject(Kind.PLACE, one.id)
    where = read_surroundings(entry, glass, reading)
    temporary = entry.take("temporary", "for-a-while")
    extent = read_length_cm(entry.take("extent", "size-of-spot"), "extent", reading)
    holds = _holds(entry, reading)
    closes = _gaps_none(entry)
    facts = read_rest(entry, subject, reading, "a spot", SPOT_KEYS)
    spot = Spot(
        id=one.id,
        name=one.name,
        box=where.box,
        place=where.place,
        rock=where.rock,
        extent_cm=extent,
        holds=holds,
        nothing_else_within_cm=where.nothing_else_within_cm,
        gaps_complete=where.gaps_complete or closes,
        closed_on=where.closed_on,
        span=one.span,
        temporary=bool(read_yes_no(temporary, reading.ledger)) if temporary is not None else False,
    )
    return spot, facts


def _gaps_none(entry: Entry) -> bool:
    """Whether `gaps: none` says that every neighbour is farther than any reach."""
    node = entry.peek("gaps", "gap")
    return node is not None and is_none(node)


def _holds(entry: Entry, reading: Reading) -> int:
    node = entry.take("holds")
    if node is None or (isinstance(node, Scalar) and node.blank) or is_unknown(node):
        return 1
    text = node.text.strip() if isinstance(node, Scalar) else ""
    if re.fullmatch(r"[1-9]\d{0,3}", text):
        return int(text)
    reading.ledger.note(
        "value-131",
        f"holds is how many animals a spot can hold, not '{text or 'a list'}'",
        node.span,
        label="expected a whole number from 1",
        mend="2",
    )
    return 1
