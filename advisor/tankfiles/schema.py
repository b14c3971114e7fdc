"""JSON Schema of tank.yaml, for editors and other programs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from advisor.model.lighting import Colour, LampForm, RockShape, Upward, WallState
from advisor.model.vocabulary import (
    LISTED,
    Kind,
    Measure,
    NumberType,
    Relation,
    SetType,
    Vocabulary,
    WordType,
)
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.facts import OTHER_SPELLINGS, TANK, Subject, known_keys
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.lighting import OTHER_WALLS, SCAN_KEYS, WALL_NAMES

Schema = dict[str, object]
DRAFT = "https://json-schema.org/draft/2020-12/schema"

ID: Schema = {"type": "string", "pattern": "^[a-z0-9][a-z0-9-]*$"}
_TEXT: Schema = {"type": ["string", "number", "boolean", "null"]}
_DAY: Schema = {"type": ["string", "null"], "description": "year-month-day, such as 2026-10-24; or unknown"}
_YES_NO: Schema = {"type": ["string", "boolean", "null"], "description": "yes, no or unknown"}
_LENGTH: Schema = {"type": ["string", "number", "null"], "description": "25 cm, or a bare number in cm"}
_NAMES: Schema = {
    "type": ["string", "array", "null"],
    "items": {"type": "string"},
    "description": "ids, none or unknown",
}


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def tank_schema(vocabulary: Vocabulary) -> Schema:
    """Return the JSON Schema (2020-12) of tank.yaml as a keeper writes it.

    Keys are given with spaces; hyphens and underscores are accepted alike.
    """
    defs: Schema = {
        "value": _value(),
        "others": _others(),
        "place": _place(),
        "told": _told(),
        "spot": _thing(
            vocabulary, Subject(Kind.PLACE, ""), _spot_keys(), "A named place that can hold an animal."
        ),
        "coral": _thing(vocabulary, Subject(Kind.CORAL, ""), _coral_keys(), "A coral, clam or anemone."),
        "rock": _thing(vocabulary, Subject(Kind.ROCK, ""), _rock_keys(), "A rock that spots are on."),
        "lamp": _thing(vocabulary, Subject(Kind.LAMP, ""), _lamp_keys(), "A lamp over the tank."),
        "pump": _thing(vocabulary, Subject(Kind.PUMP, ""), _pump_keys(), "A pump in the tank."),
        "fish": _thing(
            vocabulary, Subject(Kind.FISH, ""), {**_named_keys(), "kind": _TEXT}, "A fish or other mover."
        ),
        "reading": _thing(
            vocabulary, Subject(Kind.CORAL, ""), _reading_keys(vocabulary), "One dated reading."
        ),
        "meter": {**_object(_meter_keys()), "description": "A light meter."},
        "gap": _object({"between": _NAMES, "gap": _ref("value"), "error": _TEXT, **_circumstances()}),
        "water": _thing(vocabulary, TANK, _circumstances(), "One water test."),
    }
    top = _thing(vocabulary, TANK, _top_keys(), "What is now in one tank.")
    return {"$schema": DRAFT, "title": "tank.yaml", **top, "$defs": defs}


def _value() -> Schema:
    return {
        "description": "118 PAR, 118 ±12 PAR, 100-140 PAR, at least 40 cm, a word, unknown, none, yes or no; "
        "or a mapping with its circumstances; or a list of those",
        "anyOf": [_TEXT, _ref("told"), {"type": "array", "items": {"anyOf": [_TEXT, _ref("told")]}}],
    }


def _told() -> Schema:
    keys: Schema = {
        "value": {"type": ["string", "number", "boolean", "null", "array"]},
        "word": _TEXT,
        "error": _TEXT,
        "since": _DAY,
        "distance": _LENGTH,
        "repeats": _TEXT,
        "seconds": {"type": ["string", "number", "array"]},
        **_of_light(),
        **_circumstances(),
    }
    return _object(keys)


def _of_light() -> Schema:
    return {
        "meter": {**_TEXT, "description": "the same as how; of light the id of one of meters"},
        "output": {**_TEXT, "description": "of light: what all lamps were set to when it was read, 60 %"},
        "immersion factor": _immersion(),
    }


def _immersion() -> Schema:
    """The factor of a light meter under water, with those that makers publish."""
    known = "by sensor: SQ-110 1.08, SQ-100X 1.15, 610 and 650 1.25 (a 650 may apply it), 500 about 1.32"
    return {**_TEXT, "description": f"1.25, corrected or unknown; {known}"}


def _meter_keys() -> Schema:
    return {"id": ID, "name": _TEXT, "note": _TEXT, "notes": _TEXT, "immersion factor": _immersion()}


def _circumstances() -> Schema:
    return {
        "on": _DAY,
        "date": _DAY,
        "how": _TEXT,
        "instrument": _TEXT,
        "note": _TEXT,
        "event": _TEXT,
        "by": {"type": ["string", "null"], "description": "keeper, seller, shop, instrument or unknown"},
    }


def _others() -> Schema:
    return {
        "description": "names of others; none; or each with its value",
        "anyOf": [_NAMES, {"type": "object", "additionalProperties": _ref("value")}],
    }


def _place() -> Schema:
    axis = {"type": ["string", "number"]}
    return {
        "description": "left, back, high; or a position: 20, 35, 28 cm; or x, y and z",
        "anyOf": [
            {"type": ["string", "null"]},
            {"type": "array", "items": axis},
            _object({"x": axis, "y": axis, "z": axis, "across": axis, "depth": axis, "height": axis}),
        ],
    }


def _where() -> Schema:
    return {
        "place": _ref("place"),
        "at": _ref("place"),
        "position": _ref("place"),
        "nothing else within": {"anyOf": [_LENGTH, _ref("told")]},
        "gaps complete": {"anyOf": [_YES_NO, _ref("told")]},
        "below": _ref("others"),
        "note": _TEXT,
        "notes": _TEXT,
        "also": _also(),
    }


def _also() -> Schema:
    return {"type": ["object", "null"], "description": "measures of your own, declared in house.rules"}


def _spot_keys() -> Schema:
    rock = {"anyOf": [{"type": ["string", "null"]}, _ref("rock")]}
    return {
        "id": ID,
        "name": _TEXT,
        **_where(),
        "rock": rock,
        "extent": _LENGTH,
        "temporary": _YES_NO,
        "holds": {"type": ["integer", "string", "null"], "minimum": 1},
    }


def _named_keys() -> Schema:
    return {"id": ID, "name": _TEXT, "note": _TEXT, "notes": _TEXT, "also": _also()}


def _rock_keys() -> Schema:
    return {**_named_keys(), "lifts out": _YES_NO, "touches": _NAMES, **_rock_body_keys()}


def _lamp_keys() -> Schema:
    return {**_named_keys(), "installed": _DAY, "replaced": _DAY, "cleaned": _DAY, **_lamp_body_keys()}


def _words(words: Iterable[str], description: str) -> Schema:
    return {"enum": [*words, None], "description": description}


def _rock_body_keys() -> Schema:
    return {
        "shape": _words((shape.value for shape in RockShape), "the body nearest to the rock"),
        "scan": {"type": ["string", "null"], "description": "a file in this folder: OBJ, STL, PLY or GLB"},
        "up": _words((up.value for up in Upward), "which axis of the scan points up"),
        "points": {"type": ["object", "null"], "description": "points known in the scan and in the tank"},
        "foot": {**_LENGTH, "description": "its lowest point over the bare glass"},
        "size": {"type": ["string", "null"], "description": "40 x 30 x 25 cm: along, across, up"},
        "turned": {**_TEXT, "description": "degrees, against the clock seen from above"},
        "at": {"type": ["string", "array", "null"], "description": "its middle seen from above: 40, 30 cm"},
    }


def _lamp_body_keys() -> Schema:
    return {
        "form": _words((form.value for form in LampForm), "what it shines from"),
        "at": {"type": ["string", "array", "null"], "description": "its middle seen from above: 40, 30 cm"},
        "over water": {**_LENGTH, "description": "its lower face above the water"},
        "size": {"type": ["string", "null"], "description": "30 x 20 cm; of a tube its length"},
        "turned": {**_TEXT, "description": "degrees, against the clock seen from above"},
        "photons": {**_TEXT, "description": "all it sends at full output: 350 umol/s"},
        "watts": {**_TEXT, "description": "what it draws at full output: 90 W"},
        "beam": {**_TEXT, "description": "full angle of its beam: 90 degrees"},
        "angles": {
            "type": ["object", "null"],
            "description": "angle from straight down to share",
        },
        "output": {**_TEXT, "description": "what it is set to: 80 %"},
        "colour": _words((colour.value for colour in Colour), "what its light is made of"),
        "color": _words((colour.value for colour in Colour), "the same"),
        "spectrum": {"type": ["object", "null"], "description": "wavelength to its share: {450 nm: 100 %}"},
        "programme": {"type": ["object", "null"], "description": "hour of the day to share of its output"},
    }


def _pump_keys() -> Schema:
    return {**_named_keys(), "cleaned": _DAY}


def _coral_keys() -> Schema:
    looks = {
        "anyOf": [_DAY, {"type": "array", "items": {"anyOf": [_DAY, {"type": "object"}]}}, {"type": "object"}]
    }
    comes = _object(
        {
            "light": _ref("value"),
            "par": _ref("value"),
            "stay": _ref("value"),
            "hours": _ref("value"),
            "measured by": _TEXT,
            **_circumstances(),
        }
    )
    says = _object({"light": _ref("value"), "flow": _ref("value"), "temper": _TEXT, **_circumstances()})
    names = dict.fromkeys(
        ("is", "taxon", "species", "coral", "animal", "name", "clone", "colony", "mother colony"), _TEXT
    )
    return {
        "id": ID,
        **names,
        **_where(),
        "rock": {"type": ["string", "null"]},
        "spot": {"type": ["string", "null"]},
        "phase": {"enum": ["waiting", "trial", "placed", None]},
        "stage": {"enum": ["waiting", "trial", "placed", None]},
        "placed": {"type": ["string", "boolean", "null"], "description": "the date it was placed"},
        "moved": _DAY,
        "night looks": looks,
        "comes from": {"anyOf": [_TEXT, comes]},
        "seller says": {"anyOf": [_TEXT, says]},
    }


def _reading_keys(vocabulary: Vocabulary) -> Schema:
    things = [kind.value for kind in LISTED]
    keys = ("spot", "animal", "coral", "of", "tank", *things)
    reading = Reading(vocabulary, Ledger())
    of_things = [name for kind in LISTED for name in known_keys(Subject(kind, ""), reading)]
    return {
        **_measures((*of_things, *known_keys(TANK, reading)), vocabulary),
        **_circumstances(),
        **_of_light(),
        **{key: {"type": ["string", "boolean"]} for key in keys},
    }


def _top_keys() -> Schema:
    size: Schema = dict.fromkeys(("length", "width", "depth", "height", "water", "diameter", "bow"), _LENGTH)
    states = [*(state.value for state in WallState), None]
    sides: Schema = {side: {"enum": states} for side in WALL_NAMES}
    sides[OTHER_WALLS] = {"enum": states, "description": "every wall that is not named"}
    walls = "the inside of the walls; of a curved one a side is what looks that way"
    size["walls"] = {"anyOf": [{"enum": states}, _object(sides)], "description": walls}
    size["shape"] = {"enum": ["box", "cylinder", "bow front"], "description": "seen from above"}
    size |= {key: _rock_body_keys()[key] for key in SCAN_KEYS}
    size["outline"] = {"type": "array", "description": "corners seen from above, in order: 80, 50 cm"}
    glass = {
        "anyOf": [{"type": ["string", "array", "null"]}, _object(size)],
        "description": "inside: 120 x 60 x 50 cm, or length, width, height and water, or a scan of it",
    }
    flow = {
        "anyOf": [
            {"type": ["string", "number", "null"]},
            _object(
                {
                    "direction": {"type": ["string", "number"]},
                    "pattern": _ref("value"),
                    "drift": _TEXT,
                    "note": _TEXT,
                }
            ),
        ]
    }
    one_line: Schema = {"type": "string", "description": "torch, 8 cm, 110 PAR"}
    return {
        "edition": {"enum": [1, "1"]},
        "id": ID,
        "tank": ID,
        "name": _TEXT,
        "invented": _YES_NO,
        "started": _DAY,
        "horizon": {"type": ["string", "number", "null"], "description": "how far to look ahead: 12 months"},
        "last event": {"type": ["string", "null"], "description": "written by the program"},
        "glass": glass,
        "flow": flow,
        "water": {"anyOf": [_ref("water"), _list("water")]},
        "rocks": _section("rock"),
        "spots": _section("spot"),
        "places every": {**_LENGTH, "description": "a grid of places over rocks and floor: 8 cm apart"},
        "places on": {
            **_NAMES,
            "description": "the parts of rocks the grid is on: tops, sides, undersides; tops if not told",
        },
        "corals": _section("coral", one_line),
        "animals": _section("coral", one_line),
        "waiting": _section("coral", one_line),
        "lamps": _section("lamp"),
        "pumps": _section("pump"),
        "meters": _section("meter"),
        "fish": _section("fish"),
        "readings": _list("reading"),
        "gaps": _list("gap"),
        "also": _also(),
        "house": _NAMES,
        "note": _TEXT,
        "notes": _TEXT,
    }


def _list(name: str) -> Schema:
    return {"type": ["array", "null"], "items": _ref(name)}


def _section(name: str, alone: Schema | None = None) -> Schema:
    """A list of entries (or names alone), or a mapping of ids to entries."""
    item = {"anyOf": [_ref(name), alone or {"type": "string"}]}
    return {
        "anyOf": [
            {"type": "array", "items": item},
            {"enum": ["none", None]},
            {"type": "object", "additionalProperties": {"anyOf": [_ref(name), {"type": "null"}]}},
        ]
    }


def _thing(vocabulary: Vocabulary, subject: Subject, own: Schema, description: str) -> Schema:
    measures = _measures(known_keys(subject, Reading(vocabulary, Ledger())), vocabulary)
    short = {
        name.removeprefix(f"{subject.kind.value} "): schema
        for name, schema in measures.items()
        if subject.kind in LISTED
    }
    return {**_object({**measures, **short, **own}), "description": description}


def _measures(names: Iterable[str], vocabulary: Vocabulary) -> Schema:
    stated: Schema = {}
    for name in names:
        of = vocabulary.measures.get(name) or vocabulary.relations[name]
        schema = {**_ref("others" if len(of.params) == 2 else "value"), "description": _describe(of)}
        for spelling in (name, *(k for k, v in OTHER_SPELLINGS.items() if v == name)):
            stated[spelling.replace("-", " ")] = schema
    return stated


def _describe(of: Measure | Relation) -> str:
    if isinstance(of, Relation):
        return of.ask or of.say
    match of.type:
        case NumberType(unit=unit):
            form = f"in {unit.name}" if unit.name else "a number"
        case WordType(words=words) | SetType(words=words):
            form = ", ".join(words) or "a name"
        case _:
            form = "yes or no"
    return f"{of.ask or of.say} ({form})"


def _object(keys: Mapping[str, object]) -> Schema:
    """A closed mapping; keys of several words may be spelled with spaces, hyphens or underscores."""
    spellings = {f"^{key.replace(' ', '[ _-]+')}$": schema for key, schema in keys.items() if " " in key}
    closed: Schema = {"type": "object", "properties": dict(keys), "additionalProperties": False}
    return {**closed, "patternProperties": spellings} if spellings else closed
