"""Published tables beside the shipped cards: reading both, and the contradictions we know of."""

from __future__ import annotations

import csv
from datetime import date
from functools import cache
from pathlib import Path

from advisor.errors import Severity
from advisor.knowledge.load import load_library, read_rules, shipped_rules
from advisor.knowledge.names import choose_cards
from advisor.language.nodes import Card, Let
from advisor.language.parse import parse_file
from advisor.model.tank import Animal, Phase, Tank
from advisor.reasoning.bindings import population_of
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.judge import HOLDS, judge
from advisor.reasoning.survey import make_survey

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


@cache
def numbers_of_rules() -> dict[str, Let]:
    """Return every named number of the shipped rules."""
    texts, problems = read_rules(shipped_rules())
    assert problems == ()
    parsed = (declaration for name, text in texts for declaration in parse_file(name, text)[0].declarations)
    return {let.name: let for let in parsed if isinstance(let, Let)}


def genus_of(card: str) -> str:
    """Return the genus a card names."""
    return next(word for value in cards()[card].values if value.key == "genus" for word in value.words)


@cache
def pairs_that_can_hurt() -> set[tuple[str, str]]:
    """Return every ordered pair of cards of the contests for which the shipped rules say `can-hurt`."""
    asked = (
        "edition 1\n\nrule asked\n  for animal a, neighbour b of a\n  expect can-hurt(a, b)\n  level advice\n"
    )
    asked += (
        '  because "{a}"\n  matters "asked of every pair"\n  remedy "none"\n  source "contests" kind study\n'
    )
    library, problems = load_library(None, [("asked.rules", asked)])
    assert [problem for problem in problems if problem.severity is Severity.ERROR] == []
    names = sorted({row[side] for row in table("competition") for side in ("winner_card", "loser_card")})
    animals = tuple(Animal(id=name, taxon=name, phase=Phase.PLACED) for name in names)
    tank = Tank(id="contests", name="contests", animals=animals)
    survey = make_survey(tank, library, date(2026, 1, 1), cards=choose_cards(animals, library))
    plane = judge(
        compile_rule(library.rules["asked"], library), survey, population_of(survey), everywhere=True
    )
    ids = [row.id for row in survey.animals]
    judged = zip(plane.bindings.rows["a"], plane.bindings.rows["b"], plane.verdict, strict=True)
    return {(ids[a], ids[b]) for a, b, verdict in judged if verdict == HOLDS}
