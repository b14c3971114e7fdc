"""Dangers that house lines turn are found by judging as shipped, and the lines by leaving each out."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.planning.bench import Sitting
from advisor.planning.house_turned import Turned, binding_at, lines_on_dangers, turned, without
from tests.planning.tanks import STANDING, coral, opened, spot
from tests.planning.test_accepts import CORALS, RULE, spots

APART = spot("here", 'at: "40, 30, 10 cm"') + spot("there", 'at: "70, 30, 10 cm"')
NEM = coral("nem-1", "bubble-tip", f"spot: here, {STANDING}") + coral(
    "candy-1", "candy cane", f"spot: there, {STANDING}"
)
REACH = 'change torch weapon reach from 12 cm to 4 cm because "a"'
MOST = 'change torch weapon at-most from 25 cm to 6 cm because "b"'


FAVIA = coral("favia-1", "favia", f"spot: here, {STANDING}") + coral(
    "candy-1", "candy cane", f"spot: there, {STANDING}"
)
STING = 'change any-sting from 1 to 5 because "x"'
"""No favia stings that hard (4 of 5), a torch does."""


def sitting(folder: Path, *lines: str, gap: str = "15 cm", who: str = CORALS) -> Sitting:
    """Return a tank with some house lines before the bench."""
    where = APART if who is NEM else spots(gap)
    house = "house\n" + "".join(f"  {line}\n" for line in lines)
    desk = opened(folder, spots=where, corals=who, house=house)._desk
    return desk.sit(desk.survey())


def of_stingers(found: tuple[Turned, ...]) -> list[Turned]:
    """Return those about stings."""
    return [each for each in found if each.rule == RULE]


@pytest.mark.parametrize(
    "line",
    [
        'change torch weapon from sweeper-tentacles to none because "x"',
        'change torch weapon from sweeper-tentacles to none for torch-1 because "x"',
        f'level {RULE} from danger to warning because "x"',
        f'switch off {RULE} because "x"',
    ],
)
def test_whatever_line_ends_a_danger_is_named(tmp_path: Path, line: str) -> None:
    (found,) = of_stingers(turned(sitting(tmp_path, line)))
    assert (found.subjects, found.fails, found.world) == (("torch-1", "candy-1"), True, 0)
    assert len(found.edits) == 1


def test_a_named_number_that_ends_a_danger_is_named(tmp_path: Path) -> None:
    (found,) = of_stingers(turned(sitting(tmp_path, STING, gap="3 cm", who=FAVIA)))
    assert (found.subjects, found.fails) == (("favia-1", "candy-1"), True)
    assert [edit.target for edit in found.edits] == ["any-sting"]


def test_a_line_behind_a_computed_gap_is_named(tmp_path: Path) -> None:
    line = 'change bubble-tip swells most from 2.5 times to 1 times because "x"'
    (found,) = of_stingers(turned(sitting(tmp_path, line, who=NEM)))
    assert found.subjects == ("nem-1", "candy-1")
    assert found.edits[0].key == "swells-most"


def test_of_several_lines_only_the_guilty_one_is_named(tmp_path: Path) -> None:
    (found,) = of_stingers(turned(sitting(tmp_path, REACH, MOST)))
    assert [edit.key for edit in found.edits] == ["weapon-at-most"]


def test_what_no_single_line_did_is_laid_to_all(tmp_path: Path) -> None:
    both = (f'switch off {RULE} because "x"', STING)
    (found,) = of_stingers(turned(sitting(tmp_path, *both, gap="3 cm", who=FAVIA)))
    assert len(found.edits) == 2


@pytest.mark.parametrize(
    ("line", "gap"),
    [
        ('change torch weapon at-most from 25 cm to 20 cm because "x"', "60 cm"),
        ('change torch weapon at-most from 25 cm to 40 cm because "stricter"', "15 cm"),
        ('change galaxea weapon from sweeper-tentacles to none because "not in this tank"', "15 cm"),
        ('change torch light max from 250 PAR to 300 PAR because "no sting"', "15 cm"),
    ],
)
def test_what_turns_nothing_is_not_named(tmp_path: Path, line: str, gap: str) -> None:
    assert of_stingers(turned(sitting(tmp_path, line, gap=gap))) == []


def test_an_open_danger_that_a_line_closes_is_named_as_open(tmp_path: Path) -> None:
    line = 'change torch weapon from sweeper-tentacles to none because "x"'
    (found,) = of_stingers(turned(sitting(tmp_path, line, gap="30.2 cm")))
    assert not found.fails


def test_lines_that_touch_a_danger_are_known_without_judging(tmp_path: Path) -> None:
    before = sitting(tmp_path, REACH, MOST, gap="9 cm")
    library = before.bench.library
    shipped = without(library, library.house)
    assert shipped.house == ()
    assert RULE in lines_on_dangers(library, shipped, {"torch-1": ("torch",)})
    assert lines_on_dangers(library, shipped, {"candy-1": ("candy-cane",)}) == {}
    (plane,) = before.judge([each for each in before.bench.rules if each.rule.name == RULE], ahead=False)
    assert {binding_at(plane, before, at)[1] for at in range(len(plane.now.bindings))} >= {
        ("torch-1", "candy-1")
    }
