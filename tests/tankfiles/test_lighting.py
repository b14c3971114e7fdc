from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.errors import Severity
from advisor.model.lighting import Colour, LampBody, LampForm, RockShape, Upward, WallState
from tests.tankfiles.conftest import Folder

Make = Callable[..., Folder]


def lamp(tank_of: Make, text: str) -> LampBody:
    folder = tank_of(f"lamps:\n  - {{id: a, {text}}}\n")
    assert [each for each in folder.problems if each.severity is not Severity.NOTE] == []
    return folder.tank.lamps[0].body


def test_a_lamp_tells_where_it_hangs_and_how_it_shines(tank_of: Make) -> None:
    body = lamp(
        tank_of,
        'form: panel, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, turned: 90 degrees, '
        "photons: 350 µmol/s, watts: 180 W, beam: 90 degrees, output: 80 %, colour: blue",
    )
    assert body == LampBody(
        form=LampForm.PANEL, middle_cm=(35.0, 30.0), over_water_cm=20.0, length_cm=30.0, width_cm=20.0,
        turned_deg=90.0, photons_umol_per_s=350.0, watts=180.0, beam_deg=90.0, output_percent=80.0,
        colour=Colour.BLUE,
    )  # fmt: skip
    assert body.hangs


def test_a_lamp_of_which_little_is_told_hangs_nowhere(tank_of: Make) -> None:
    body = lamp(tank_of, "installed: 2025-01-01, beam: unknown")
    assert body == LampBody()
    assert not body.hangs


def test_a_tube_has_one_side_and_inches_are_lengths(tank_of: Make) -> None:
    body = lamp(tank_of, 'form: tube, at: "24 in, 12 in", over water: 6 in, size: 48 in')
    assert body.middle_cm == pytest.approx((60.96, 30.48))
    assert (body.length_cm, body.width_cm) == pytest.approx((121.92, 0.0))


def test_a_programme_and_a_table_of_angles(tank_of: Make) -> None:
    body = lamp(tank_of, "programme: {9: 0 %, 11:30: 100 %, 19: 0 %}, angles: {0: 100 %, 30: 80 %, 60: 20 %}")
    assert body.programme == ((9.0, 0.0), (11.5, 100.0), (19.0, 0.0))
    assert body.angles == ((0.0, 100.0), (30.0, 80.0), (60.0, 20.0))


def test_a_spectrum_is_a_table_by_wavelength(tank_of: Make) -> None:
    body = lamp(tank_of, "spectrum: {400 nm: 5 %, 450: 100 %, 470.5 nm: 40, 700: 0 %}")
    assert body.spectrum == ((400.0, 5.0), (450.0, 100.0), (470.5, 40.0), (700.0, 0.0))


def test_a_rock_has_a_shape_or_a_scan(tank_of: Make) -> None:
    rocks = {
        rock.id: rock.body
        for rock in tank_of(
            "rocks:\n"
            '  - {id: ridge, shape: boulder, at: "40, 30 cm", size: 40x30x25 cm, turned: 20, foot: 2 cm}\n'
            '  - {id: arch, scan: arch.obj, at: "80, 30 cm", size: 10 x 10 x 10 cm, up: y}\n'
            "  - plain\n"
        )
        .write("arch.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n")
        .tank.rocks
    }
    ridge, arch = rocks["ridge"], rocks["arch"]
    assert ridge is not None
    assert arch is not None
    assert (ridge.shape, ridge.middle_cm, ridge.size_cm) == (
        RockShape.BOULDER,
        (40.0, 30.0),
        (40.0, 30.0, 25.0),
    )
    assert (ridge.turned_deg, ridge.foot_cm) == (20.0, 2.0)
    assert (arch.mesh, arch.up, arch.size_cm) == ("arch.obj", Upward.Y, (10.0, 10.0, 10.0))
    assert arch.surface is not None
    assert rocks["plain"] is None


def test_walls_take_a_word_each_or_one_for_all(tank_of: Make) -> None:
    size = "length: 120 cm, width: 60 cm, height: 50 cm"
    glass = tank_of(f"glass: {{{size}, walls: {{back: painted, left: clean}}}}").tank.glass
    assert glass is not None
    assert (glass.walls.back, glass.walls.left, glass.walls.front) == (
        WallState.PAINTED,
        WallState.CLEAN,
        None,
    )
    whole = tank_of(f"glass: {{{size}, walls: filmed}}").tank.glass
    assert whole is not None
    assert whole.walls.right is WallState.FILMED
    window = tank_of(f"glass: {{{size}, walls: {{front: clean, rest: painted}}}}").tank.glass
    assert window is not None
    assert window.walls.front is WallState.CLEAN
    assert {window.walls.left, window.walls.right, window.walls.back} == {WallState.PAINTED}


