"""A number typed into a command without its unit is asked for."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.errors import UnusableInput
from advisor.model.tank import Event, EventKind
from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.changes import add_coral, add_reading, add_spot
from advisor.tankfiles.pasted import parse_coral_line
from advisor.tankfiles.unitless import (
    is_bare,
    require_unit_of_place,
    require_units,
    require_units_in_line,
    with_unit_of,
    word_of,
)
from tests.tankfiles.conftest import Folder

DAY = date(2026, 11, 2)
TANK = """glass: 100 x 50 x 50 cm
spots:
  - {id: ledge, light: 118, gaps: {torch-1: 20}}
  - {id: shelf}
corals:
  - {id: torch-1, is: torch, size: 8}
"""
Make = Callable[[str], Folder]


def mend_of(act: Callable[[], object]) -> str:
    """What is to be typed instead."""
    with pytest.raises(UnusableInput) as caught:
        act()
    (problem,) = caught.value.problems
    assert problem.code == "edit-193"
    assert "has no unit" in problem.what
    return problem.mend


@pytest.mark.parametrize(
    ("subjects", "measure", "value", "mend"),
    [
        ("ledge", "light", "126", 'advisor tank add reading ledge light "126 PAR"'),
        ("ledge", "light", "126 ±10", 'advisor tank add reading ledge light "126 ±10 PAR"'),
        ("ledge", "light", "126 ±10 %", 'advisor tank add reading ledge light "126 PAR ±10 %"'),
        ("ledge", "light", "100-140", 'advisor tank add reading ledge light "100-140 PAR"'),
        ("ledge", "flow", "at least 12", 'advisor tank add reading ledge flow "at least 12 cm/s"'),
        ("ledge,shelf", "gap", "12", 'advisor tank add reading ledge,shelf gap "12 cm"'),
        ("torch-1", "size", "1 1/2", 'advisor tank add reading torch-1 size "1 1/2 inch"'),
        ("torch-1", "size", "9", 'advisor tank add reading torch-1 size "9 cm"'),
        ("tank", "alk", "8.4", 'advisor tank add reading tank alkalinity "8.4 dKH"'),
    ],
)  # fmt: skip
def test_a_reading_without_a_unit_is_refused_with_the_line_to_type(
    tank_of: Make, subjects: str, measure: str, value: str, mend: str
) -> None:
    folder = tank_of(TANK)
    ids = subjects.split(",")
    assert mend_of(lambda: add_reading(folder.path, folder.vocabulary, ids, measure, value, on=DAY)) == mend
    assert folder.text() == TANK
    assert not (folder.path / "journal.jsonl").exists()


def test_a_coral_and_a_spot_too(tank_of: Make) -> None:
    folder = tank_of(TANK)

    def coral(**told: str) -> object:
        facts = {key.replace("_", "-"): text for key, text in told.items()}
        return add_coral(folder.path, folder.vocabulary, "duncan", on=DAY, told=facts)

    assert mend_of(lambda: coral(size="5")) == '--size "5 cm"'
    assert mend_of(lambda: coral(origin_light="110")) == '--light "110 PAR"'
    spot = {"flow": "9"}
    mend = mend_of(lambda: add_spot(folder.path, folder.vocabulary, "top", on=DAY, told=spot))
    assert mend == '--set "flow=9 cm/s"'
    assert "20, 35, 28 cm" in mend_of(
        lambda: add_spot(folder.path, folder.vocabulary, "top", on=DAY, at="20, 35, 28")
    )
    line = "duncan, 8, 110 PAR"
    mend = mend_of(lambda: add_coral(folder.path, folder.vocabulary, line, on=DAY))
    assert mend == '"duncan, 8 cm" or "duncan, 8 PAR"'
    assert folder.text() == TANK


@pytest.mark.parametrize(
    ("measure", "value", "written"),
    [("PAR", "126", "126 PAR"), ("light", "medium", "medium"), ("light", "126 PAR", "126 PAR")],
)
def test_a_word_that_names_the_unit_is_enough(tank_of: Make, measure: str, value: str, written: str) -> None:
    folder = tank_of(TANK)
    add_reading(folder.path, folder.vocabulary, ["shelf"], measure, value, on=DAY)
    assert f"light: {written}, event: e-0001" in folder.text()


def test_what_has_no_unit_is_told_without_one(vocabulary: Vocabulary) -> None:
    light, potency = vocabulary.measures["light"], vocabulary.measures["potency"]
    assert with_unit_of("potency", "3", potency) == "3"
    assert with_unit_of("cm", "3", light) == "3"  # a unit of something else does not fit
    assert with_unit_of("par", "3-5", light) == "3-5 PAR"
    assert with_unit_of("divider", "yes", None) == "yes"
    assert (word_of("cm"), word_of("%"), word_of("")) == (" cm", "%", "")
    require_unit_of_place("20, 35, 28 cm")
    require_unit_of_place("")
    require_units_in_line(parse_coral_line("torch, 8 cm, 110 PAR, nice one"))
    assert not is_bare("1 in 3")


def test_bare_numbers_that_stand_in_the_file_already_are_left_alone(tank_of: Make) -> None:
    folder = tank_of(TANK)
    add_reading(folder.path, folder.vocabulary, ["shelf"], "light", "90 PAR", on=DAY)
    tank = folder.tank
    event = Event(id="e-0002", on=DAY, kind=EventKind.MEASURED, subject="ledge")
    require_units(tank, tank, event, folder.vocabulary)
    bare = tank.model_copy(update={"facts": ()})
    with pytest.raises(UnusableInput) as caught:
        require_units(bare, tank, event, folder.vocabulary)
    assert sorted(problem.what for problem in caught.value.problems) == [
        "'118' has no unit",
        "'20' has no unit",
        "'8' has no unit",
    ]
    moved = event.model_copy(update={"kind": EventKind.MOVED})
    require_units(bare, tank, moved, folder.vocabulary)  # a move tells no quantity
