from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import trimesh

from advisor.errors import Problem, Severity
from advisor.model.lighting import WallState
from advisor.model.tank import Glass
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]
HALF_ROUND = np.linspace(0.0, np.pi, 61)


def basin(scale: float = 1.0, up: str = "z") -> trimesh.Trimesh:
    """The inside of a half-round basin, 120 cm long, 60 cm wide, 50 cm high, its flat wall at the back."""
    outline = np.array([(60.0 - 60.0 * np.cos(turn), 60.0 - 60.0 * np.sin(turn)) for turn in HALF_ROUND])
    count = len(outline)
    corners = np.vstack([np.column_stack([outline, np.full(count, height)]) for height in (0.0, 50.0)])
    sides = [(at, (at + 1) % count) for at in range(count)]
    faces = [(a, b, count + b) for a, b in sides] + [(a, count + b, count + a) for a, b in sides]
    faces += [(0, at + 1, at) for at in range(1, count - 1)]
    faces += [(count, count + at, count + at + 1) for at in range(1, count - 1)]
    body = trimesh.Trimesh(corners * scale, faces, process=False)
    if up == "y":  # the third axis then points to whoever looks
        body.vertices = body.vertices[:, [0, 2, 1]] * (1.0, 1.0, -1.0)
    return body


def data_of(body: trimesh.Trimesh, kind: str = "stl") -> bytes:
    data = body.export(file_type=kind)
    return data if isinstance(data, bytes) else str(data).encode()


def told(
    tank_of: Make, keys: str, data: bytes | None = None, name: str = "pool.stl", more: str = ""
) -> Folder:
    folder = tank_of(f"name: t\nglass: {{scan: {name}, {keys}}}\nspots: [ledge]\n{more}")
    return folder.write(name, data_of(basin()) if data is None else data)


def glass(folder: Folder) -> Glass:
    found = folder.tank.glass
    assert found is not None
    return found


def sizes(folder: Folder) -> tuple[float, float, float]:
    found = glass(folder)
    return found.length_cm, found.width_cm, found.height_cm


def only(folder: Folder) -> Problem:
    (problem,) = folder.problems
    return problem


@pytest.mark.parametrize("keys", ["length: 120 cm", "width: 60 cm", "height: 50 cm, length: 120 cm"])
def test_one_side_that_is_told_scales_all(tank_of: Make, keys: str) -> None:
    folder = told(tank_of, keys, data_of(basin(0.013)))
    assert folder.problems == ()
    assert sizes(folder) == pytest.approx((120.0, 60.0, 50.0))
    # half a circle of 60 cm, as a polygon of 60 sides
    half = 60 / 2.0 * np.sin(np.pi / 60) * 60.0**2
    assert glass(folder).floor_cm2 == pytest.approx(half)
    assert glass(folder).volume_cm3(40.0) == pytest.approx(half * 40.0)


def test_sides_that_nearly_agree_are_as_told(tank_of: Make) -> None:
    assert sizes(told(tank_of, "length: 120 cm, width: 62 cm, height: 49 cm")) == pytest.approx((120, 62, 49))


@pytest.mark.parametrize("kind", ["obj", "stl", "ply", "glb"])
def test_every_kind_of_file_makes_the_same_tank(tank_of: Make, kind: str) -> None:
    body = basin(up="y" if kind == "glb" else "z")
    folder = told(tank_of, "length: 120 cm", data_of(body, kind), f"pool.{kind}")
    assert sizes(folder) == pytest.approx((120.0, 60.0, 50.0))
    folder = told(tank_of, "up: y, length: 120 cm", data_of(basin(up="y")))
    assert sizes(folder) == pytest.approx((120.0, 60.0, 50.0))


def test_a_scan_may_be_turned_about_the_vertical(tank_of: Make) -> None:
    found = glass(told(tank_of, "length: 60 cm, turned: 90"))
    assert (found.length_cm, found.width_cm) == pytest.approx((60.0, 120.0))
    flat = sorted(y for x, y in found.outline_cm if x < 1e-6)  # what was the back looks to the left
    assert flat[-1] - flat[0] == pytest.approx(120.0)


