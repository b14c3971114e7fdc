"""The published schema of the journal."""

from __future__ import annotations

import json

from jsonschema import Draft202012Validator

from advisor.tankfiles.journal import EVENT_KEYS
from advisor.tankfiles.schema_events import event_schema
from tests.tankfiles.conftest import ROOT


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(event_schema())


def test_the_journals_of_the_examples_fit() -> None:
    validator = Draft202012Validator(event_schema())
    lines = [line for file in (ROOT / "examples").glob("*/journal.jsonl")
             for line in file.read_text(encoding="utf-8").splitlines() if line.strip()]  # fmt: skip
    assert lines
    assert [e.message for line in lines for e in validator.iter_errors(json.loads(line))] == []


def test_the_event_schema_has_the_keys_that_are_read() -> None:
    keys = event_schema()["properties"]
    assert isinstance(keys, dict)
    assert set(keys) == set(EVENT_KEYS)
