"""The published schema of tank.yaml."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.changes import add_coral, add_reading, move
from advisor.tankfiles.schema import tank_schema
from advisor.tankfiles.schema_events import event_schema
from advisor.tankfiles.starter import new_tank
from tests.tankfiles.conftest import ROOT, Folder
from tests.tankfiles.test_animals import EVERYTHING as ANIMALS
from tests.tankfiles.test_spots import EVERYTHING as SPOTS

Make = Callable[[str], Folder]
EXAMPLES = sorted((ROOT / "examples").glob("*/tank.yaml"))


def plain(value: object) -> object:
    """YAML data as JSON would hold it."""
    if isinstance(value, dict):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [plain(v) for v in value]
    return value.isoformat() if isinstance(value, date) else value


def faults(text: str, vocabulary: Vocabulary) -> list[str]:
    data = plain(YAML(typ="safe", pure=True).load(text))
    return [
        f"{list(e.absolute_path)}: {e.message}"
        for e in Draft202012Validator(tank_schema(vocabulary)).iter_errors(data)
    ]


def test_the_schema_is_one(vocabulary: Vocabulary) -> None:
    Draft202012Validator.check_schema(tank_schema(vocabulary))


def test_there_are_examples_to_check() -> None:
    assert len(EXAMPLES) >= 2


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.parent.name)
def test_the_examples_fit(file: Path, vocabulary: Vocabulary) -> None:
    assert faults(file.read_text(encoding="utf-8"), vocabulary) == []


@pytest.mark.parametrize("text", [ANIMALS, SPOTS])
def test_what_reading_accepts_fits(text: str, vocabulary: Vocabulary) -> None:
    assert faults(text, vocabulary) == []


@pytest.mark.parametrize(
    "text",
    [
        "lamsp: 3\n",
        "spots:\n  - {id: a, lihgt: 3 PAR}\n",
        "spots:\n  - {id: A B}\n",
        "corals:\n  - {id: a, phase: lost}\n",
        "glass: {lenght: 3 cm}\n",
        "readings: {spot: a}\n",
    ],
)
def test_what_reading_refuses_does_not_fit(tank_of: Make, text: str, vocabulary: Vocabulary) -> None:
    assert faults(text, vocabulary)
    assert tank_of(text).problems


def test_keys_of_several_words_fit_in_every_spelling(vocabulary: Vocabulary) -> None:
    for key in ("hand reach", "hand-reach", "hand_reach"):
        assert faults(f"spots:\n  - {{id: a, {key}: easy}}\n", vocabulary) == []


def test_what_the_program_writes_fits(tmp_path: Path, vocabulary: Vocabulary) -> None:
    file = new_tank(tmp_path / "t", vocabulary, {"glass": "60 x 40 x 40 cm"}, "torch, 8 cm, 110 PAR\n")
    day = date(2026, 11, 2)
    add_coral(file.parent, vocabulary, "duncan", on=day, told={"size": "5 cm"})
    add_reading(file.parent, vocabulary, ("left-low",), "light", "118 ±12 PAR", on=day, how="meter")
    move(file.parent, vocabulary, "torch-1", "left-low", on=day)
    assert faults(file.read_text(encoding="utf-8"), vocabulary) == []
    validator = Draft202012Validator(event_schema())
    lines = (file.parent / "journal.jsonl").read_text(encoding="utf-8").splitlines()
    assert len(lines) == 3
    assert [e.message for line in lines for e in validator.iter_errors(json.loads(line))] == []
