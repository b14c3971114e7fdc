"""The light on the surface of a place: what is asked of a small tank. Invented, every one."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.api import Session
from advisor.model.lightanswer import FaceLight
from tests.planning.tanks import opened

HEAD = (
    "name: lit\ninvented: yes\nglass: {length: 90 cm, width: 60 cm, height: 50 cm, water: 45 cm}\n"
    "photoperiod: 9 hours\n"
    "lamps:\n  - {id: lamp, at: '20, 30 cm', over water: 20 cm, photons: 300 umol/s, beam: 90}\n"
    "rocks:\n  - {id: stone, shape: block, at: '60, 30 cm', size: 20 x 20 x 15 cm}\n"
    "  - {id: roof, shape: shelf, at: '60, 30 cm', size: 20 x 30 x 4 cm, foot: 25 cm}\n"
)
SPOTS = (
    "  - {id: top, at: '20, 20, 10 cm'}\n"
    "  - {id: wall, at: '50, 30, 8 cm', faces: side}\n"
    "  - {id: ceiling, at: '60, 42, 25 cm', faces: under}\n"
    "  - {id: loose, at: '20, 40, 20 cm', slope: 50 degrees}\n"
)


def session(folder: Path, sand: str = "sand: fine\n", spots: str = SPOTS) -> Session:
    return opened(folder, water=HEAD + sand, spots=spots)


def face(asked: Session, place: str, *settings: str) -> FaceLight:
    found = asked.light(place, settings).face
    assert found is not None
    return found


def test_level_ground_has_no_face_of_its_own(tmp_path: Path) -> None:
    assert session(tmp_path).light("top").face is None
    assert session(tmp_path).light("40, 20, 20 cm").face is None


def test_a_wall_says_to_which_side_it_looks_and_rules_go_by_the_level_sensor(tmp_path: Path) -> None:
    asked = session(tmp_path)
    found = face(asked, "wall")
    assert (found.side, found.counts, found.set_onto) == ("left", False, "side")
    assert found.slope_deg == pytest.approx(90.0)
    assert found.best is not None
    assert found.low < found.best < found.high


def test_an_underside_is_lit_from_the_sand_and_counts(tmp_path: Path) -> None:
    answer = session(tmp_path).light("ceiling")
    assert answer.face is not None
    assert (answer.face.side, answer.face.counts, answer.face.set_onto) == ("", True, "underside")
    assert answer.face.sand_percent > 90.0
    assert answer.dose_low == pytest.approx(answer.face.low * 9 * 3.6e-3)


def test_without_sand_it_is_said_that_the_floor_is_left_out(tmp_path: Path) -> None:
    told = session(tmp_path, sand="").light("ceiling")
    assert any("no sand is told" in note for note in told.notes)
    assert not any("no sand is told" in note for note in session(tmp_path).light("ceiling").notes)


def test_a_slope_without_a_side_has_a_range_alone(tmp_path: Path) -> None:
    found = face(session(tmp_path), "loose")
    assert (found.best, found.side) == (None, "")
    assert found.low < found.high


def test_a_dimmed_lamp_dims_the_face_alike(tmp_path: Path) -> None:
    asked = session(tmp_path)
    for place in ("wall", "ceiling"):
        now, half = face(asked, place), face(asked, place, "lamp=50%")
        assert half.high == pytest.approx(now.high / 2.0, rel=1e-6)


def test_a_reading_with_the_sensor_turned_is_held_against_the_face(tmp_path: Path) -> None:
    told = session(tmp_path).light("wall")
    assert told.face is not None
    assert told.face.best is not None
    read = f"light: {{value: {told.face.best:.0f} PAR, on: 2026-10-28}}, read at the face: yes}}"
    spots = SPOTS.replace("faces: side}", f"faces: side, {read}")
    (tmp_path / "read").mkdir()
    answer = session(tmp_path / "read", spots=spots).light("wall")
    assert answer.own is not None
    assert (answer.own.at_face, answer.agrees) == (True, True)
    assert answer.readings == 0
