"""House edits as text."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.language.format_house import YOUR_REASON, card_line, edit_text, is_reason, pasteable
from advisor.language.nodes import HouseEdit
from tests.language.texts import read

LINES = (
    "change allowance from 5 cm to 8 cm",
    'change torch light max from 150 PAR to 200 PAR for torch-1 because "so"',
    'change torch light best from 80 to 150 PAR to 90 to 160 PAR because "so" until 2027-06-01',
    "change torch weapon sweeper-tentacles at-most from 25 cm to 20 cm on 2026-01-02",
    "change torch flow pattern from random, pulsing to pulsing",
    'change torch taxon from "Examplea lampas" to "Examplea lampoides"',
    "change torch lives-on from light to food",
    'level x from advice to danger because "so"',
    'accept x for torch-1 at ledge, zoa-2 at "26, 13, 9 cm" short by 8 cm on 2026-11-02 because "so" '
    "until 2027-06-01",
    "accept x for torch-1 short by 3 steps",
    "accept x for torch-1 short by unknown on 2026-11-02",
    "switch off x",
)


def edit(text: str) -> HouseEdit:
    """One house edit."""
    (item,) = read(f"house\n  {text}\n").declarations
    assert isinstance(item, HouseEdit)
    return item


@pytest.mark.parametrize("text", LINES)
def test_a_line_is_printed_as_it_was_written(text: str) -> None:
    assert edit_text(edit(text)).replace("\x00", " ") == text


@pytest.mark.parametrize("text", LINES)
def test_a_line_to_paste_can_be_read_and_has_room_for_a_reason(text: str) -> None:
    line = pasteable(edit(text))
    assert "because" in line
    again = edit(line.replace(YOUR_REASON, "seen"))
    assert again.because == (edit(text).because or "seen")


@pytest.mark.parametrize(("key", "of", "text"), [
    ("light-max", "", "light max"), ("lives-on", "", "lives-on"), ("weapon", "filaments", "weapon"),
    ("weapon-at-most", "", "weapon at-most"), ("weapon-at-most", "filaments", "weapon filaments at-most"),
    ("growth-mature-width", "", "growth mature-width"), ("light-best-low", "", "light best-low"),
    ("contact-rule", "", "contact-rule"), ("contact-group", "", "contact group"),
])  # fmt: skip
def test_a_card_line_is_named_as_a_keeper_types_it(key: str, of: str, text: str) -> None:
    assert card_line(key, of) == text


@pytest.mark.parametrize(("text", "is_one"), [
    ("seen", True), ("7", True), ("ä", True), ("your reason is mine", True),
    ("-", False), ("…", False), ("", False), ("?! .", False), (YOUR_REASON, False), ("Your  reason", False),
])  # fmt: skip
def test_a_reason_says_something(text: str, is_one: bool) -> None:
    assert is_reason(text) is is_one


def test_a_place_to_be_filled_in_stands_without_quotes() -> None:
    made = replace(edit("accept x for torch-1 at ledge, zoa-2"), stood=("ledge", "…"))
    assert edit_text(made) == "accept x for torch-1 at ledge, zoa-2 at …"
