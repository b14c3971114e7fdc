"""Bodies that make and stop light in a tank file: how a lamp hangs and shines, a rock's shape, the walls."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from enum import StrEnum
from itertools import pairwise
from typing import TypeVar

from advisor.errors import QuantityError
from advisor.fields.spectra import spectrum_of
from advisor.model.lighting import (
    Colour,
    LampBody,
    LampForm,
    Pin,
    RockBody,
    RockShape,
    Scanned,
    Upward,
    Walls,
    WallState,
)
from advisor.model.vocabulary import NumberType
from advisor.tankfiles.entries import Entry, Reading, note_unknown_key
from advisor.tankfiles.ledger import try_closest
from advisor.tankfiles.nodes import Keyed, Node, Scalar, key_of
from advisor.tankfiles.numbers import amount_text
from advisor.tankfiles.said import is_unknown
from advisor.units import UNITS, format_number

LAMP_BODY_KEYS = (
    "form", "at", "over water", "size", "turned", "photons", "watts", "beam", "angles", "output", "colour",
    "spectrum", "programme",
)  # fmt: skip
SCAN_KEYS = ("scan", "up", "turned", "points")
"""What is told of a scan of the tank itself, beside its inside measures."""
ROCK_BODY_KEYS = ("shape", "scan", "up", "at", "foot", "size", "turned", "points")
WALL_NAMES = ("left", "right", "front", "back")
OTHER_WALLS = "rest"
"""Stands for every wall that is not named."""

_CM, _DEGREES, _PERCENT = (NumberType(UNITS[name].dimension, UNITS[name]) for name in ("cm", "degrees", "%"))
_PHOTONS, _WATTS = (NumberType(UNITS[name].dimension, UNITS[name]) for name in ("umol/s", "W"))
_A_PIN = '{top: {scan: "0.1, 0.2, 0.3", tank: "40, 30, 25 cm"}}'
_A_DAY = "{9: 0 %, 11: 100 %, 17: 100 %, 19: 0 %}"
_A_CHART = "{400: 5 %, 430: 40 %, 450: 100 %, 470: 40 %, 500: 10 %, 560: 15 %, 660: 5 %, 700: 0 %}"
_LEAST_NM, _MOST_NM = 280.0, 1000.0
_FULL_TURN_DEG, _FLAT_DEG = 360.0, 180.0

Word = TypeVar("Word", bound=StrEnum)


def read_lamp_body(entry: Entry, reading: Reading) -> LampBody:
    """Take the keys of a lamp's body out of its entry; faults are noted and leave a value untold."""
    size = _row(entry.take("size"), (1, 2), "30 x 20 cm", reading)
    return LampBody(
        form=_word(entry.take("form"), LampForm, reading) or LampForm.PANEL,
        middle_cm=_plan(entry.take("at", "place"), reading),
        over_water_cm=_one(
            entry.take("over-water"), _CM, "20 cm", reading, above=0.0, must="a lamp hangs above the water"
        ),
        length_cm=size[0] if size else 0.0,
        width_cm=size[1] if len(size) > 1 else 0.0,
        turned_deg=_turned(entry.take("turned"), reading),
        photons_umol_per_s=_one(entry.take("photons"), _PHOTONS, "350 umol/s", reading, above=0.0),
        watts=_one(entry.take("watts"), _WATTS, "90 W", reading, above=0.0),
        beam_deg=_one(entry.take("beam"), _DEGREES, "90 degrees", reading, above=0.0, below=_FLAT_DEG),
        angles=_pairs(entry.take("angles"), "{0: 1, 30: 0.8, 60: 0.2}", reading, _angle, 1),
        output_percent=_output(entry.take("output"), reading),
        colour=_word(entry.take("colour", "color"), Colour, reading),
        spectrum=_spectrum(entry.take("spectrum"), reading),
        programme=_pairs(entry.take("programme", "program"), _A_DAY, reading, _hour, 0),
    )


