from __future__ import annotations

from collections.abc import Callable

import pytest
import trimesh

from advisor.errors import Problem, Severity
from advisor.fields.scan_place import unpacked
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]
GLASS = "glass: 90 x 60 x 50 cm\n"


def data_of(body: trimesh.Trimesh, kind: str = "stl") -> bytes:
    data = body.export(file_type=kind)
    return data if isinstance(data, bytes) else str(data).encode()


def block(x: float = 30.0, y: float = 20.0, z: float = 10.0) -> trimesh.Trimesh:
    body: trimesh.Trimesh = trimesh.creation.box((x, y, z))
    return body


def scanned(tank_of: Make, keys: str, data: bytes, name: str = "ridge.stl", glass: str = GLASS) -> Folder:
    return tank_of(f"name: t\n{glass}rocks:\n  - {{id: ridge, scan: {name}, {keys}}}\n").write(name, data)


def bounds(folder: Folder) -> list[list[float]]:
    """The box around the one rock."""
    body = folder.tank.rocks[0].body
    assert body is not None
    assert body.surface is not None
    found = unpacked(body.surface).bounds
    return [[round(float(each), 4) + 0.0 for each in ends] for ends in found]


def only(folder: Folder) -> Problem:
    (problem,) = folder.problems
    return problem


def test_a_scan_is_set_into_the_tank_by_size_place_turn_and_foot(tank_of: Make) -> None:
    folder = scanned(
        tank_of, 'size: 60 x 40 x 20 cm, at: "40, 30 cm", turned: 90, foot: 3 cm', data_of(block())
    )
    assert folder.problems == ()
    assert bounds(folder) == [[20.0, 0.0, 3.0], [60.0, 60.0, 23.0]]


@pytest.mark.parametrize("kind", ["obj", "stl", "ply", "glb"])
def test_every_kind_of_file_stands_alike(tank_of: Make, kind: str) -> None:
    body = (
        block(30.0, 10.0, 20.0) if kind == "glb" else block()
    )  # the third axis of a GLB points to whoever looks
    keys = 'size: 30 x 20 x 10 cm, at: "40, 30 cm"'
    folder = scanned(tank_of, keys, data_of(body, kind), f"ridge.{kind}")
    assert folder.problems == ()
    assert bounds(folder) == [[25.0, 20.0, 0.0], [55.0, 40.0, 10.0]]


def test_an_axis_may_be_told_to_point_up(tank_of: Make) -> None:
    folder = scanned(tank_of, 'up: x, size: 20 x 10 x 30 cm, at: "40, 30 cm"', data_of(block()))
    assert folder.problems == ()
    assert bounds(folder) == [[30.0, 25.0, 0.0], [50.0, 35.0, 30.0]]


def test_a_scan_of_no_told_size_is_taken_to_be_in_centimetres_and_says_so(tank_of: Make) -> None:
    folder = scanned(tank_of, 'at: "40, 30 cm"', data_of(block()))
    assert bounds(folder) == [[25.0, 20.0, 0.0], [55.0, 40.0, 10.0]]
    note = only(folder)
    assert (note.code, note.severity, note.mend) == ("scan-220", Severity.NOTE, "size: 30 x 20 x 10 cm")


def test_a_glb_is_in_metres_as_its_kind_is(tank_of: Make) -> None:
    folder = scanned(tank_of, 'at: "40, 30 cm"', data_of(block(0.3, 0.1, 0.2), "glb"), "ridge.glb")
    assert bounds(folder) == [[25.0, 20.0, 0.0], [55.0, 40.0, 10.0]]
    assert (only(folder).code, only(folder).mend) == ("scan-220", "size: 30 x 20 x 10 cm")


