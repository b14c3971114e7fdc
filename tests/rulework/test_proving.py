"""The examples: shipped ones as shipped, a house's own with the house, and what a house moves."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.knowledge.load import shipped_rules
from advisor.language.nodes import HouseEdit, HouseVerb
from advisor.rulework.proving import _touches, run_examples
from advisor.session.opening import library_in_force

OWN = """edition 1

rule calm-tank
  for      tank
  expect   tank-age(tank) >= 2 months
  level    advice
  because  "the tank is {tank-age(tank)} old"
  matters  "it settles"
  remedy   "wait"
  source   "us" kind guess

example "young" for calm-tank
  given tank-age(tank) = 1 months
  then  tank fails by 1 months

example "wrong on purpose" for calm-tank
  given tank-age(tank) = 3 months
  then  tank fails
"""
HOUSE = """edition 1

house
  change near-kin-gap from 3 cm to 6 cm because "they swell" until 2099-01-01
  change dim-end-feeding from 7 days to 3 days because "they are thin"
"""


def written(folder: Path, text: str, name: str = "house.rules") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_every_shipped_example_comes_out_as_it_says() -> None:
    found = run_examples()
    assert len(found.examples) > 400
    assert [result.title for result in found.examples if not result.ok] == []
    assert found.moved == ()


def test_only_what_is_asked_for_is_run() -> None:
    by_rule = run_examples(only=["not-too-bright"]).examples
    assert {result.rule for result in by_rule} == {"not-too-bright"}
    by_title = run_examples(only=["far too BRIGHT"]).examples
    assert by_title
    assert all("far too bright" in result.title for result in by_title)
    by_file = run_examples([shipped_rules() / "fish.rules"]).examples
    assert {result.file for result in by_file} == {"fish.rules"}
    assert run_examples([Path("fish.rules")]).examples == by_file


def test_examples_nobody_has_are_refused() -> None:
    with pytest.raises(UnusableInput) as raised:
        run_examples(only=["not-too-brigth"])
    (problem,) = raised.value.problems
    assert (problem.code, problem.mend) == ("ask-404", "not-too-bright")


def test_an_example_for_no_rule_and_one_that_names_nothing_are_errors(tmp_path: Path) -> None:
    for text in (
        'example "t" for nothing-like-it\n  given x is coral\n  then  x holds\n',
        'example "t" for not-too-bright\n',
        'example "t" for not-too-bright\n  given x is coral\n  then  y holds\n',
    ):
        with pytest.raises(UnusableInput):
            run_examples([written(tmp_path, f"edition 1\n\n{text}")])


def test_the_examples_of_a_house_are_run_with_it_and_the_shipped_ones_without(tmp_path: Path) -> None:
    own = written(tmp_path, OWN + HOUSE.removeprefix("edition 1\n"))
    found = run_examples(own=[own])
    mine = [result for result in found.examples if result.file == own.as_posix()]
    assert [(result.title, result.ok, result.got) for result in mine] == [
        ("young", True, "fails by 1 months"),
        ("wrong on purpose", False, "holds"),
    ]
    assert mine[0].reason is None
    assert mine[1].reason is not None
    assert all(result.ok for result in found.examples if result not in mine)
    assert found.moved == ()
    assert run_examples([own]).examples == tuple(mine)


def test_a_house_that_is_given_shows_what_it_moves_and_by_which_line(tmp_path: Path) -> None:
    house = written(tmp_path, HOUSE)
    found = run_examples(house=[house])
    assert all(result.ok for result in found.examples)
    moved = {(each.rule, each.title): each for each in found.moved}
    assert {each.rule for each in found.moved} >= {"near-kin-do-not-touch", "dim-end-wants-food"}
    near = moved["near-kin-do-not-touch", "a step each side of the limit"]
    assert near.shipped.startswith(("holds", "fails"))
    assert near.here != near.shipped
    assert (near.because_file, near.because_line) == (house.as_posix(), 4)
    assert "change near-kin-gap from 3 cm to 6 cm" in near.because


@pytest.mark.parametrize(
    ("let", "rule", "touched"),
    [
        ("near-kin-gap", "near-kin-do-not-touch", True),
        ("vouch-after", "not-too-bright", True),  # the light of a place is vouched for by who does well there
        ("vouch-after", "near-kin-do-not-touch", False),
    ],
)
def test_a_house_line_touches_what_rests_on_its_number_also_behind_what_is_worked_out(
    let: str, rule: str, touched: bool
) -> None:
    library, _ = library_in_force(None, ())
    edit = HouseEdit(library.lets[let].span, HouseVerb.CHANGE_LET, let)
    assert _touches(edit, rule, library, library) is touched


def test_a_rule_that_is_switched_off_is_not_asked_any_more(tmp_path: Path) -> None:
    house = written(tmp_path, 'edition 1\n\nhouse\n  switch off one-move-at-a-time because "we watch"\n')
    moved = run_examples(only=["one-move-at-a-time"], house=[house]).moved
    assert moved
    assert {each.here for each in moved} == {"not asked any more"}
    assert all("switch off one-move-at-a-time" in each.because for each in moved)


def test_broken_files_run_nothing(tmp_path: Path) -> None:
    written(tmp_path, "rule x\n  for corl c\n", "one.rules")
    with pytest.raises(UnusableInput):
        run_examples(rules=tmp_path)


def test_several_rules_can_be_asked_for_at_once() -> None:
    both = run_examples(only=["not-too-bright", "one-move-at-a-time"]).examples
    assert {each.rule for each in both} == {"not-too-bright", "one-move-at-a-time"}
    with pytest.raises(UnusableInput, match="not-too-brigth"):
        run_examples(only=["not-too-bright", "not-too-brigth"])