def read_rock_body(entry: Entry, reading: Reading) -> RockBody | None:
    """Take the keys of a rock's body out of its entry; None where no shape is told."""
    shape = _word(entry.take("shape"), RockShape, reading)
    scan = entry.take("scan")
    size_node = entry.take("size")
    size = _row(size_node, (3,), "40 x 30 x 25 cm", reading)
    named = isinstance(scan, Scalar) and not is_unknown(scan)
    body = RockBody(
        shape=shape,
        mesh=scan.text.strip() if isinstance(scan, Scalar) and named else "",
        up=_word(entry.take("up"), Upward, reading),
        pins=_pins(entry.take("points"), reading),
        span=scan.span if scan is not None and named else None,
        middle_cm=_plan(entry.take("at", "place"), reading),
        foot_cm=_one(entry.take("foot"), _CM, "0 cm", reading) or 0.0,
        size_cm=(size[0], size[1], size[2]) if size else None,
        turned_deg=_turned(entry.take("turned"), reading),
    )
    if body.shape is None and not body.mesh:
        return None
    where = size_node.span if size_node is not None else entry.span
    if body.shape is not None and body.mesh:
        what, mend = "a rock has a shape or a scan, not both", "take one of them out"
        reading.ledger.note("key-122", what, where, mend=mend)
    elif body.shape is not None and (body.middle_cm is None or body.size_cm is None):
        mend = 'shape: boulder, at: "40, 30 cm", size: 40 x 30 x 25 cm'
        reading.ledger.note("key-123", "a rock with a shape needs at and size", where, mend=mend)
    elif body.shape is None and body.middle_cm is None and not body.pins:
        mend = f'scan: {body.mesh}, at: "40, 30 cm", size: 40 x 30 x 25 cm'
        reading.ledger.note("key-123", "a scanned rock needs at, or points", where, mend=mend)
    else:
        return body
    return None


def read_scan(told: Mapping[str, Node], reading: Reading) -> Scanned | None:
    """Return what is told of a scan by some keys of the glass; None where none is named."""
    scan = told.get("scan")
    if not isinstance(scan, Scalar) or scan.blank or is_unknown(scan):
        return None
    return Scanned(
        mesh=scan.text.strip(),
        span=scan.span,
        up=_word(told.get("up"), Upward, reading),
        turned_deg=_turned(told.get("turned"), reading),
        pins=_pins(told.get("points"), reading),
    )


def _turned(node: Node | None, reading: Reading) -> float:
    """How far something is turned about the vertical. [degrees]"""
    return _one(node, _DEGREES, "90 degrees", reading, most=_FULL_TURN_DEG) or 0.0


def _pins(node: Node | None, reading: Reading) -> tuple[Pin, ...]:
    """Points known both in a scan and in the tank."""
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return ()
    found = []
    for key, value in node.entries if isinstance(node, Keyed) else ():
        sides = {key_of(k.text): v for k, v in value.entries} if isinstance(value, Keyed) else {}
        scan, tank = _three(sides.get("scan")), _row(sides.get("tank"), (3,), "40, 30, 25 cm", reading)
        if scan is None or not tank:
            reading.ledger.note("key-123", f"the point {key.text} needs scan and tank", key.span, mend=_A_PIN)
        else:
            found.append(Pin(key.text.strip(), scan, (tank[0], tank[1], tank[2])))
    if not isinstance(node, Keyed):
        reading.ledger.note("key-122", "points are told by name", node.span, mend=_A_PIN)
    return tuple(found)


def _three(node: Node | None) -> tuple[float, float, float] | None:
    """Three plain numbers, in the unit of a scan."""
    parts = re.split(r"\s*[,;]\s*|\s+", node.text.strip()) if isinstance(node, Scalar) else []
    try:
        x, y, z = (float(part) for part in parts)
    except ValueError:
        return None
    return (x, y, z) if all(math.isfinite(each) for each in (x, y, z)) else None


def read_walls(node: Node | None, reading: Reading) -> Walls:
    """Return what the walls are like: one word for all, or a word for each, and one for the rest.

    Of curved and oblique walls a side is the part that looks its way.
    """
    if node is None or is_unknown(node):
        return Walls()
    if isinstance(node, Scalar):
        state = _word(node, WallState, reading)
        return Walls(left=state, right=state, front=state, back=state)
    if not isinstance(node, Keyed):
        reading.ledger.note("key-122", "walls take a word, or a word each", node.span, mend="{back: painted}")
        return Walls()
    found: dict[str, WallState | None] = {}
    for key, value in node.entries:
        name = key_of(key.text)
        if name in (*WALL_NAMES, OTHER_WALLS):
            found[name] = _word(value, WallState, reading)
        else:
            note_unknown_key(key, "the walls", (*WALL_NAMES, OTHER_WALLS), reading.ledger)
    rest = found.pop(OTHER_WALLS, None)
    return Walls.model_validate({**dict.fromkeys(WALL_NAMES, rest), **found})


def _word(node: Node | None, words: type[Word], reading: Reading) -> Word | None:
    """One of a few words."""
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return None
    text = node.text.strip().lower() if isinstance(node, Scalar) else ""
    known = [word.value for word in words]
    if text in known:
        return words(text)
    reading.ledger.note(
        "value-133",
        f"'{text}' is not one of the words here",
        node.span,
        label=f"expected {', '.join(known[:-1])} or {known[-1]}",
        mend=try_closest(text, known, known[0]),
    )
    return None


