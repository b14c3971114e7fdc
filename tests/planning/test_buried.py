"""Places inside a rock are told of, with the position on top of it."""

from __future__ import annotations

from pathlib import Path

from advisor.errors import Severity
from tests.planning.tanks import opened

GLASS = "name: b\ninvented: yes\nglass: 120 x 60 x 60 cm\n"
BLOCK = "rocks:\n  - {id: block, shape: block, at: '40, 30 cm', size: 30 x 30 x 40 cm}\n"


def test_a_spot_inside_a_rock_is_told_and_where_its_top_is(tmp_path: Path) -> None:
    spots = "  - {id: deep, at: '42, 28, 10 cm'}\n  - {id: top, at: '42, 28, 38 cm'}\n"
    (problem,) = opened(tmp_path, water=GLASS + BLOCK, spots=spots, corals="").inside_rocks()
    assert (problem.code, problem.severity) == ("place-156", Severity.WARNING)
    assert problem.what == "deep lies inside block as both are told"
    assert problem.mend == 'at: "42, 28, 40 cm" is on top of it, or correct the position of block'
    assert problem.span is not None
    mended = spots.replace("42, 28, 10 cm", "42, 28, 40 cm")
    assert opened(tmp_path, water=GLASS + BLOCK, spots=mended, corals="").inside_rocks() == ()


def test_a_rock_that_stands_out_of_the_water_has_no_top_to_stand_on(tmp_path: Path) -> None:
    high = BLOCK.replace("30 x 30 x 40 cm", "30 x 30 x 58 cm")
    glass = GLASS.replace("120 x 60 x 60 cm", "{length: 120 cm, width: 60 cm, height: 60 cm, water: 50 cm}")
    spots = "  - {id: deep, at: '42, 28, 10 cm'}\n"
    (problem,) = opened(tmp_path, water=glass + high, spots=spots, corals="").inside_rocks()
    assert problem.mend == "correct the position of block"


def test_an_animal_inside_a_rock_is_told_by_its_id(tmp_path: Path) -> None:
    corals = "  - {id: torch-1, is: torch, at: '40, 30, 10 cm', size: 8 cm}\n"
    (problem,) = opened(tmp_path, water=GLASS + BLOCK, spots="", corals=corals).inside_rocks()
    assert problem.what == "torch-1 lies inside block as both are told"


def test_without_rocks_nothing_lies_inside_one(tmp_path: Path) -> None:
    spots = "  - {id: deep, at: '42, 28, 10 cm'}\n"
    assert opened(tmp_path, water=GLASS, spots=spots, corals="").inside_rocks() == ()
