"""JSON Schema of the journal, for editors and other programs."""

from __future__ import annotations

from advisor.model.tank import EventKind
from advisor.tankfiles.schema import DRAFT, ID, Schema


def event_schema() -> Schema:
    """Return the JSON Schema (2020-12) of one line of journal.jsonl."""
    keys: Schema = {
        "id": ID,
        "on": {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}"},
        "at": {"type": "string", "pattern": "^([01]?[0-9]|2[0-3]):[0-5][0-9]", "description": "time of day"},
        "by": {"type": "string"},
        "kind": {"enum": [kind.value for kind in EventKind]},
        "subject": {"type": "string", "description": "id of a spot or animal, or tank"},
        "spot": {"type": "string"},
        "values": {"type": "object", "description": "measures with their values, as in tank.yaml"},
        "how": {"type": "string"},
        "night": {"type": "boolean", "description": "seen by night"},
        "note": {"type": "string"},
        "edit": {
            "type": "object",
            "additionalProperties": {"type": "string"},
            "description": "the edit of tank.yaml this event stands for; written by the program",
        },
    }
    return {
        "$schema": DRAFT,
        "title": "one line of journal.jsonl",
        "type": "object",
        "properties": keys,
        "required": ["id", "on", "kind"],
        "additionalProperties": False,
    }
