"""DEVELOPERS.md tells the truth about layers and error codes."""

from __future__ import annotations

import re
from pathlib import Path

from tests.test_layers import HEIGHT

ROOT = Path(__file__).resolve().parent.parent
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
CODE = re.compile(r'"([a-z]+)-\d{3}"')


def families() -> set[str]:
    """Return the first word of every error code the package can print."""
    sources = (ROOT / "advisor").rglob("*.py")
    return {word for file in sources for word in CODE.findall(file.read_text(encoding="utf-8"))}


def section(title: str) -> str:
    """Return the text under one heading of the file."""
    return re.split(r"^## ", TEXT.split(f"\n## {title}\n", 1)[1], flags=re.MULTILINE)[0]


def test_every_family_of_codes_is_explained_and_none_is_made_up() -> None:
    told = set(re.findall(r"`([a-z]+)-…`", section("Error codes")))
    assert told == families()


def test_every_layer_stands_in_the_map() -> None:
    rows = [line for line in section("Layers").splitlines() if line.startswith("| `")]
    named = {name for row in rows for name in re.findall(r"`(\w+)`", row.split("|")[1])}
    assert named == set(HEIGHT) - {"__main__", "__init__"}


def test_rules_cards_and_reports_are_added_in_five_steps_at_most() -> None:
    for what in ("Add a rule", "Add a card", "Add a report"):
        steps = re.findall(r"^\d+\. ", section(what), re.MULTILINE)
        assert 3 <= len(steps) <= 5, what


def test_changes_begin_with_what_advice_changed() -> None:
    entries = re.split(r"^### ", section("Changes"), flags=re.MULTILINE)[1:]
    assert entries
    for entry in entries:
        assert entry.split("\n\n", 2)[1].startswith("Advice changed"), entry
