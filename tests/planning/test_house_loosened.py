"""A danger that the house loosened is told in every answer it concerns, and in no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.api import Session
from advisor.model.results import Verdict
from advisor.planning.house_loosened import Question, loosened
from tests.planning.tanks import STANDING, WATER, coral, opened
from tests.planning.test_accepts import CORALS, RULE, WHY, accepting, spots

NONE = 'change torch weapon from sweeper-tentacles to none because "mine has none" until 2026-11-12'
OFF = f'switch off {RULE} because "a rod stands between"'


def ruled(folder: Path, line: str, gap: str = "15 cm") -> Session:
    """Return the tank of two with one house line."""
    return opened(folder, spots=spots(gap), corals=CORALS, house=f"house\n  {line}\n")


@pytest.mark.parametrize("line", [NONE, OFF])
def test_every_answer_about_the_animal_tells_it_with_the_line(tmp_path: Path, line: str) -> None:
    session = ruled(tmp_path, line)
    for answer in (session.why("torch-1"), session.why("candy-1"), session.audit(months=0)):
        (found,) = [each for each in answer.loosened if each.rule == RULE]
        assert found.subjects == ("torch-1", "candy-1")
        assert found.shipped is Verdict.FAILS
        assert len(found.lines) == 1
    (thought,) = session.why("torch-1", "near").loosened
    assert thought.places == ("near",)
    (asked,) = session.where("torch-1").loosened
    assert asked.places == ("near",)
    assert session.why("torch-1", "far").loosened == () or line == OFF


def test_the_line_is_told_with_its_reason_and_its_days(tmp_path: Path) -> None:
    (found,) = ruled(tmp_path, NONE).why("torch-1").loosened
    assert found.lines == (
        "your house file changed torch weapon from sweeper-tentacles to none "
        "(until 12 Nov 2026, 10 days left): mine has none",
    )


def test_a_danger_that_is_off_is_told_also_where_it_would_say_nothing(tmp_path: Path) -> None:
    answer = ruled(tmp_path, OFF, "60 cm").why("torch-1")
    (found,) = answer.loosened
    assert (found.rule, found.shipped, found.subjects) == (RULE, None, ())
    assert not any(RULE in note for note in answer.notes)


def test_an_accepted_danger_is_told_as_accepted(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=accepting())
    (found,) = session.why("torch-1").loosened
    assert found.accepted
    assert "you accepted this at 15 cm short" in found.lines[0]
    assert session.why("torch-1", "near").loosened == ()


def test_an_accept_is_told_with_the_reason_of_its_own_direction(tmp_path: Path) -> None:
    other = accepting("candy-1 at there, torch-1 at here", short="1 cm").replace(WHY, "candy has no weapon")
    house = accepting() + other.removeprefix("house\n")
    (found,) = opened(tmp_path, spots=spots("15 cm"), corals=CORALS, house=house).why("torch-1").loosened
    assert found.subjects == ("torch-1", "candy-1")
    (line,) = found.lines
    assert line.endswith(WHY)


def test_a_danger_of_the_whole_tank_is_told_to_everybody(tmp_path: Path) -> None:
    water = WATER.replace("ammonia: 0 mg/L", "ammonia: 0.5 mg/L")
    house = 'house\n  switch off no-ammonia because "the kit reads high"\n'
    bag = coral("bag-1", "torch", "size: 5 cm")
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS + bag, water=water, house=house)
    for answer in (session.why("torch-1"), session.where("bag-1"), session.audit(months=0)):
        (found,) = answer.loosened
        assert (found.rule, found.shipped) == ("no-ammonia", Verdict.FAILS)


def test_another_animal_hears_nothing_of_it(tmp_path: Path) -> None:
    more = coral("far-1", "candy cane", f"spot: far, {STANDING}")
    session = opened(tmp_path, spots=spots("15 cm"), corals=CORALS + more, house=f"house\n  {NONE}\n")
    assert [each.subjects for each in session.why("candy-1").loosened] == [("torch-1", "candy-1")]
    assert ("torch-1", "candy-1") not in [each.subjects for each in session.why("far-1").loosened]


def test_without_house_lines_nothing_is_loosened(tmp_path: Path) -> None:
    desk = opened(tmp_path, spots=spots("15 cm"), corals=CORALS)._desk
    assert loosened(desk, desk.sit(desk.survey()), Question({0: ""})) == ()


def test_a_question_is_about_its_worlds_its_animal_and_what_is_nobodys() -> None:
    asked, animals = Question({1: "near"}, "a"), frozenset({"a", "b"})
    assert asked.about((1, ("a", "b")), animals)
    assert not asked.about((0, ("a", "b")), animals)
    assert not asked.about((1, ("b",)), animals)
    assert asked.about((0, ("the tank",)), animals)
    assert Question({0: ""}).about((0, ("b",)), animals)