def _one(
    node: Node | None,
    kind: NumberType,
    such_as: str,
    reading: Reading,
    *,
    above: float | None = None,
    below: float | None = None,
    most: float | None = None,
    must: str = "",
) -> float | None:
    """One plain number in its base unit, within what is possible."""
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return None
    try:
        if not isinstance(node, Scalar):
            raise QuantityError("one number is expected here")
        value = amount_text(node.text, kind).best
        if value is None:
            raise QuantityError(f"'{node.text}' is not one number")
    except QuantityError as fault:
        reading.ledger.note("value-131", str(fault), node.span, label=f"such as {such_as}", mend=such_as)
        return None
    too_small = value < 0.0 if above is None else value <= above
    if too_small or (below is not None and value >= below) or (most is not None and value > most):
        what = f"{format_number(value)} cannot be here" + (f": {must}" if must else "")
        reading.ledger.note("value-132", what, node.span, label=f"such as {such_as}", mend=such_as)
        return None
    return value


def _output(node: Node | None, reading: Reading) -> float:
    """What a lamp is set to, full where nothing is told. [%]"""
    told = _one(node, _PERCENT, "80 %", reading, most=100.0)
    return 100.0 if told is None else told


def _plan(node: Node | None, reading: Reading) -> tuple[float, float] | None:
    """A point seen from above, x and y. [cm]"""
    found = _row(node, (2, 3), "40, 30 cm", reading)
    return (found[0], found[1]) if found else None


def _row(node: Node | None, counts: tuple[int, ...], such_as: str, reading: Reading) -> tuple[float, ...]:
    """A few lengths in a row, with one unit for all or each its own. [cm]"""
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return ()
    text = node.text.strip() if isinstance(node, Scalar) else ""
    parts = [part for part in re.split(r"\s*[x×,;]\s*", text) if part]
    tail = re.search(r"[A-Za-z\"]+$", text)
    try:
        if len(parts) not in counts:
            raise QuantityError(f"{' or '.join(str(count) for count in counts)} lengths are expected here")
        whole = [p if re.search(r"[A-Za-z\"]$", p) or tail is None else f"{p} {tail.group()}" for p in parts]
        values = [amount_text(part, _CM).best for part in whole]
        if any(value is None or value < 0.0 for value in values):
            raise QuantityError(f"'{text}' is not a row of lengths")
        return tuple(value for value in values if value is not None)
    except QuantityError as fault:
        reading.ledger.note("value-131", str(fault), node.span, label=f"such as {such_as}", mend=such_as)
        return ()


def _pairs(
    node: Node | None, such_as: str, reading: Reading, key: Callable[[str], float], least: int
) -> tuple[tuple[float, float], ...]:
    """A table of numbers by numbers, its keys rising."""
    if node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank):
        return ()
    try:
        if not isinstance(node, Keyed) or len(node.entries) <= least:
            raise QuantityError("a table is expected here")
        found = []
        for name, value in node.entries:
            if not isinstance(value, Scalar):
                raise QuantityError(f"one number is expected after {name.text}")
            share = amount_text(value.text, _PERCENT).best
            if share is None or not 0.0 <= share <= 100.0:
                raise QuantityError(f"'{value.text}' does not lie between 0 and 100 %")
            found.append((key(name.text.strip()), share))
        if any(one[0] >= two[0] for one, two in pairwise(found)):
            raise QuantityError("the left column must rise")
    except QuantityError as fault:
        reading.ledger.note("value-131", str(fault), node.span, label=f"such as {such_as}", mend=such_as)
        return ()
    return tuple(found)


def _angle(text: str) -> float:
    """An angle from straight down. [degrees]"""
    value = amount_text(text, _DEGREES).best
    if value is None or not 0.0 <= value <= 90.0:
        raise QuantityError(f"'{text}' is not an angle from 0 to 90 degrees")
    return value


def _spectrum(node: Node | None, reading: Reading) -> tuple[tuple[float, float], ...]:
    """What a lamp sends of each colour; some of it must be PAR."""
    found = _pairs(node, _A_CHART, reading, _wavelength, 1)
    try:
        if found:
            spectrum_of(found)
    except QuantityError as fault:
        assert node is not None  # nothing is found in nothing
        label = "from the chart of its maker, at each peak and foot"
        reading.ledger.note("value-132", str(fault), node.span, label=label, mend=_A_CHART)
        return ()
    return found


def _wavelength(text: str) -> float:
    """A colour by its wavelength. [nm]"""
    found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(?:nm)?", text)
    if found is None or not _LEAST_NM <= float(found[1]) <= _MOST_NM:
        raise QuantityError(f"'{text}' is not a wavelength from {_LEAST_NM:g} to {_MOST_NM:g} nm")
    return float(found[1])


def _hour(text: str) -> float:
    """An hour of the day, 9 or 9:30. [h]"""
    found = re.fullmatch(r"(\d{1,2})(?::([0-5]\d))?", text)
    if found is None or int(found[1]) > 24:
        raise QuantityError(f"'{text}' is not an hour of the day")
    return int(found[1]) + int(found[2] or 0) / 60.0