def test_without_a_side_the_unit_of_the_file_is_taken_and_told(tank_of: Make) -> None:
    folder = tank_of("name: t\nglass: {scan: pool.stl}\nspots: [ledge]\n").write("pool.stl", data_of(basin()))
    assert sizes(folder) == pytest.approx((120.0, 60.0, 50.0))
    assert (only(folder).code, only(folder).severity) == ("scan-220", Severity.NOTE)
    assert only(folder).mend == "length: 120 cm"
    folder = tank_of("name: t\nglass: {scan: pool.stl}\nplaces every: 9 cm\nspots: [ledge]\n")
    fault = only(folder.write("pool.stl", data_of(basin(10.0))))
    assert (fault.code, fault.severity) == ("scan-215", Severity.ERROR)
    assert fault.mend.endswith("length: 120 cm")


def test_three_points_fit_a_tank_that_has_axes_of_its_own(tank_of: Make) -> None:
    # lying on its back in the scan: x across, y up to the ceiling, z from the back to the front
    body = basin(0.01, up="y")
    body.apply_translation((3.0, 4.0, 5.0))
    pins = {"a": ("3, 4, 4.4", "0, 60, 0 cm"), "b": ("4.2, 4, 4.4", "120, 60, 0 cm"),
            "c": ("3, 4.5, 4.4", "0, 60, 50 cm")}  # fmt: skip
    points = ", ".join(f'{name}: {{scan: "{scan}", tank: "{tank}"}}' for name, (scan, tank) in pins.items())
    folder = told(tank_of, f"points: {{{points}}}", data_of(body))
    assert sizes(folder) == pytest.approx((120.0, 60.0, 50.0))
    assert (only(folder).code, only(folder).severity) == ("scan-219", Severity.NOTE)
    other = told(tank_of, f"points: {{{points}}}, height: 40 cm", data_of(body)).problems[-1]
    assert other.code == "scan-214"
    assert other.what == "the height is told as 40 cm, and the scan is bigger: by its points it is 50 cm"
    below = told(tank_of, f"points: {{{points.replace(', 0 cm', ', 5 cm')}}}", data_of(body)).problems[-1]
    assert below.code == "scan-219"


def test_a_position_is_inside_or_outside_by_the_scan(tank_of: Make) -> None:
    for place, codes in (("60, 5, 10 cm", []), ("5, 5, 10 cm", ["place-151"]), ("5, 58, 10 cm", [])):
        text = f'name: t\nglass: {{scan: pool.stl, length: 120 cm}}\nspots: [{{id: ledge, at: "{place}"}}]\n'
        assert tank_of(text).write("pool.stl", data_of(basin())).codes == codes


def test_a_grid_keeps_within_the_scan(tank_of: Make) -> None:
    spots = {spot.id for spot in told(tank_of, "length: 120 cm", more="places every: 10 cm\n").tank.spots}
    assert {"floor-60-10-0", "floor-10-50-0"} <= spots
    assert "floor-10-10-0" not in spots


def test_walls_and_water_are_told_as_of_any_tank(tank_of: Make) -> None:
    found = glass(told(tank_of, "length: 120 cm, water: 44 cm, walls: {back: clean, rest: painted}"))
    assert (found.water_cm, found.walls.back, found.walls.front) == (44.0, WallState.CLEAN, WallState.PAINTED)
    assert found.sections[-1].height_cm < 44.0
    assert told(tank_of, "length: 120 cm, water: 54 cm").codes == ["value-132"]


@pytest.mark.parametrize("name", ["../pool.stl", "/etc/pool.stl"])
def test_a_scan_outside_the_folder_is_never_read(tank_of: Make, name: str) -> None:
    folder = tank_of(
        f"name: t\nglass: {{scan: {name}, length: 120 cm}}\nplaces every: 9 cm\nspots: [ledge]\n"
    )
    (folder.path.parent / "pool.stl").write_bytes(data_of(basin()))
    assert only(folder).code == "file-105"


def test_what_was_done_to_the_surface_is_told(tank_of: Make) -> None:
    body = basin()
    body.invert()
    assert told(tank_of, "length: 120 cm", data_of(body)).codes == ["scan-217"]
    lidless = trimesh.creation.box((120.0, 60.0, 50.0))
    lidless.update_faces(lidless.face_normals[:, 2] < 0.5)
    note = only(told(tank_of, "length: 120 cm", data_of(lidless)))
    assert (note.code, note.severity) == ("scan-216", Severity.NOTE)
    assert "perhaps its top" in note.what
