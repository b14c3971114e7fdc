"""House lines that repeat or contradict each other."""

from __future__ import annotations

import itertools

import pytest

from advisor.language.house_agree import agreed, lets_pass, text_of
from advisor.language.house_state import Meant
from tests.language.house_lines import edits, fresh
from tests.language.texts import codes


def meant(*lines: str) -> list[Meant]:
    """What lines about one thing come to; what they say is their new number."""
    return [
        Meant(line, (("let", line.target),), (line.new and line.new.value,), lambda house: None)
        for line in edits(*lines)
    ]


JAN = "change low-light from 50 PAR to 60 PAR on 2027-01-01 until 2027-01-31"
MID = "change low-light from 50 PAR to 65 PAR on 2027-01-31 until 2027-02-15"
FEB = "change low-light from 50 PAR to 70 PAR on 2027-02-01 until 2027-02-28"
EVER = "change low-light from 50 PAR to 80 PAR"


@pytest.mark.parametrize(
    ("lines", "kept", "told"),
    [
        ((JAN, FEB), [60.0, 70.0], 0),
        ((JAN, JAN.replace("60 PAR", "61 PAR")), [], 1),
        ((JAN, MID), [], 1),
        ((JAN, MID, FEB), [], 1),
        ((JAN, FEB, EVER), [], 1),
        ((JAN, JAN.replace("50 PAR", "50  PAR")), [60.0], 0),
        ((JAN, JAN.replace("01-31", "01-30")), [], 1),
        ((EVER, EVER + " on 2027-01-01"), [], 1),
    ],
)
def test_lines_contradict_each_other_only_where_both_count_on_a_day(
    lines: tuple[str, ...], kept: list[float], told: int
) -> None:
    for order in itertools.permutations(lines):
        house = fresh()
        found = agreed(house, meant(*order))
        assert sorted(item.edit.new.value for item in found if item.edit.new) == kept
        assert codes(tuple(house.problems)) == ["house-503"] * told


def test_the_message_names_every_line_and_how_both_may_stay() -> None:
    house = fresh()
    agreed(house, meant(JAN, MID, FEB))
    (problem,) = house.problems
    assert problem.what == "'low-light' is changed in 3 ways"
    assert [related.span.line for related in problem.related] == [4, 5]
    assert "days that do not meet" in problem.mend


def test_the_order_of_lines_is_what_they_say() -> None:
    one, other = edits(EVER, JAN)
    assert text_of(one) != text_of(other)
    assert text_of(one) == text_of(edits(JAN, EVER)[1])


@pytest.mark.parametrize(
    ("line", "passes"),
    [
        ("switch off x", True),
        ("accept x for a", True),
        ("level x from danger to advice", True),
        ("level x from advice to warning", False),
        ("change x from 3 cm to 4 cm", False),
        ("change torch light max from 3 PAR to 4 PAR", False),
    ],
)
def test_a_line_that_can_only_let_something_pass_is_known(line: str, passes: bool) -> None:
    assert lets_pass(edits(line)[0]) is passes
