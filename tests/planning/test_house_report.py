"""House lines that come to nothing in a tank are told in every answer about it."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import Severity
from advisor.planning.house_report import (
    Unmatched,
    accepted_here,
    house_lines_here,
    lapsed_by_moves,
    switched_off,
    unmatched,
)
from tests.language.house_lines import edit
from tests.planning.tanks import WATER, coral, opened
from tests.planning.test_accepts import CORALS, spots


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('change torch light max from 250 PAR to 240 PAR for torch-9 because "x"', "torch-9"),
        ('switch off long-sweepers-stand-alone because "one colony"', "long-sweepers-stand-alone"),
    ],
)
def test_a_line_for_nobody_and_a_rule_that_is_off_are_told(tmp_path: Path, line: str, told: str) -> None:
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, house=f"house\n  {line}\n")
    assert any(told in note for note in session.audit(months=0).notes)
    assert any(told in note for note in session.why("torch-1").notes)


def test_without_house_lines_nothing_is_said(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS)
    assert [note for note in session.audit(months=0).notes if "house" in note] == []


@pytest.mark.parametrize(
    ("line", "told"),
    [
        (
            "change torch light max from 250 PAR to 240 PAR for candy-1",
            "candy-1 is read from card",
        ),
        ("accept enough-light for torch-9 short by 3 PAR on 2026-11-02", "this tank has no torch-9"),
        ("accept enough-light for bag-1 short by 3 PAR on 2026-11-02", "bag-1 stands nowhere yet"),
        ("accept enough-light for torch-1 short by 3 PAR on 2026-11-02", "nothing is wrong there"),
        ("switch off enough-light\n  accept enough-light for torch-1", "that rule is switched off"),
        ("accept enough-light for torch-1 until 2026-01-01", "ran out on 1 Jan 2026"),
        ("switch off enough-light until 2026-01-01", "switches off enough-light ran out on 1 Jan 2026"),
        ("change low-and-behold from 1 cm to 2 cm until 2026-01-01", "ran out on 1 Jan 2026"),
        ("accept enough-light for torch-1 on 2026-11-03", "counts from 3 Nov 2026 on"),
    ],
)
def test_why_a_line_comes_to_nothing_is_told_in_every_answer(tmp_path: Path, line: str, told: str) -> None:
    own = 'let low-and-behold = 1 cm because "a number of this test"\n'
    bag = coral("bag-1", "torch", "size: 5 cm")
    house = own + "house\n  " + line + ' because "x"\n'
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS + bag, house=house)
    for answer in (session.audit(months=0), session.why("torch-1"), session.where("bag-1")):
        assert any(told in note for note in answer.notes), answer.notes
    (problem,) = session.idle_house_lines()
    assert (problem.code, problem.severity) == ("house-513", Severity.WARNING)
    assert told in problem.what
    assert problem.span is not None
    assert problem.span.file.endswith("house.rules")


def test_an_accept_of_the_tank_itself_is_listed_though_its_rule_is_a_gate(tmp_path: Path) -> None:
    water = WATER.replace("ammonia: 0 mg/L", "ammonia: 0.5 mg/L")
    bare = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, water=water).audit(months=0, level=2)
    (gate,) = [reason for reason in bare.gates if reason.rule == "no-ammonia"]
    other = tmp_path / "other"
    other.mkdir()
    line = 'accept no-ammonia short by 0.4 mg/L on 2026-11-01 because "the kit reads high" until 2026-11-09'
    desk = opened(other, spots=spots("60 cm"), corals=CORALS, water=water, house=f"house\n  {line}\n")._desk
    sitting = desk.sit(desk.survey())
    assert gate.subjects == ("the tank",)
    assert [reason.rule for reason in accepted_here(desk, sitting, level=1)] == ["no-ammonia"]
    assert unmatched(desk, sitting) == ()
    assert house_lines_here(desk, sitting) == ()
    assert switched_off(desk.library) == ()


def test_a_rule_that_is_off_is_told_with_reason_and_days(tmp_path: Path) -> None:
    line = 'switch off enough-light because "new lamps" until 2026-11-12'
    desk = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, house=f"house\n  {line}\n")._desk
    assert switched_off(desk.library) == (
        "switched off by your house file: enough-light (until 12 Nov 2026, 10 days left): new lamps",
    )


def test_a_line_with_an_error_that_is_left_out_is_told_in_every_answer(tmp_path: Path) -> None:
    house = 'house\n  switch off enough-lite because "x"\n'
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, house=house)
    told = "your line that switches off enough-lite does not count: there is no rule 'enough-lite'"
    assert told in session.why("torch-1").notes
    assert [problem.code for problem in session.problems] == ["house-502"]
    assert session.idle_house_lines() == ()


def test_only_what_a_move_ended_is_told_to_who_moves(tmp_path: Path) -> None:
    line = 'accept enough-light for torch-1 at elsewhere short by 3 PAR on 2026-11-01 because "as I like it"'
    house = f"house\n  {line} until 2027-01-01\n"
    desk = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, house=house)._desk
    (told,) = lapsed_by_moves(desk.library, "torch-1")
    assert "stands here now, not elsewhere" in told
    assert lapsed_by_moves(desk.library, "candy-1") == ()


def test_a_line_names_itself(tmp_path: Path) -> None:
    found = Unmatched(edit("accept enough-light for a, b"), "matches nothing")
    assert found.text == "your accept of enough-light for a and b matches nothing"
    assert Unmatched(edit("change x from 1 cm to 2 cm"), "is odd").text == (
        "your change of x from 1 cm to 2 cm is odd"
    )
    assert Unmatched(edit("switch off x"), "ran out").text == "your line that switches off x ran out"
    assert Unmatched(edit("level x from danger to advice"), "ran out").text == (
        "your change of the level of x from danger to advice ran out"
    )
