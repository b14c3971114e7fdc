"""What a tank file says of the tank itself: glass, main stream, horizon, water tests, readings, gaps."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from advisor.errors import QuantityError
from advisor.model.lighting import Scanned, Walls
from advisor.model.tank import Fact, Flow, Glass
from advisor.model.vocabulary import LISTED, Kind, NumberType
from advisor.tankfiles.entries import Entry, Reading, as_list, note_unknown_key
from advisor.tankfiles.facts import TANK, Subject, other_thing, read_facts
from advisor.tankfiles.figures import is_told
from advisor.tankfiles.ledger import try_closest
from advisor.tankfiles.lighting import SCAN_KEYS, read_scan, read_walls
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of
from advisor.tankfiles.numbers import amount_text
from advisor.tankfiles.outlines import OUTLINE_KEYS, read_outline
from advisor.tankfiles.places import LENGTH_CM
from advisor.tankfiles.said import (
    NOTHING_TOLD,
    is_none,
    is_unknown,
    read_circumstances,
    read_statements,
    read_words,
)
from advisor.tankfiles.sections import section_items
from advisor.tankfiles.standing import check_glass
from advisor.tankfiles.surroundings import read_length_cm, read_rest
from advisor.units import UNITS, Dimension, format_number

GLASS_KEYS = {
    "length": "length_cm",
    "width": "width_cm",
    "depth": "width_cm",
    "height": "height_cm",
    "water": "water_cm",
    "water-height": "water_cm",
    "water-level": "water_cm",
}
_NO_MEASURES = ("walls", *OUTLINE_KEYS, *SCAN_KEYS)
_A_TEST = "- {on: 2026-10-24, alkalinity: 8.2 dKH}"
_WAYS = {"right": (1, 0), "left": (-1, 0), "back": (0, 1), "rear": (0, 1), "front": (0, -1)}
_COMPASS = {
    (1, 0): 0.0,
    (1, 1): 45.0,
    (0, 1): 90.0,
    (-1, 1): 135.0,
    (-1, 0): 180.0,
    (-1, -1): 225.0,
    (0, -1): 270.0,
    (1, -1): 315.0,
}


def read_glass(node: Node | None, reading: Reading, folder: Path | None = None) -> Glass | None:
    """Return the inside measures, or None where they are not all told.

    Parameters
    ----------
    folder
        Where the file lies in which the tank itself is scanned; without, no scan is read.
    """
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return None
    walls = _wall_node(node)
    sizes = _glass_by_keys(node, reading) if isinstance(node, Keyed) else _glass_in_a_row(node, reading)
    if sizes is None:
        return None
    told = {key_of(key.text): value for key, value in node.entries} if isinstance(node, Keyed) else {}
    scan = read_scan(told, reading)
    if scan is not None and folder is not None:
        glass = _scanned(scan, told, sizes, read_walls(walls, reading), reading, folder)
        return None if glass is None or _other_water(glass.height_cm, sizes, node, reading) else glass
    outline = read_outline(node, sizes, reading) if isinstance(node, Keyed) else ()
    if outline is None:
        return None
    if any(sizes.get(key, 0.0) <= 0 for key in ("length_cm", "width_cm", "height_cm")):
        reading.ledger.note(
            "key-123",
            "the glass needs length, width and height above zero",
            node.span,
            mend="120 x 60 x 50 cm",
        )
        return None
    if _other_water(sizes["height_cm"], sizes, node, reading):
        return None
    check_glass(sizes, node.span, reading.ledger)
    return Glass(
        length_cm=sizes["length_cm"],
        width_cm=sizes["width_cm"],
        height_cm=sizes["height_cm"],
        water_cm=sizes.get("water_cm"),
        walls=read_walls(walls, reading),
        outline_cm=outline,
    )


def _other_water(height_cm: float, sizes: Mapping[str, float], node: Node, reading: Reading) -> bool:
    """Whether the water is told to stand higher than the glass, or nowhere, which is noted."""
    water = sizes.get("water_cm", height_cm)
    if 0.0 < water <= height_cm:
        return False
    reading.ledger.note(
        "value-132",
        "the water stands higher than the glass" if water > 0.0 else "there is no tank without water",
        _water_node(node).span,
        label=f"above 0 and at most {format_number(round(height_cm, 1))} cm, from the bare glass up",
        mend="unknown",
    )
    return True


def _scanned(
    scan: Scanned, told: Mapping[str, Node], sizes: Mapping[str, float], walls: Walls, reading: Reading,
    folder: Path,
) -> Glass | None:  # fmt: skip
    """The tank in a scan; the library for meshes is loaded only where there is one."""
    both = next((told[key] for key in OUTLINE_KEYS if key in told), None)
    if both is not None:
        what, mend = "a tank has a scan, or a shape or an outline, not both", "take one of them out"
        reading.ledger.note("key-122", what, both.span, mend=mend)
        return None
    from advisor.tankfiles.tank_scan import scanned_glass

    return scanned_glass(scan, sizes, walls, folder, reading.ledger)


def _wall_node(node: Node) -> Node | None:
    """What is told of the walls."""
    entries = node.entries if isinstance(node, Keyed) else ()
    return next((value for key, value in entries if key_of(key.text) == "walls"), None)


def _water_node(node: Node) -> Node:
    """What is told of the height of the water; the glass where nothing is."""
    entries = node.entries if isinstance(node, Keyed) else ()
    return next((value for key, value in entries if GLASS_KEYS.get(key_of(key.text)) == "water_cm"), node)


def _glass_by_keys(node: Keyed, reading: Reading) -> dict[str, float] | None:
    """What is told by name; None where a length cannot be read, which is then noted."""
    sizes: dict[str, float] = {}
    unread = False
    for key, value in node.entries:
        if key_of(key.text) in _NO_MEASURES:
            continue
        field = GLASS_KEYS.get(key_of(key.text))
        if field is None:
            note_unknown_key(key, "the glass", (*GLASS_KEYS, *_NO_MEASURES), reading.ledger)
            continue
        size = read_length_cm(value, key.text, reading)
        if size is not None:
            sizes[field] = size
        elif is_told(value):
            unread = True
    return None if unread else sizes


def _glass_in_a_row(node: Node, reading: Reading) -> dict[str, float] | None:
    """Three lengths; None where one cannot be read, which is then noted."""
    texts = (
        re.split(r"\s*[x×*]\s*", node.text.strip())
        if isinstance(node, Scalar)
        else [i.text for i in as_list(node) if isinstance(i, Scalar)]
    )
    unit = re.search(r"[A-Za-z\"]+$", texts[-1].strip()) if texts else None
    sizes = []
    try:
        for text in texts:
            whole = text if unit is None or re.search(r"[A-Za-z\"]\s*$", text) else f"{text} {unit.group()}"
            sizes.append(amount_text(whole, LENGTH_CM).best or 0.0)
    except QuantityError as fault:
        reading.ledger.note(
            "value-131",
            str(fault),
            node.span,
            label="expected length x width x height",
            mend="120 x 60 x 50 cm",
        )
        return None
    return dict(zip(("length_cm", "width_cm", "height_cm"), sizes, strict=False))


def read_flow(node: Node | None, reading: Reading) -> tuple[Flow | None, tuple[Fact, ...]]:
    """Return the main stream, and its pattern as a fact of the tank."""
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return None, ()
    if not isinstance(node, Keyed):
        return _direction(node, reading), ()
    entry = Entry(node, reading.ledger)
    direction = entry.take("direction", "goes", "way")
    drift = entry.take("drift")
    pattern = entry.take("pattern", "tank-flow-pattern")
    entry.take("note", "notes")
    for _, key, _ in entry.rest():
        note_unknown_key(key, "the main flow", ("direction", "pattern", "drift", "note"), reading.ledger)
    flow = _direction(direction, reading) if direction is not None else Flow(span=node.span)
    drifted = read_words(drift, reading.ledger) if drift is not None else ""
    facts = read_facts("tank-flow-pattern", pattern, TANK, reading) if pattern is not None else ()
    return flow.model_copy(update={"drift": drifted}), facts or ()


def _direction(node: Node, reading: Reading) -> Flow:
    text = read_words(node, reading.ledger)
    if not text or is_unknown(node) or is_none(node):
        return Flow(written=text, span=node.span)
    degrees = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(?:°|deg|degrees)?", text)
    if degrees is not None and float(degrees.group(1)) <= 360:
        return Flow(direction_deg=float(degrees.group(1)) % 360.0, written=text, span=node.span)
    goes_to = (
        text.lower().rpartition(" to ")[2]
        if " to " in text.lower()
        else re.sub(r"^(?:to|the)\s+", "", text.lower())
    )
    words = [w for w in re.split(r"[\s,-]+", goes_to) if w not in ("the", "and", "to", "")]
    ways = [_WAYS[w] for w in words if w in _WAYS]
    found = (
        _COMPASS.get((sum(w[0] for w in ways), sum(w[1] for w in ways))) if len(ways) == len(words) else None
    )
    if found is None:
        likely = [try_closest(w, _WAYS) for w in words if w not in _WAYS]
        reading.ledger.note(
            "value-133",
            f"'{text}' is not a direction of the main flow",
            node.span,
            label="expected where it goes: right, left, back, front, or degrees from 0 (right) by 90 (back)",
            mend=next((w for w in likely if w), "left to right"),
        )
    return Flow(direction_deg=found, written=text, span=node.span)


def read_horizon(node: Node | None, reading: Reading) -> int:
    """Return how many months ahead to look; a bare number is months."""
    if not isinstance(node, Scalar) or node.blank or is_unknown(node):
        return 12
    try:
        kind = NumberType(Dimension.TIME, UNITS["months"])
        months = (amount_text(node.text, kind).best or 0.0) / UNITS["months"].factor
        if not 0 <= months <= 120:
            raise QuantityError("the horizon is 0 to 120 months")
        return round(months)
    except QuantityError as fault:
        reading.ledger.note(
            "value-131", str(fault), node.span, label="expected how far ahead to look", mend="12 months"
        )
        return 12


def read_water(node: Node | None, reading: Reading) -> tuple[Fact, ...]:
    """Return the facts of water tests: one mapping, or a list of dated ones."""
    facts: list[Fact] = []
    items = [node] if isinstance(node, Keyed) else section_items(node, "water tests", reading.ledger, _A_TEST)
    for item in items:
        if not isinstance(item, Keyed):
            reading.ledger.note(
                "key-122",
                "a water test is an entry with keys",
                item.span,
                mend=_A_TEST,
            )
            continue
        facts += _dated_entry(item, TANK, reading, "a water test")
    return tuple(facts)


def _dated_entry(
    node: Keyed, subject: Subject, reading: Reading, what: str, more: tuple[str, ...] = ()
) -> tuple[Fact, ...]:
    entry = Entry(node, reading.ledger)
    parts = {
        name: value
        for name in ("on", "date", "by", "how", "instrument", "meter", *more)
        if (value := entry.take(name)) is not None
    }
    told = read_circumstances(parts, reading.ledger, NOTHING_TOLD)
    entry.take("event")
    named = tuple(name.replace("-", " ") for name in more)
    return read_rest(entry, subject, reading, what, ("on", "by", "how", "note", *named), told)


def read_readings(nodes: list[Node], reading: Reading) -> tuple[Fact, ...]:
    """Return the facts of a list of readings, each of a spot, an animal or the tank."""
    facts: list[Fact] = []
    for node in nodes:
        if not isinstance(node, Keyed):
            reading.ledger.note(
                "key-122",
                "a reading is an entry with keys",
                node.span,
                mend="- {spot: left-ledge, on: 2026-10-24, light: 187 PAR}",
            )
            continue
        found = _reading_subject(node, reading)
        if found is not None:
            rest, subject = found
            facts += _dated_entry(rest, subject, reading, "a reading", ("output", "immersion-factor"))
    return tuple(facts)


def _reading_subject(node: Keyed, reading: Reading) -> tuple[Keyed, Subject] | None:
    """What a reading is of, and the reading without that key."""
    names = reading.names
    for key, value in node.entries:
        what = key_of(key.text)
        if what not in ("spot", "animal", "coral", "of", "tank", *_THINGS):
            continue
        rest = Keyed(tuple(e for e in node.entries if e[0] is not key), node.span)
        if what == "tank" or (isinstance(value, Scalar) and value.text.strip() == "tank"):
            return rest, TANK
        kind = Kind.PLACE if what == "spot" else Kind(what) if what != "of" else None
        among = names.every if kind is None else names.of(kind)
        identity = reading.refer(value, "spot or animal" if kind is None else what, among)
        found = names.kind_of(identity) if kind is None else kind
        if not identity or found is None:
            return None
        return rest, Subject(Kind.CORAL if found.lives else found, identity)
    reading.ledger.note(
        "key-123", "this reading does not say where it was taken", node.span, mend="spot: left-ledge"
    )
    return None


def stated_gaps(nodes: list[Node], reading: Reading) -> tuple[Fact, ...]:
    """Return the gaps stated between any two things: ``{between: [a, b], gap: 36 cm}``."""
    measure = reading.vocabulary.measures.get("gap")
    facts: list[Fact] = []
    for node in nodes:
        entry = Entry(node, reading.ledger) if isinstance(node, Keyed) else None
        between = entry.take("between") if entry is not None else None
        value = entry.take("gap", "value") if entry is not None else None
        if entry is None or between is None or value is None or measure is None:
            reading.ledger.note(
                "key-122",
                "a gap is between two things",
                node.span,
                mend="- {between: [torch-1, hammer-1], gap: 36 cm}",
            )
            continue
        told = read_circumstances(
            {n: v for n in ("on", "date", "by", "how", "instrument") if (v := entry.take(n)) is not None},
            reading.ledger,
            NOTHING_TOLD,
        )
        error = entry.take("error")
        if error is not None and isinstance(value, Scalar):
            value = Keyed(
                ((Scalar("value", value.span), value), (Scalar("error", error.span), error)), value.span
            )
        entry.take("note", "notes")
        for _, key, _ in entry.rest():
            note_unknown_key(
                key, "a gap", ("between", "gap", "error", "on", "by", "how", "note"), reading.ledger
            )
        pair = _pair(between, reading)
        if pair:
            facts += [
                Fact(measure="gap", subjects=pair, said=said)
                for said in read_statements(value, measure, reading.ledger, told)
            ]
    return tuple(facts)


def _pair(node: Node, reading: Reading) -> tuple[str, str] | None:
    if isinstance(node, Scalar) and "," not in node.text and " and " in node.text:
        node = Items(tuple(Scalar(p, node.span) for p in node.text.split(" and ")), node.span)
    named = as_list(node)
    if len(named) != 2:
        reading.ledger.note(
            "key-122",
            f"a gap is between two things, not {len(named)}",
            node.span,
            mend="between: [torch-1, hammer-1]",
        )
        return None
    first = reading.refer(named[0], "spot or animal", reading.names.things)
    second = other_thing(named[1], first, reading)
    return (first, second) if first and second else None


_THINGS = tuple(kind.value for kind in LISTED)
