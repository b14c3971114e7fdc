"""The trade's rules of thumb, each a shipped rule or a note in a rule file that says why it is none."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from advisor.language.library import Library

ROOT = Path(__file__).resolve().parents[2]
TABLE = Path(__file__).parent / "data" / "rules_of_thumb.csv"
COUNTS = {"light": 15, "flow": 12, "stings": 20, "chemistry": 7, "growth": 14, "process": 15}
"""How many there are of each topic."""

with TABLE.open(encoding="utf-8", newline="") as told:
    ROWS = tuple(csv.DictReader(told))


def name_of(row: dict[str, str]) -> str:
    """Return how a note calls a rule of thumb: ``stings 19``."""
    return f"{row['topic']} {row['number']}"


def notes_of(file: str) -> str:
    """Return the comments of a rule file as running text."""
    lines = (ROOT / "rules" / file).read_text(encoding="utf-8").splitlines()
    return " ".join(line.removeprefix("#").strip() for line in lines if line.startswith("#"))


def test_the_table_has_every_rule_of_thumb_once() -> None:
    found = {topic: [int(row["number"]) for row in ROWS if row["topic"] == topic] for topic in COUNTS}
    assert found == {topic: list(range(1, count + 1)) for topic, count in COUNTS.items()}
    assert len(ROWS) == sum(COUNTS.values()) == 83


@pytest.mark.parametrize("row", ROWS, ids=name_of)
def test_each_is_a_rule_or_a_note_says_why_not(row: dict[str, str], library: Library) -> None:
    shipped = {**library.rules, **library.prefers}
    names = row["shipped as"].split()
    assert [name for name in names if name not in shipped] == []
    assert names or row["where"]
    if row["where"]:
        assert re.search(rf"\({re.escape(name_of(row))}\)", notes_of(row["where"])), (
            f"rules/{row['where']} has no note that ends with ({name_of(row)})"
        )


@pytest.mark.parametrize(
    ("name", "spoken"),
    [
        ("not-too-bright", "proven-in-that-light"),
        ("enough-light", "temporary"),
        ("same-light-over-the-day", "light-max"),
        ("enough-light-on-a-side-wall", "read-at-the-face"),
        ("no-steady-stream-on-those-that-want-change", "flow"),
        ("cups-and-plates-rinse-themselves", "clears"),
        ("pumps-rest-while-it-is-fed", "pumps-rest"),
        ("loose-ones-in-calm-water", "size"),
        ("keep-clear-of-stingers", "may-touch"),
        ("keep-clear-of-stingers", "long-settled"),
        ("long-sweepers-stand-alone", "islet"),
        ("walkers-are-fenced", "fenced"),
        ("wanderers-settle-first", "fenced"),
        ("several-shut-after-a-cut", "water-is-off"),
        ("small-tank-one-side-or-the-other", "carbon-age"),
        ("not-under-a-growing-roof", "light-high"),
        ("mats-want-an-islet", "rock-to-itself"),
        ("caps-and-trees-stand-over-nobody", "kept-trimmed"),
        ("nothing-loose-on-a-ledge", "flow"),
        ("food-livers-in-the-shade", "feeds-every"),
        ("room-for-all-grown", "frag-tank"),
        ("swaying-ones-have-their-swing", "flow"),
        ("no-glue-in-the-first-week", "shelter"),
        ("one-move-at-a-time", "doing"),
    ],
)
def test_an_exception_of_the_trade_stands_under_unless(name: str, spoken: str, library: Library) -> None:
    from advisor.language.walk import names_used

    unless = library.rules[name].unless
    assert unless is not None
    assert spoken in names_used((unless,), {}) | names_used((unless,), library.defines)
