"""Published tables beside the shipped cards: reading both, and the contradictions we know of."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

from advisor.knowledge.load import read_rules, shipped_rules
from advisor.language.nodes import Card
from advisor.language.parse import parse_file

DATA = Path(__file__).resolve().parent / "data"
Row = dict[str, str]


def table(name: str) -> list[Row]:
    """Return the rows of one table of `data`."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as opened:
        return list(csv.DictReader(opened))


def known(check: str) -> dict[tuple[str, str], str]:
    """Return the contradictions a check is allowed, by the two cards, with their reasons."""
    return {
        (row["stronger"], row["weaker"]): row["reason"]
        for row in table("contradictions")
        if row["check"] == check
    }


@cache
def cards() -> dict[str, Card]:
    """Return every shipped card by its name."""
    texts, problems = read_rules(shipped_rules() / "corals")
    assert problems == ()
    parsed = (declaration for name, text in texts for declaration in parse_file(name, text)[0].declarations)
    return {card.name: card for card in parsed if isinstance(card, Card)}


def numbers(card: str, key: str) -> list[float]:
    """Return every number a card gives for `key`, disagreements included, in base units."""
    found = [value.number for value in cards()[card].values if value.key == key and value.number is not None]
    assert found, f"card {card} says nothing of {key}"
    return found


def most(card: str, key: str) -> float:
    """Return the largest number a card gives for `key`."""
    return max(numbers(card, key))


def least(card: str, key: str) -> float:
    """Return the smallest number a card gives for `key`."""
    return min(numbers(card, key))


def first(card: str, key: str) -> float:
    """Return the number on the first line of a card about `key`."""
    return numbers(card, key)[0]


def words(card: str, key: str) -> set[str]:
    """Return every word a card gives for `key`."""
    return {
        word
        for value in cards()[card].values
        if value.key == key
        for word in (*value.words, *((value.word,) if value.word else ()))
    }
