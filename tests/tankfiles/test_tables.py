"""Spreadsheet exports."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.model.tank import Phase, Said
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
TANK = "glass: 90 x 60 x 48 cm\nspots: [ledge]\ncorals:\n  - {id: a, is: torch, placed: yes}\n"


@pytest.mark.parametrize(
    "text",
    [
        "spot,date,PAR,flow,instrument\nledge,2026-10-20,187,9,meter\n",
        "Spot;Date;PAR;Flow (cm/s);Instrument\nledge;2026-10-20;187;9;meter\n",
        "Location\tDay\tPPFD\tWater speed\tMeter\nledge\t2026-10-20\t187 PAR\t9 cm/s\tmeter\n",
        '\ufeff"where","measured on","Light [PAR]","flow [mm/s]","method"\r\n'
        '"ledge","2026-10-20",187,90,"meter"\r\n',
        "# from the club's meter\n\nspot,date,umol,current,device\nledge,2026-10-20,187,9,meter\n,,,,\n",
    ],
)
def test_readings_with_the_common_headings(tank_of: Make, text: str) -> None:
    folder = tank_of(TANK).write("readings.csv", text)
    (light,), (flow,) = folder.said("light", "ledge"), folder.said("flow", "ledge")
    assert (light.said.best, light.said.on, light.said.how) == (187.0, date(2026, 10, 20), "meter")
    assert flow.said.best == pytest.approx(9.0)


@pytest.mark.parametrize("head", ["output", "Lamp output", "Intensity (%)"])
def test_readings_with_what_the_lamps_were_set_to(tank_of: Make, head: str) -> None:
    folder = tank_of(TANK).write("readings.csv", f"spot,date,PAR,{head}\nledge,2026-10-20,187,60\n")
    assert [fact.said.output_percent for fact in folder.said("light", "ledge")] == [60.0]


def test_readings_of_animals_and_of_the_tank(tank_of: Make) -> None:
    folder = tank_of(TANK).write(
        "readings.csv", "animal,tank,date,PAR,nitrate\na,,2026-10-20,90,\n,yes,2026-10-20,,6\n"
    )
    assert [f.said.best for f in folder.said("light", "a")] == [90.0]
    assert [f.said.best for f in folder.said("nitrate", "tank")] == [6.0]


def test_corals_and_spots_in_tables(tank_of: Make) -> None:
    folder = tank_of("glass: 90 x 60 x 48 cm\nrocks: [arch]\n")
    folder.write(
        "spots.csv", 'spot,name,place,rock,PAR,faces,holds\nup,Upper,"left, back, high",arch,120,up,2\n'
    )
    folder.write(
        "corals.csv",
        "id,coral,size (cm),spot,date placed,PAR,x,y,z\n"
        "t-1,torch,8,up,2026-01-02,90,,,\n,hammer,10,,,110,,,\nc,clam,6,,,,30,20,10\n",
    )
    tank = folder.tank
    (spot,) = tank.spots
    assert (spot.id, spot.name, spot.rock, spot.holds, spot.place) == (
        "up",
        "Upper",
        "arch",
        2,
        "left, back, high",
    )
    t, c, h = sorted(tank.animals, key=lambda a: (a.id != "t-1", a.taxon))
    assert (t.spot, t.placed_on, t.phase) == ("up", date(2026, 1, 2), Phase.PLACED)
    assert (h.id, h.phase) == ("hammer-1", Phase.WAITING)
    assert c.box is not None
    assert (c.box.x, c.phase) == ((30.0, 30.0), Phase.PLACED)
    assert [f.said.best for f in folder.said("light", "t-1")] == [90.0]
    assert [(f.said.best, f.said.by) for f in folder.said("origin-light", "hammer-1")] == [
        (110.0, Said.SELLER)
    ]


def test_an_unknown_heading_is_shown_at_its_column(tank_of: Make) -> None:
    (problem,) = tank_of(TANK).write("readings.csv", "spot,dtae,PAR\nledge,2026-10-20,187\n").problems
    assert (problem.code, problem.mend) == ("csv-171", "date")
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (1, 6)


def test_a_faulty_cell_is_shown_at_its_line_and_column(tank_of: Make) -> None:
    text = 'spot,note,PAR\nledge,fine,187\nledge,"a, b", -4\n'
    (problem,) = tank_of(TANK).write("readings.csv", text).problems
    assert problem.code == "value-132"
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (3, 15)
    assert problem.span.text == 'ledge,"a, b", -4'


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("", ["file-102"]),
        ("spot,PAR\nledge,3,4,5\n", ["csv-172"]),
        ("spot,PAR\nlegde,3\n", ["id-143"]),
        ("date,PAR\n2026-10-20,3\n", ["key-123"]),
        ('spot,PAR\nledge,"117,5"\n', ["value-131"]),
        ("spot,date,PAR\nledge,20.10.2026,5\n", ["value-134"]),
        ("spot,PAR\nledge,3\x1b[31m\n", ["file-106", "value-131"]),
    ],
)
def test_faulty_tables(tank_of: Make, text: str, codes: list[str]) -> None:
    assert tank_of(TANK).write("readings.csv", text).codes == codes


def test_headings_alone_are_no_fault(tank_of: Make) -> None:
    assert tank_of(TANK).write("readings.csv", "spot,date,PAR\n").problems == ()


def test_one_id_in_two_files_is_a_twin(tank_of: Make) -> None:
    folder = tank_of(TANK).write("corals.csv", "id,coral\na,hammer\n")
    (problem,) = folder.problems
    assert problem.code == "id-142"
    assert problem.related[0].span.file == "tank.yaml"


def test_a_quote_that_is_never_closed_is_told_and_the_rows_before_it_count(
    tank_of: Make,
) -> None:
    text = 'spot,date,PAR,note\nledge,2026-10-20,187,\nledge,2026-10-21,190,"open\nledge,2026-10-22,191,\n'
    folder = tank_of(TANK).write("readings.csv", text)
    tank, (problem,) = folder.read()
    assert tank is not None
    assert [f.said.best for f in tank.facts if f.measure == "light"] == [187.0]
    assert (problem.code, problem.mend) == ("csv-172", '"open"')
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (3, 22)


@pytest.mark.parametrize(
    ("cell", "line", "mend"),
    [('"' + "x" * 140_000, 2, None), ("x" * 140_000, 3, "a few words")],
    ids=["behind a quote", "as it is"],
)
def test_a_field_longer_than_any_is_told(cell: str, line: int, mend: str | None, tank_of: Make) -> None:
    row = "ledge,2026-10-20,187,\n" * (line - 2)
    folder = tank_of(TANK).write("readings.csv", f"spot,date,PAR,note\n{row}ledge,2026-10-21,190,{cell}\n")
    (problem,) = folder.problems
    assert problem.code == "csv-172"
    assert problem.span is not None
    assert problem.span.line == line
    assert problem.mend.startswith(mend or '"xxx')


def test_lines_may_end_as_an_old_machine_ends_them(tank_of: Make) -> None:
    folder = tank_of(TANK).write("readings.csv", "spot,date,PAR\rledge,2026-10-20,187\r")
    assert [f.said.best for f in folder.said("light", "ledge")] == [187.0]