@pytest.mark.parametrize(("scale", "unit"), [(0.01, "metres"), (10.0, "millimetres")])
def test_a_scan_in_another_unit_is_not_guessed_at_but_the_size_to_type_is_told(
    tank_of: Make, scale: float, unit: str
) -> None:
    folder = scanned(tank_of, 'at: "40, 30 cm"', data_of(block(30 * scale, 20 * scale, 10 * scale)))
    fault = only(folder)
    assert (fault.code, fault.severity, fault.mend) == ("scan-215", Severity.ERROR, "size: 30 x 20 x 10 cm")
    assert unit in fault.what


def test_what_reaches_out_of_the_glass_is_told_by_side(tank_of: Make) -> None:
    folder = scanned(tank_of, 'at: "10, 30 cm", size: 30 x 20 x 10 cm', data_of(block()))
    assert only(folder).code == "scan-214"
    assert only(folder).what == "ridge reaches out of the glass: 5 cm at the left"


def test_without_glass_nothing_is_too_large(tank_of: Make) -> None:
    folder = scanned(tank_of, 'at: "10, 30 cm", size: 300 x 200 x 100 cm', data_of(block()), glass="")
    assert folder.problems == ()


def test_an_open_foot_is_a_note_and_another_hole_a_warning(tank_of: Make) -> None:
    ball = trimesh.creation.icosphere(3, 10.0)
    for keep, severity in ((ball.triangles_center[:, 2] > 0.0, Severity.NOTE),
                           (ball.triangles_center[:, 2] < 0.0, Severity.WARNING)):  # fmt: skip
        half = trimesh.Trimesh(ball.vertices, ball.faces[keep], process=False)
        folder = scanned(tank_of, 'at: "40, 30 cm", size: 20 x 20 x 10 cm', data_of(half))
        assert (only(folder).code, only(folder).severity) == ("scan-216", severity)


def test_faces_inside_out_are_turned_with_a_warning(tank_of: Make) -> None:
    body = block()
    body.invert()
    folder = scanned(tank_of, 'at: "40, 30 cm", size: 30 x 20 x 10 cm', data_of(body))
    assert (only(folder).code, only(folder).severity) == ("scan-217", Severity.WARNING)
    assert only(folder).what.startswith("100 % of the faces of ridge.stl")


def test_a_fine_scan_is_thinned_with_the_largest_error_told(tank_of: Make) -> None:
    ball = trimesh.creation.icosphere(6, 10.0)
    folder = scanned(tank_of, 'at: "40, 30 cm", size: 20 x 20 x 20 cm', data_of(ball, "ply"), "ridge.ply")
    note = only(folder)
    assert (note.code, note.severity) == ("scan-218", Severity.NOTE)
    assert note.what == "ridge.ply has 81920 faces; I reckon with 20000, at most 0.01 cm off"
    body = folder.tank.rocks[0].body
    assert body is not None
    assert body.surface is not None
    assert 0.0 < body.surface.off_cm <= 0.01


def test_three_points_fit_a_scan_that_has_axes_of_its_own(tank_of: Make) -> None:
    points = (
        'points: {a: {scan: "0.3, 0, 0", tank: "40, 30, 30 cm"},'
        ' b: {scan: "-0.3, 0, 0", tank: "40, 30, 0 cm"}, c: {scan: "0, 0.2, 0", tank: "50, 30, 15 cm"}}'
    )  # lying along x in the scan, standing upright in the tank, half as large as a metre would make it
    folder = scanned(tank_of, points, data_of(block(0.6, 0.4, 0.2)))
    assert bounds(folder) == [[30.0, 25.0, 0.0], [50.0, 35.0, 30.0]]
    assert (only(folder).code, only(folder).severity) == ("scan-219", Severity.NOTE)
    assert "agree to 0 cm" in only(folder).what


