"""Lamps, pumps, fish and rocks of a tank file: what they are and what is told of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.model.tank import Fact
from advisor.tankfiles.changes import add_reading
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]

THINGS = """lamps:
  - {id: lamp-1, kind: led, installed: 2024-03-01, replaced: 2025-03-01, hours: 5200 hours}
  - {id: tubes, name: the tubes at the back, kind: tube}
pumps:
  left-pump: {guard: yes, flow: 4000 L/h}
fish:
  - {id: angel-1, kind: coral beauty angelfish, nips: yes, size: 8 cm}
  - six-line wrasse
rocks:
  - {id: arch, lifts out: no, touches: pillar}
  - pillar
"""


def told(folder: Folder) -> dict[tuple[str, tuple[str, ...]], Fact]:
    """Return the facts of a tank by what they are about."""
    return {(fact.measure, fact.subjects): fact for fact in folder.tank.facts}


def test_what_is_told_of_a_thing_stands_under_its_section(tank_of: Make) -> None:
    folder = tank_of(THINGS)
    assert folder.problems == ()
    found = told(folder)
    assert found["lamp-kind", ("lamp-1",)].said.words == ("led",)
    assert found["lamp-hours", ("lamp-1",)].said.best == pytest.approx(5200 / 24)
    assert found["pump-guard", ("left-pump",)].said.words == ("yes",)
    assert found["pump-flow", ("left-pump",)].said.best == 4000
    assert found["nips", ("angel-1",)].said.truth is True
    assert found["fish-size", ("angel-1",)].said.best == 8


def test_a_lamp_is_as_old_as_what_shines_in_it(tank_of: Make) -> None:
    lamps = {lamp.id: lamp for lamp in tank_of(THINGS).tank.lamps}
    assert lamps["lamp-1"].installed_on == date(2025, 3, 1)
    assert lamps["tubes"].installed_on is None
    cleaned = tank_of("lamps:\n  - {id: a, cleaned: 2026-10-30, lens changed: 2026-10-12}\n").tank.lamps[0]
    assert (cleaned.installed_on, cleaned.cleaned_on) == (None, date(2026, 10, 30))
    assert lamps["tubes"].name == "the tubes at the back"


def test_fish_get_an_id_of_their_kind(tank_of: Make) -> None:
    tank = tank_of(THINGS).tank
    assert [(fish.id, fish.kind) for fish in tank.fish] == [
        ("angel-1", "coral beauty angelfish"),
        ("six-line-wrasse-1", "six-line wrasse"),
    ]
    assert [pump.id for pump in tank.pumps] == ["left-pump"]


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("name: t\n", ()),
        ("fish: none\n", ("fish",)),
        ("fish: unknown\npumps:\n", ("pump",)),
        (THINGS, ("rock", "lamp", "pump", "fish")),
    ],
)
def test_a_list_closes_its_kind_were_it_empty(tank_of: Make, text: str, kinds: tuple[str, ...]) -> None:
    assert tank_of(text).tank.told == kinds


@pytest.mark.parametrize(
    ("text", "code", "mend"),
    [
        ("lamps:\n  - {id: a, kind: tub}\n", "value-133", "tube"),
        ("lamps:\n  - {id: a, installed: 1.3.2024}\n", "value-134", "2024-03-01"),
        ("pumps:\n  - {id: a, gard: yes}\n", "key-121", "guard"),
        ("pumps:\n  - {id: a, light: 90 PAR}\n", "key-121", "move it"),
        ("fish:\n  - {id: a, kind: tang, mood: calm}\n", "key-121", "note"),
        ("lamps: [a]\npumps: [a]\n", "id-142", "a-2"),
        ("lamps: 3\n", "key-122", "id"),
    ],
)
def test_a_fault_of_a_thing_is_told_with_its_mend(tank_of: Make, text: str, code: str, mend: str) -> None:
    found = [problem for problem in tank_of(text).problems if problem.code == code]
    assert found
    assert mend in found[0].mend


def test_readings_of_things_are_added_by_command(tank_of: Make) -> None:
    folder = tank_of(THINGS)
    for subjects, measure, value in (
        (("lamp-1",), "hours", "6000 hours"),
        (("left-pump",), "guard", "no"),
        (("angel-1",), "nips", "no"),
        (("arch",), "rock-lifts-out", "yes"),
        (("arch", "pillar"), "touches", "no"),
    ):
        add_reading(folder.path, folder.vocabulary, subjects, measure, value, on=date(2026, 11, 2))
    again = Folder(folder.path, folder.vocabulary)
    tank, problems = again.read()
    assert tank is not None
    assert problems == ()
    new = {(fact.measure, fact.subjects): fact.said for fact in tank.facts if fact.said.on is not None}
    assert new["lamp-hours", ("lamp-1",)].best == 250
    assert new["pump-guard", ("left-pump",)].words == ("no",)
    assert new["nips", ("angel-1",)].truth is False
    assert new["rock-lifts-out", ("arch",)].words == ("yes",)
    assert new["touches", ("arch", "pillar")].truth is False
