"""Every shipped rule is decided somewhere on the demonstration tank."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from advisor import api
from advisor.planning.desk import subject_named
from advisor.planning.rounds import free_spots, sitting_for
from advisor.reasoning.judge import EXCUSED, FAILS, HOLDS, judge

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo-lagoon"
DAYS = (date(2026, 11, 2), date(2026, 9, 25))
"""The day of the examples, and one on which the alkalinity was just tested."""


@pytest.fixture(scope="module")
def decided() -> dict[str, set[int]]:
    """Every verdict of every rule: of the tank, and of each waiting coral at each free spot."""
    found: dict[str, set[int]] = {}
    for day in DAYS:
        desk = api.open_tank(DEMO, on=day)._desk
        sittings = [desk.sit(desk.survey())]
        for animal in desk.tank.animals:
            if animal.phase.value == "waiting":
                subject = subject_named(desk, animal.id)
                sittings.append(sitting_for(desk, subject, free_spots(desk, subject)[0])[1])
        for compiled in desk.bench.rules:
            for sitting in sittings:
                plane = judge(compiled, sitting.tables, sitting.population)
                found.setdefault(compiled.rule.name, set()).update(plane.verdict.tolist())
    return found


def test_every_rule_that_can_be_computed_is_decided(decided: dict[str, set[int]]) -> None:
    library = api.open_tank(DEMO, on=DAYS[0])._desk.library
    silent = [
        name
        for name, verdicts in sorted(decided.items())
        if not library.rules[name].by_eye and not verdicts & {HOLDS, FAILS, EXCUSED}
    ]
    assert silent == []


def test_the_demo_has_what_it_promises() -> None:
    tank = api.open_tank(DEMO, on=DAYS[0]).tank
    waiting = [animal for animal in tank.animals if animal.phase.value == "waiting"]
    with (DEMO / "readings.csv").open(encoding="utf-8", newline="") as file:
        readings = [row[key] for row in csv.DictReader(file) for key in ("PAR", "flow (cm/s)") if row[key]]
    assert tank.invented
    assert len(tank.animals) - len(waiting) >= 20
    assert len(waiting) >= 8
    assert len(tank.spots) >= 25
    assert len(readings) >= 60