@pytest.mark.parametrize(
    ("text", "code", "said"),
    [
        (
            "lamps: [{id: a, over water: -3 cm}]",
            "value-132",
            "over water cannot be -3 cm: a lamp hangs above the water",
        ),
        ("lamps: [{id: a, over water: 0 cm}]", "value-132", "over water cannot be 0 cm"),
        ("lamps: [{id: a, beam: 180 degrees}]", "value-132", "beam cannot be 180 degrees"),
        ("lamps: [{id: a, output: 120 %}]", "value-132", "output cannot be 120 %"),
        ("lamps: [{id: a, photons: many}]", "value-131", "many"),
        ("lamps: [{id: a, photons: 350 W}]", "value-131", "W"),
        ("lamps: [{id: a, form: panle}]", "value-133", "'panle'"),
        ("lamps: [{id: a, size: 30 x 20 x 10 x 5 cm}]", "value-131", "1 or 2 lengths"),
        ("lamps: [{id: a, spectrum: {450: 100 %}}]", "value-131", "a table of one row"),
        ("lamps: [{id: a, spectrum: {blue: 100 %, 700: 0 %}}]", "value-131", "not a wavelength"),
        ("lamps: [{id: a, spectrum: {4500: 100 %, 7000: 0 %}}]", "value-131", "from 280 to 1000 nm"),
        ("lamps: [{id: a, spectrum: {300: 100 %, 390: 0 %}}]", "value-131", "no light between 400 and 700"),
        ("lamps: [{id: a, spectrum: {450: 0 %, 700: 0 %}}]", "value-131", "all of it is 0"),
        ("lamps: [{id: a, programme: {25: 0 %}}]", "value-131", "not an hour"),
        ("lamps: [{id: a, programme: {11: 0 %, 9: 100 %}}]", "value-131", "rise"),
        ("lamps: [{id: a, programme: daylight}]", "value-131", "a table is expected"),
        ("lamps: [{id: a, angles: {0: 100 %, 95: 0 %}}]", "value-131", "from 0 to 90"),
        ("rocks: [{id: a, shape: boulder, at: '4, 3 cm'}]", "key-123", "needs at and size"),
        ("rocks: [{id: a, shape: cube}]", "value-133", "'cube'"),
        ("glass: {length: 9 cm, width: 9 cm, height: 9 cm, walls: {top: clean}}", "key-121", "top"),
        ("glass: {length: 9 cm, width: 9 cm, height: 9 cm, walls: [clean]}", "key-122", "a word each"),
    ],
)
def test_what_cannot_be_is_told_with_its_place(tank_of: Make, text: str, code: str, said: str) -> None:
    found = [problem for problem in tank_of(f"{text}\n").problems if problem.code == code]
    assert found
    assert said in found[0].what
    assert found[0].span is not None


def test_of_a_lamp_whose_setting_nobody_knows_only_readings_tell_the_strength(tank_of: Make) -> None:
    told = "photons: 350 umol/s, watts: 90 W"
    assert lamp(tank_of, f"{told}, output: unknown").photons_umol_per_s is None
    assert lamp(tank_of, f"{told}, output: unknown").watts is None
    assert lamp(tank_of, told).photons_umol_per_s == 350.0


def test_of_a_beam_and_a_table_of_angles_it_is_told_which_counts(tank_of: Make) -> None:
    (problem,) = tank_of("lamps: [{id: a, beam: 90 degrees, angles: {0: 1, 40: 0.5}}]\n").problems
    assert (problem.code, problem.severity) == ("key-122", Severity.WARNING)
    assert problem.what == "angles say how a lamp shines, so its beam is not used"


@pytest.mark.parametrize(
    ("rock", "mend"),
    [
        ("shape: boulder, at: '40, 30 cm'", "size: 40 x 30 x 25 cm"),
        ("shape: boulder, size: 44 x 28 x 26 cm", 'at: "40, 30 cm"'),
        ("shape: boulder", 'at: "40, 30 cm", size: 40 x 30 x 25 cm'),
        ("scan: a.stl, size: 44 x 28 x 26 cm", 'at: "40, 30 cm"'),
    ],
)
def test_a_rock_is_asked_only_for_what_it_does_not_tell(tank_of: Make, rock: str, mend: str) -> None:
    (problem,) = tank_of(f"rocks: [{{id: a, {rock}}}]\n").problems
    assert (problem.code, problem.mend) == ("key-123", mend)
    if "scan" not in rock:
        assert tank_of(f"rocks: [{{id: a, {rock}, {mend}}}]\n").problems == ()


@pytest.mark.parametrize("size", ["44 x -28 x 26 cm", "44 x 0 x 26 cm", "44 x 28 cm", "44 x 28-30 x 26 cm"])
def test_a_size_that_cannot_be_is_told_once(tank_of: Make, size: str) -> None:
    folder = tank_of(f"rocks: [{{id: a, shape: boulder, at: '40, 30 cm', size: {size}}}]\n")
    assert folder.codes == ["value-131"]


def test_a_foot_below_the_glass_is_on_it(tank_of: Make) -> None:
    (problem,) = tank_of(
        "rocks: [{id: a, shape: heap, at: '4, 3 cm', size: 4 x 3 x 2 cm, foot: -5 cm}]"
    ).problems
    assert problem.what == "foot cannot be -5 cm: it is how high it lies over the bare glass"
    assert problem.mend == "0 cm"
