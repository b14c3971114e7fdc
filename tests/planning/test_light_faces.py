"""The light on the surface of a place: what is asked of a small tank. Invented, every one."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.api import Session
from advisor.model.lightanswer import FaceLight
from advisor.planning.light_faces import SIDE_UNTOLD, UNDER_UNTOLD
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


def test_where_a_reading_on_a_face_and_the_lamps_do_not_agree_the_answers_cover_both(tmp_path: Path) -> None:
    below = session(tmp_path).light("ceiling")
    read = "light: {value: 300 PAR, on: 2026-10-28}"
    spots = SPOTS.replace("faces: under}", f"faces: under, {read}}}")
    (tmp_path / "read").mkdir()
    answer = session(tmp_path / "read", spots=spots).light("ceiling")
    assert below.face is not None
    assert answer.face is not None
    assert answer.own is not None
    assert answer.agrees is False
    assert answer.face.low == pytest.approx(below.face.low)
    assert (answer.face.best, answer.face.high) == pytest.approx((300.0, answer.own.high))
    assert answer.dose_high == pytest.approx(answer.own.high * 9 * 3.6e-3)
    assert answer.high == pytest.approx(below.high)  # of a level sensor nothing was read


BETWEEN = HEAD.replace("water: 45 cm}", "water: 45 cm, walls: painted}").replace(
    "lamps:\n",
    "lamps:\n  - {id: right, at: '70, 30 cm', over water: 20 cm, photons: 300 umol/s, beam: 90}\n",
)


def test_a_lamp_changed_changes_each_way_a_face_may_look_by_its_own_share(tmp_path: Path) -> None:
    # painted walls, no sand, no rock: to the left there is the left lamp alone, to the right the right one
    bare = BETWEEN[: BETWEEN.index("rocks:")]
    asked = opened(tmp_path, water=bare, spots="  - {id: mid, at: '45, 30, 20 cm', slope: 90 degrees}\n")
    now, off = face(asked, "mid"), face(asked, "mid", "lamp=0%")
    assert off.high == pytest.approx(now.high, rel=0.02)
    assert off.low < 0.6 * now.low  # to the front both lamps shine alike


@pytest.mark.parametrize(("slope", "told"), [(3, False), (20, True)])
def test_a_face_is_told_apart_where_it_gets_clearly_more_or_less_than_level(
    tmp_path: Path, slope: int, told: bool
) -> None:
    # aside of the lamp, where 20 degrees towards it or away make a quarter more or less
    spots = f"  - {{id: aside, at: '60, 30, 20 cm', slope: {slope} degrees}}\n"
    bare = HEAD[: HEAD.index("rocks:")]
    assert (opened(tmp_path, water=bare, spots=spots).light("aside").face is not None) is told


def test_of_a_side_or_an_underside_told_by_a_word_alone_it_is_said_that_no_more_is_known(
    tmp_path: Path,
) -> None:
    spots = "  - {id: s, at: '60, 30, 20 cm', faces: side}\n  - {id: u, at: '60, 30, 20 cm', faces: under}\n"
    asked = opened(tmp_path, water=HEAD[: HEAD.index("rocks:")], spots=spots)
    side, under = asked.light("s"), asked.light("u")
    assert (side.face, under.face) == (None, None)
    assert (SIDE_UNTOLD in side.notes, UNDER_UNTOLD in under.notes) == (True, True)
    assert (UNDER_UNTOLD in side.notes, SIDE_UNTOLD in under.notes) == (False, False)
