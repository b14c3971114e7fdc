"""Bodies that make and stop light in a tank file: how a lamp hangs and shines, a rock's shape, the walls."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from advisor.errors import Severity
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
from advisor.tankfiles.curves import read_angles, read_programme, read_spectrum
from advisor.tankfiles.entries import Entry, Reading, note_unknown_key
from advisor.tankfiles.figures import Figure, is_told, read_figure, read_row, read_share, read_turn, read_word
from advisor.tankfiles.nodes import Keyed, Node, Scalar, key_of
from advisor.tankfiles.said import is_unknown
from advisor.units import UNITS

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

_KINDS = {name: NumberType(UNITS[name].dimension, UNITS[name]) for name in ("cm", "degrees", "umol/s", "W")}
_OVER_WATER = Figure("over water", _KINDS["cm"], "20 cm", above=0.0, must="a lamp hangs above the water")
_PHOTONS = Figure("photons", _KINDS["umol/s"], "350 umol/s", above=0.0)
_WATTS = Figure("watts", _KINDS["W"], "90 W", above=0.0)
_BEAM = Figure("beam", _KINDS["degrees"], "90 degrees", above=0.0, below=180.0)
_FOOT = Figure(
    "foot", _KINDS["cm"], "0 cm", must="it is how high it lies over the bare glass", otherwise="0 cm"
)
_A_PIN = '{top: {scan: "0.1, 0.2, 0.3", tank: "40, 30, 25 cm"}}'
_A_PLAN, _A_SIZE = "40, 30 cm", "40 x 30 x 25 cm"


def read_lamp_body(entry: Entry, reading: Reading) -> LampBody:
    """Take the keys of a lamp's body out of its entry; faults are noted and leave a value untold."""
    size = read_row(entry.take("size"), (1, 2), "30 x 20 cm", reading, above_zero=True)
    beam, angles = entry.take("beam"), entry.take("angles")
    if is_told(beam) and is_told(angles) and beam is not None:
        what, mend = "angles say how a lamp shines, so its beam is not used", "take out beam, or angles"
        reading.ledger.note("key-122", what, beam.span, mend=mend, severity=Severity.WARNING)
    set_to = entry.take("output")
    output = read_share(set_to, "output", "80 %", reading)
    photons = read_figure(entry.take("photons"), _PHOTONS, reading)
    watts = read_figure(entry.take("watts"), _WATTS, reading)
    if set_to is not None and is_unknown(set_to):
        photons = watts = None  # of a lamp nobody knows the setting of, only readings tell how strong it is
    return LampBody(
        form=read_word(entry.take("form"), LampForm, reading) or LampForm.PANEL,
        middle_cm=_plan(entry.take("at", "place"), reading),
        over_water_cm=read_figure(entry.take("over-water"), _OVER_WATER, reading),
        length_cm=size[0] if size else 0.0,
        width_cm=size[1] if len(size) > 1 else 0.0,
        turned_deg=read_turn(entry.take("turned"), reading),
        photons_umol_per_s=photons,
        watts=watts,
        beam_deg=read_figure(beam, _BEAM, reading),
        angles=read_angles(angles, reading),
        output_percent=100.0 if output is None else output,
        colour=read_word(entry.take("colour", "color"), Colour, reading),
        spectrum=read_spectrum(entry.take("spectrum"), reading),
        programme=read_programme(entry.take("programme", "program"), reading),
    )


def read_rock_body(entry: Entry, reading: Reading) -> RockBody | None:
    """Take the keys of a rock's body out of its entry; None where no shape is told."""
    shape = read_word(entry.take("shape"), RockShape, reading)
    scan, at, size_node = entry.take("scan"), entry.take("at", "place"), entry.take("size")
    size = read_row(size_node, (3,), _A_SIZE, reading, above_zero=True)
    named = isinstance(scan, Scalar) and is_told(scan)
    body = RockBody(
        shape=shape,
        mesh=scan.text.strip() if isinstance(scan, Scalar) and named else "",
        up=read_word(entry.take("up"), Upward, reading),
        pins=_pins(entry.take("points"), reading),
        span=scan.span if scan is not None and named else None,
        middle_cm=_plan(at, reading),
        foot_cm=read_figure(entry.take("foot"), _FOOT, reading) or 0.0,
        size_cm=(size[0], size[1], size[2]) if size else None,
        turned_deg=read_turn(entry.take("turned"), reading),
    )
    if body.shape is None and not body.mesh:
        return None
    if body.shape is not None and body.mesh:
        what, mend = "a rock has a shape or a scan, not both", "take one of them out"
        reading.ledger.note("key-122", what, entry.span, mend=mend)
        return None
    untold = (
        {f'at: "{_A_PLAN}"': at} if body.mesh else {f'at: "{_A_PLAN}"': at, f"size: {_A_SIZE}": size_node}
    )
    missing = [] if body.mesh and body.pins else [line for line, node in untold.items() if not is_told(node)]
    if missing:
        what = "a scanned rock needs at, or points" if body.mesh else "a rock with a shape needs at and size"
        reading.ledger.note("key-123", what, entry.span, label="not told here", mend=", ".join(missing))
        return None
    unread = (body.middle_cm is None and not body.pins) or (body.shape is not None and body.size_cm is None)
    return None if unread else body


def read_scan(told: Mapping[str, Node], reading: Reading) -> Scanned | None:
    """Return what is told of a scan by some keys of the glass; None where none is named."""
    scan = told.get("scan")
    if not isinstance(scan, Scalar) or scan.blank or is_unknown(scan):
        return None
    return Scanned(
        mesh=scan.text.strip(),
        span=scan.span,
        up=read_word(told.get("up"), Upward, reading),
        turned_deg=read_turn(told.get("turned"), reading),
        pins=_pins(told.get("points"), reading),
    )


def _pins(node: Node | None, reading: Reading) -> tuple[Pin, ...]:
    """Points known both in a scan and in the tank."""
    if node is None or not is_told(node):
        return ()
    found = []
    for key, value in node.entries if isinstance(node, Keyed) else ():
        sides = {key_of(k.text): v for k, v in value.entries} if isinstance(value, Keyed) else {}
        scan, tank = _three(sides.get("scan")), read_row(sides.get("tank"), (3,), "40, 30, 25 cm", reading)
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


def _plan(node: Node | None, reading: Reading) -> tuple[float, float] | None:
    """A point seen from above, x and y. [cm]"""
    found = read_row(node, (2, 3), _A_PLAN, reading)
    return (found[0], found[1]) if found else None


def read_walls(node: Node | None, reading: Reading) -> Walls:
    """Return what the walls are like: one word for all, or a word for each, and one for the rest.

    Of curved and oblique walls a side is the part that looks its way.
    """
    if node is None or is_unknown(node):
        return Walls()
    if isinstance(node, Scalar):
        state = read_word(node, WallState, reading)
        return Walls(left=state, right=state, front=state, back=state)
    if not isinstance(node, Keyed):
        reading.ledger.note("key-122", "walls take a word, or a word each", node.span, mend="{back: painted}")
        return Walls()
    found: dict[str, WallState | None] = {}
    for key, value in node.entries:
        name = key_of(key.text)
        if name in (*WALL_NAMES, OTHER_WALLS):
            found[name] = read_word(value, WallState, reading)
        else:
            note_unknown_key(key, "the walls", (*WALL_NAMES, OTHER_WALLS), reading.ledger)
    rest = found.pop(OTHER_WALLS, None)
    return Walls.model_validate({**dict.fromkeys(WALL_NAMES, rest), **found})
