"""Covering and mutating the rule files as they lie in a folder."""

from __future__ import annotations

from pathlib import Path

import jsonschema
import pytest

from advisor import api
from advisor.errors import UnusableInput
from advisor.rulework.measuring import cover_rules, mutate_rules


def test_the_shipped_rules_are_covered_one_by_one_by_name() -> None:
    found = cover_rules(["not-too-bright", "only-a-little-dim"])
    assert [thing.name for thing in found.things] == ["not-too-bright", "only-a-little-dim"]
    assert found.total.seen == found.total.needed > 10


def test_both_answers_fit_the_published_schema() -> None:
    validator = jsonschema.Draft202012Validator(dict(api.schema("answer")))
    for answer in (cover_rules(["not-too-bright"]), mutate_rules(["not-too-bright"], most=2)):
        assert [error.message for error in validator.iter_errors(answer.model_dump(mode="json"))] == []


def test_a_shipped_rule_is_changed_and_its_examples_notice() -> None:
    heard: list[int] = []
    found = mutate_rules(["not-too-bright"], most=3, told=lambda done, of: heard.append(done))
    assert (found.tried, heard) == (3, [1, 2, 3])


@pytest.mark.parametrize("name", ["not-to-bright", "frobnicate"])
def test_a_name_nobody_knows_is_refused_with_the_nearest(name: str) -> None:
    for ask in (cover_rules, mutate_rules):
        with pytest.raises(UnusableInput) as raised:
            ask([name])
        (problem,) = raised.value.problems
        assert problem.code == "ask-404"
        assert problem.mend == "not-too-bright" or name == "frobnicate"


def test_shipped_outcomes_that_a_house_line_moves_are_no_faults(tmp_path: Path) -> None:
    own = tmp_path / "house.rules"
    own.write_text(
        'edition 1\n\nhouse\n  change room-allowance from 2 cm to 9 cm\n    because "mine swell"\n'
        'example "this house" for room-for-reach-and-growth\n  given c-1 is coral\n        c-2 is coral\n'
        "  then  c-1, c-2 holds\n",
        encoding="utf-8",
    )
    found = cover_rules(["room-for-reach-and-growth"], house=[own])
    assert found.failed == 1  # what the house itself expects and does not get stays a fault
    assert found.moved > 10
    assert found.moved_by == (own.as_posix(),)
    assert cover_rules(["room-for-reach-and-growth"]).moved == 0


def test_a_house_of_its_own_is_covered_too(tmp_path: Path) -> None:
    own = tmp_path / "house.rules"
    own.write_text(
        "edition 1\n\nrule calm-tank\n  for      tank\n  expect   tank-age(tank) >= 2 months\n"
        '  level    advice\n  because  "the tank is {tank-age(tank)} old"\n  matters  "it settles"\n'
        '  remedy   "wait"\n  source   "us" kind guess\n',
        encoding="utf-8",
    )
    (thing,) = cover_rules(["calm-tank"], house=[own]).things
    assert len(thing.gaps) == len([mark for mark in thing.marks if mark.lacking]) == 8


def test_a_file_stands_for_all_that_is_declared_in_it() -> None:
    told = {thing.name for thing in cover_rules(["trial.rules"]).things}
    assert "first-night-in-the-dark" in told
    assert "not-too-bright" not in told
    with pytest.raises(UnusableInput, match=r"nothing\.rules"):
        cover_rules(["nothing.rules"])
