"""House lines that accept a finding."""

from __future__ import annotations

import pytest

from advisor.errors import Severity
from advisor.language.house_accepts import accepted
from advisor.language.house_state import House
from advisor.language.nodes import Level
from tests.language.house_lines import edit, fresh
from tests.language.texts import checked, codes

WHOLE = (
    "accept keep-clear for torch-1 at ledge, zoa-2 at shelf short by 8 cm on 2026-11-02 "
    'because "a rod" until 2027-06-01'
)


def test_a_whole_accept_of_a_danger_is_kept() -> None:
    house = fresh()
    assert accepted(house, edit(WHOLE)) is not None
    assert house.problems == []


@pytest.mark.parametrize(
    ("left_out", "missing"),
    [
        (" at shelf", "where zoa-2 stood"),
        (" at ledge", "where torch-1 stood"),
        (" short by 8 cm", "how far short"),
        (" on 2026-11-02", "on which day"),
        (" until 2027-06-01", "until when"),
    ],
)
def test_an_accepted_danger_must_say_what_makes_it_lapse(left_out: str, missing: str) -> None:
    house = fresh()
    assert accepted(house, edit(WHOLE.replace(left_out, ""))) is None
    (problem,) = house.problems
    assert (problem.code, problem.severity) == ("house-510", Severity.ERROR)
    assert missing in problem.what
    assert problem.mend.startswith("accept keep-clear for torch-1")
    assert [aside.kind.value for aside in house.aside] == ["bare"]


def test_a_place_that_is_not_said_has_its_gap_in_the_suggestion() -> None:
    house = fresh()
    accepted(house, edit(WHOLE.replace(" at shelf", "")))
    (problem,) = house.problems
    assert "for torch-1 at ledge, zoa-2 at …" in " ".join(problem.mend.split())
    assert "it would not lapse when one of them is moved" in problem.label


def test_a_place_of_mere_signs_is_none() -> None:
    house = fresh()
    assert accepted(house, edit(WHOLE.replace("at shelf", 'at "-"'))) is None
    assert "where zoa-2 stood" in house.problems[0].what


def test_of_something_lesser_it_is_noted_and_counts() -> None:
    house = fresh()
    assert accepted(house, edit("accept light-enough for torch-1")) is not None
    (problem,) = house.problems
    assert (problem.code, problem.severity) == ("house-511", Severity.NOTE)
    assert "does not lapse when one of them is moved, when it gets worse or with time" in problem.what


def test_a_rule_the_house_makes_a_danger_is_one_here_too() -> None:
    house = House.of(fresh().before, {"light-enough": Level.DANGER})
    assert accepted(house, edit('accept light-enough for torch-1 because "x"')) is None
    assert codes(tuple(house.problems)) == ["house-510"]


def test_a_place_that_is_accepted_stands_nowhere_else() -> None:
    library, problems = checked(
        'rule lit\n  for place p\n  expect light(p) >= 20 PAR\n  level danger\n  because "{p}"\n'
        '  source "x" kind guess\n',
        'house\n  accept lit for ledge short by 5 PAR on 2026-11-02 because "x" until 2027-06-01\n',
    )
    assert problems == ()
    assert [edit.entities for edit in library.house] == [("ledge",)]


def test_each_direction_of_a_pair_is_accepted_by_itself() -> None:
    back = WHOLE.replace(
        "torch-1 at ledge, zoa-2 at shelf short by 8 cm", "zoa-2 at shelf, torch-1 at ledge short by 2 cm"
    )
    library, problems = checked(f"house\n  {WHOLE}\n  {back}\n")
    assert problems == ()
    assert sorted(edit.entities for edit in library.house) == [("torch-1", "zoa-2"), ("zoa-2", "torch-1")]


def test_every_fault_of_an_accept_is_told_at_once() -> None:
    house = fresh()
    accepted(house, edit(WHOLE.replace("8 cm", "8 PAR").replace(" until 2027-06-01", "")))
    assert sorted(codes(tuple(house.problems))) == ["house-510", "house-514"]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ('accept mind-your-hands for torch-1 because "x" until 2027-06-01', "house-506"),
        ("accept keep-clear for torch-1, zoa-2", "house-504"),
        ('accept keep-clear for torch-1 because "x"', "house-507"),
        ('accept keep-clear for torch-1, torch-1 because "x"', "house-507"),
        ("accept keep-far for a, b", "house-502"),
        (WHOLE.replace("8 cm", "8"), "house-514"),
    ],
)
def test_an_accept_that_may_not_be_is_refused(line: str, code: str) -> None:
    house = fresh()
    assert accepted(house, edit(line)) is None
    assert codes(tuple(house.problems)) == [code]
