"""Corals, clams and anemones."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.model.tank import Phase, Said
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]

EVERYTHING = """
glass: 90 x 60 x 48 cm
rocks: [arch]
spots: [s]
corals:
  - {id: other, is: hammer}
  - id: a
    name: the old one
    is: torch
    phase: placed
    spot: s
    size: 12 cm
    clone: green torch
    placed: 2025-03-10
    mounted: glued
    turned: tilted
    doing: well since 2025-06-01
    bleached: no
    night looks: [2026-09-12, {on: 2026-10-01, saw: sweepers}]
    comes from: {light: medium, by: shop, how: by eye, stay: 6 weeks, measured by: seller}
    seller says: {light: medium, flow: low to medium, temper: aggressive}
    gaps: {other: 20 cm}
    kept trimmed: no
    fenced: no
    long settled: none
  - id: b
    is: clam
    at: 30, 20, 10 cm
    rock: arch
    light: 90 PAR
    flow: sways
    nothing else within: 30 cm
"""


def test_everything_a_keeper_can_say_of_an_animal_has_a_place(tank_of: Make) -> None:
    tank = tank_of(EVERYTHING).tank
    _, a, b = tank.animals
    assert (a.phase, a.spot, a.clone, a.placed_on) == (Phase.PLACED, "s", "green torch", date(2025, 3, 10))
    assert a.size_cm is not None
    assert a.size_cm.best == 12.0
    assert (b.spot, b.rock, b.nothing_else_within_cm) == ("", "arch", 30.0)
    assert b.box is not None
    assert {f.measure for f in tank.facts if f.subjects[0] == "a"} == {
        "size", "fixing", "turned", "doing", "bleached", "night-look", "origin-light", "origin-stay",
        "seller-light",
        "seller-flow", "seller-temper", "gap", "kept-trimmed", "fenced", "long-settled",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("told", "phase"),
    [
        ("", Phase.WAITING),
        (", size: 8 cm", Phase.WAITING),
        (", comes from: 110 PAR", Phase.WAITING),
        (", spot: s", Phase.PLACED),
        (", placed: 2026-01-01", Phase.PLACED),
        (", placed: yes", Phase.PLACED),
        (", placed: no", Phase.WAITING),
        (", light: 90 PAR", Phase.PLACED),
        (", place: left", Phase.PLACED),
        (", gaps: none", Phase.PLACED),
        (", spot: s, phase: trial", Phase.TRIAL),
        (", spot: s, stage: on trial", Phase.TRIAL),
    ],
)
def test_where_an_animal_is_in_its_life(tank_of: Make, told: str, phase: Phase) -> None:
    tank = tank_of(f"spots: [s]\ncorals:\n  - {{id: a, is: torch{told}}}\n").tank
    assert tank.animals[0].phase is phase


def test_the_light_it_comes_from_is_the_sellers_word_unless_told(tank_of: Make) -> None:
    folder = tank_of(
        "corals:\n  - {id: a, is: torch, comes from: 110 PAR}\n"
        "  - {id: b, is: torch, comes from: {light: 100-120 PAR, by: keeper, how: my meter, stay: 3 weeks, "
        "hours: 6 hours}}\n"
        "  - {id: c, is: torch, comes from: unknown}\n"
    )
    (a,), (b,), (c,) = (folder.said("origin-light", i) for i in "abc")
    assert (a.said.best, a.said.by) == (110.0, Said.SELLER)
    assert (b.said.low, b.said.high, b.said.by, b.said.how) == (100.0, 120.0, Said.KEEPER, "my meter")
    assert c.said.unknown
    assert [f.said.best for f in folder.said("origin-stay", "b")] == [21.0]
    assert [f.said.best for f in folder.said("origin-hours", "b")] == [0.25]


def test_one_line_of_a_list_is_a_coral(tank_of: Make) -> None:
    folder = tank_of("waiting:\n  - torch, 8 cm, 110 PAR\n  - 2x zoanthid, medium light\n")
    assert [(a.id, a.taxon) for a in folder.tank.animals] == [
        ("torch-1", "torch"),
        ("zoanthid-1", "zoanthid"),
        ("zoanthid-2", "zoanthid"),
    ]
    assert [f.said.best for f in folder.said("origin-light", "torch-1")] == [110.0]
    assert [f.said.words for f in folder.said("seller-light", "zoanthid-2")] == [("medium",)]


def test_night_looks_are_dated_and_none_is_said(tank_of: Make) -> None:
    folder = tank_of(
        "corals:\n  - {id: a, is: torch, night looks: {on: 2026-10-01, saw: sweepers}}\n"
        "  - {id: b, is: torch, night looks: none}\n"
    )
    (a,), (b,) = folder.said("night-look", "a"), folder.said("night-look", "b")
    assert (a.said.on, a.said.written) == (date(2026, 10, 1), "sweepers")
    assert b.said.none


def test_what_a_seller_cannot_say_is_noted(tank_of: Make) -> None:
    (problem,) = tank_of("corals:\n  - {id: a, is: torch, seller says: {lihgt: medium}}\n").problems
    assert (problem.code, problem.mend) == ("key-121", "light")


def test_a_phase_that_is_none_is_noted(tank_of: Make) -> None:
    (problem,) = tank_of("corals:\n  - {id: a, is: torch, phase: plcaed}\n").problems
    assert (problem.code, problem.mend) == ("value-133", "placed")