def test_points_that_do_not_agree_are_a_warning(tank_of: Make) -> None:
    points = (
        'points: {a: {scan: "0.3, 0, 0", tank: "40, 30, 30 cm"},'
        ' b: {scan: "-0.3, 0, 0", tank: "40, 30, 0 cm"}, c: {scan: "0, 0.2, 0", tank: "54, 30, 15 cm"}}'
    )
    folder = scanned(tank_of, points, data_of(block(0.6, 0.4, 0.2)))
    assert (only(folder).code, only(folder).severity) == ("scan-219", Severity.WARNING)


def test_points_and_a_size_cannot_both_be_told(tank_of: Make) -> None:
    points = ", ".join(f'{name}: {{scan: "0, 0, {z}", tank: "1, 1, {z} cm"}}' for z, name in enumerate("abc"))
    folder = scanned(tank_of, f"points: {{{points}}}, size: 30 x 20 x 10 cm", data_of(block()))
    assert (only(folder).code, only(folder).severity) == ("scan-219", Severity.ERROR)


def test_a_scan_that_is_too_large_to_read_is_refused(tank_of: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.tankfiles.scans.MAX_SCAN_BYTES", 100)
    assert only(scanned(tank_of, 'at: "40, 30 cm"', data_of(block()))).code == "file-103"


def test_far_too_many_faces_are_refused(tank_of: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.fields.scans.MOST_READ", 11)
    fault = only(scanned(tank_of, 'at: "40, 30 cm"', data_of(block())))
    assert (fault.code, fault.what) == ("scan-222", "ridge.stl: it has 12 faces")


@pytest.mark.parametrize("name", ["../ridge.stl", "/etc/passwd.stl"])
def test_a_scan_outside_the_folder_is_never_read(tank_of: Make, name: str) -> None:
    folder = tank_of(f'name: t\nrocks:\n  - {{id: ridge, scan: {name}, at: "40, 30 cm"}}\n')
    (folder.path.parent / "ridge.stl").write_bytes(data_of(block()))
    assert only(folder).code == "file-105"


def test_a_scan_that_is_not_there_is_told(tank_of: Make) -> None:
    folder = tank_of('name: t\nrocks:\n  - {id: ridge, scan: ridge.stl, at: "40, 30 cm"}\n')
    assert only(folder).code == "file-101"


@pytest.mark.parametrize(
    ("data", "name", "what", "mend"),
    [
        (data_of(block()), "ridge.obj", "ridge.obj: by what is in it it is STL, not OBJ",
         "name the file by what it is, here and in the folder"),
        (data_of(block())[:300], "ridge.stl", "ridge.stl: it breaks off, 4 of 12 faces are there",
         "copy the whole file here again, or save it again"),
        (b"my shopping list", "ridge.stl", "ridge.stl: it cannot be read as STL",
         "save it as OBJ, STL, PLY or GLB"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_read_says_what_it_is_and_what_helps(
    tank_of: Make, data: bytes, name: str, what: str, mend: str
) -> None:
    fault = only(scanned(tank_of, 'at: "40, 30 cm"', data, name))
    assert (fault.code, fault.what, fault.mend) == ("scan-211", what, mend)


def test_a_folder_named_as_a_scan_is_told_as_one(tank_of: Make) -> None:
    folder = tank_of('name: t\nrocks:\n  - {id: ridge, scan: scans, at: "40, 30 cm"}\n')
    (folder.path / "scans").mkdir()
    assert only(folder).what.startswith("I cannot tell from its name")
    folder = tank_of('name: t\nrocks:\n  - {id: ridge, scan: ridge.stl, at: "40, 30 cm"}\n')
    (folder.path / "ridge.stl").mkdir()
    assert (only(folder).code, only(folder).what) == ("file-101", "'ridge.stl' is a folder, not a file")


def test_a_misspelt_scan_is_shown_the_file_that_is_there(tank_of: Make) -> None:
    folder = tank_of('name: t\nrocks:\n  - {id: ridge, scan: rigde.stl, at: "40, 30 cm"}\n')
    folder.write("ridge.stl", data_of(block()))
    assert only(folder).mend == "ridge.stl"
