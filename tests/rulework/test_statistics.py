"""What the shipped knowledge rests on, counted with a shipped demonstration tank."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

from advisor.model.statistics import StatsAnswer
from advisor.rulework.statistics import WEIGHTS, rule_statistics

TANK = Path(__file__).resolve().parents[2] / "examples" / "first-shelf"


@cache
def stats() -> StatsAnswer:
    return rule_statistics((TANK,), on=date(2026, 11, 2))


def test_every_value_is_of_one_grade() -> None:
    assert sum(each.values for each in stats().grades) == stats().values
    assert sum(each.values for each in stats().lines) == stats().values
    assert all(each.numbers <= each.values for each in stats().grades)
    assert sum(each.rules for each in stats().grades) == stats().rules


def test_memory_is_what_a_guess_says() -> None:
    guesses = next(each for each in stats().grades if each.grade == "guess")
    assert sum(each.memory for each in stats().lines) == guesses.values


def test_names_of_animals_are_no_values() -> None:
    assert {"taxon", "genus"}.isdisjoint(each.line for each in stats().lines)


def test_every_rule_is_decided_by_an_example_or_looked_at() -> None:
    assert stats().never_decided == ()
    assert "shut-by-day-may-be-open-by-night" in stats().by_eye


def test_what_is_least_to_be_trusted_comes_first() -> None:
    values = stats().trust_least
    assert values
    assert [each.weight for each in values] == sorted((each.weight for each in values), reverse=True)
    by_name = {grade.value: weight for grade, weight in WEIGHTS.items()}
    assert all(each.weight == by_name[each.grade] * each.dangers for each in values)
    lines = [each.weight for each in stats().lines]
    assert lines == sorted(lines, reverse=True)


def test_values_stand_where_the_answer_says() -> None:
    rules = Path(__file__).resolve().parents[2] / "rules"
    for value in stats().trust_least:
        line = (rules / value.file).read_text(encoding="utf-8").splitlines()[value.line - 1]
        assert value.text.split()[0].split(",")[0] in line, value
