"""Which lamps and readings of a tank count for its light, and why others do not."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from advisor.model.lighting import LampBody, RockBody, RockShape, Walls, WallState
from advisor.model.tank import Lamp, Rock, Tank
from advisor.reasoning.light_values import LightHere
from advisor.reasoning.light_world import LightWorld, light_world
from tests.reasoning.lit import GLASS, ROOF, lamp, lit, lit_library, lit_places, read
from tests.reasoning.survey_samples import TODAY, fact, point, spot


def world(tank: Tank, on: date = TODAY) -> LightWorld:
    return light_world(tank, lit_library(), on)


def labels(found: LightWorld) -> list[str]:
    return [] if found.field is None else [each.label for each in found.field.readings]


def test_a_lamp_that_hangs_lights_every_place_with_a_position() -> None:
    found = world(lit()).everywhere()
    assert found.keys() == {"under", "beside", "far", "cave"}
    assert found["under"].best > found["far"].best


def test_neither_lamp_nor_reading_says_what_to_tell() -> None:
    found = world(lit(lamps=()))
    assert (found.field, found.everywhere()) == (None, {})
    assert "the lamps, and where a lamp hangs" in found.missing[0]
    untold = world(lit(lamps=(Lamp(id="lamp", body=LampBody()),)))
    assert untold.missing[0].startswith("where a lamp hangs")


def test_without_glass_or_numbers_there_is_no_light() -> None:
    assert "how large the glass is" in world(lit(glass=None)).missing[0]
    bare = replace(lit_library(), lets={})
    assert light_world(lit(), bare, TODAY).missing == ("the rule files in force have no light model",)


def test_readings_alone_speak_only_as_far_as_a_reading_reaches() -> None:
    found = world(lit(read("under", 200.0), lamps=())).everywhere()
    assert found.keys() == {"under", "beside"}


def test_rock_in_the_way_darkens_the_place_below() -> None:
    over_cave = lamp(middle_cm=(70.0, 25.0))
    open_, shaded = (world(lit(lamps=(over_cave,), rocks=rocks)).everywhere() for rocks in ((), (ROOF,)))
    assert shaded["cave"].best < 0.5 * open_["cave"].best
    field = world(lit(lamps=(over_cave,), rocks=(ROOF,))).field
    assert field is not None
    (name, share), *_ = field.shaded_by(np.array([70.0, 25.0, 6.0]))
    assert (name, share > 0.5) == ("roof", True)


def test_an_older_reading_counts_less_where_lamps_of_known_age_shine() -> None:
    day = date(2026, 5, 10)
    old = lamp(form="tube", length_cm=60.0).model_copy(update={"installed_on": date(2025, 11, 1)})
    told = (read("under", 200.0, on=day), read("beside", 200.0))
    found, undated = (world(lit(*told, lamps=(each,))) for each in (old, lamp(form="tube", length_cm=60.0)))
    assert found.field is not None
    assert undated.field is not None
    years = (TODAY - day).days / 365.25
    by_place = {each.label: each for each in found.field.readings}
    assert by_place["under"].par_umol == pytest.approx(200.0 * 0.8**years)
    assert by_place["beside"].par_umol == pytest.approx(200.0)
    assert (by_place["under"].shared[0][1] > 0.05, by_place["beside"].shared) == (True, ())
    assert "is taken to send 20 % less than when new" in found.notes[0]
    (first, *_) = [each for each in undated.field.readings if each.label == "under"]
    assert first.par_umol == pytest.approx(200.0)
    assert first.shared[0][1] > by_place["under"].shared[0][1]


def test_readings_age_without_glass_too() -> None:
    found = world(lit(read("under", 200.0, on=date(2026, 5, 10)), glass=None))
    assert found.since.keys() == {"under"}


def test_a_reading_inside_a_rock_does_not_count_and_the_rock_is_named() -> None:
    block = RockBody(shape=RockShape.BLOCK, middle_cm=(25.0, 22.0), size_cm=(20.0, 20.0, 40.0))
    found = world(lit(read("under", 200.0), rocks=(Rock(id="block", body=block),)))
    assert labels(found) == []
    assert found.notes == ("the reading at under is left out: it would lie inside block",)
    assert "under" not in found.everywhere()


def test_a_meter_whose_factor_is_unknown_widens_everything() -> None:
    unsure = fact("meter-uncorrected", "tank", truth=True)
    expected = read("under", world(lit()).everywhere()["under"].best)
    sure, wide = (world(lit(expected, *more)).everywhere()["far"] for more in ((), (unsure,)))
    assert wide.high / wide.low > sure.high / sure.low


def test_water_of_unknown_height_is_taken_to_stand_at_the_rim_and_that_is_told() -> None:
    full = GLASS.model_copy(update={"water_cm": None})
    assert "taken to stand at the rim" in world(lit(glass=full)).notes[0]
    assert world(lit()).notes == ()


UNTOLD = Walls()


def lit_by_outline(corners: tuple[tuple[float, float], ...], walls: Walls = UNTOLD) -> LightWorld:
    glass = GLASS.model_copy(update={"outline_cm": corners, "walls": walls})
    return light_world(lit(glass=glass), lit_library(), TODAY)


def here(of: LightWorld) -> LightHere:
    assert of.field is not None
    return of.field.at(np.array([[80.0, 22.0, 5.0]]))[0]


SQUARE = ((0.0, 0.0), (90.0, 0.0), (90.0, 45.0), (0.0, 45.0))
CUT_FRONT = ((20.0, 0.0), (90.0, 10.0), (90.0, 45.0), (0.0, 45.0), (0.0, 10.0))
EIGHT = ((30.0, 0.0), (60.0, 0.0), (90.0, 15.0), (90.0, 30.0), (60.0, 45.0), (30.0, 45.0), (0.0, 30.0),
         (0.0, 15.0))  # fmt: skip


def test_what_walls_that_are_no_mirrors_throw_back_is_estimated_and_the_error_is_wider() -> None:
    inside, outside = world(lit()), lit_by_outline(EIGHT)
    assert here(inside).over_walls > 0.0
    assert here(outside).over_walls > 0.0
    assert here(outside).best > here(inside).best  # its walls stand nearer
    assert here(outside).high / here(outside).low > here(inside).high / here(inside).low
    said = (
        "the glass is no box: what its walls throw back is estimated by a box around it, and the error is"
        " wider"
    )
    assert outside.notes == (said,)
    assert inside.notes == ()


def test_an_outline_that_is_a_box_is_reckoned_as_one() -> None:
    assert here(lit_by_outline(SQUARE)) == here(world(lit()))
    assert lit_by_outline(SQUARE).notes == ()


def test_flat_walls_along_the_box_are_followed_and_the_error_is_less_wide() -> None:
    some, none = lit_by_outline(CUT_FRONT), lit_by_outline(EIGHT)
    assert here(some).over_walls > 0.0
    assert here(some).high / here(some).low < here(none).high / here(none).low
    assert some.notes == (
        "the glass is no box: light is followed over its left, right and back walls; what the rest throws"
        " back is estimated by a box around it, and the error is wider",
    )


def test_dull_walls_that_are_no_mirrors_widen_little() -> None:
    dull = Walls(left=WallState.PAINTED, right=WallState.OVERGROWN, front=WallState.FILMED,
                 back=WallState.PAINTED)  # fmt: skip
    box = world(lit(glass=GLASS.model_copy(update={"walls": dull})))
    outside = here(lit_by_outline(EIGHT, dull))
    assert outside.high / outside.low == pytest.approx(here(box).high / here(box).low, rel=0.02)
    assert lit_by_outline(EIGHT, dull).notes == (
        "the glass is no box: what its walls throw back is estimated by a box around it, which is little:"
        " they are dull",
    )
    front = lit_by_outline(CUT_FRONT, Walls(front=WallState.PAINTED))
    assert front.notes[0].endswith("back is estimated by a box around it, which is little: it is dull")


# --- sides and undersides

CEILING = spot("ceiling", point(70.0, 25.0, 25.0))
UNDER = fact("faces", "ceiling", words=("under",))
SAND = fact("sand-grain", "tank", words=("fine",))


def test_below_rock_the_light_is_that_on_the_face() -> None:
    found = light_world(lit(UNDER, SAND, rocks=(ROOF,), spots=(CEILING,)), lit_places(), TODAY)
    assert found.under == {"ceiling"}
    assert found.points["ceiling"].at_cm == pytest.approx((70.0, 25.0, 24.0))
    face = found.on_faces(["ceiling"])["ceiling"]
    assert found.everywhere()["ceiling"].best == face.best
    assert face.sand > 0.9


def test_without_sand_an_underside_is_darker() -> None:
    bare, sandy = (
        light_world(lit(UNDER, *more, rocks=(ROOF,), spots=(CEILING,)), lit_places(), TODAY)
        for more in ((), (SAND,))
    )
    assert (bare.sandy, sandy.sandy) == (False, True)
    assert bare.on_faces(["ceiling"])["ceiling"].middle < sandy.on_faces(["ceiling"])["ceiling"].middle / 2.0


def test_told_to_be_bare_glass_is_no_sand() -> None:
    none = fact("sand-grain", "tank", words=("none",))
    assert not light_world(lit(none), lit_places(), TODAY).sandy


def test_what_is_read_below_rock_mends_no_level_face() -> None:
    tank = lit(UNDER, SAND, read("ceiling", 40.0), rocks=(ROOF,), spots=(CEILING,))
    found = light_world(tank, lit_places(), TODAY)
    assert found.field is not None
    assert found.field.readings == ()
    assert any("below rock no sensor looks up" in note for note in found.notes)


def test_a_slope_that_looks_to_a_side_nobody_told_has_a_range_and_no_best() -> None:
    slope = fact("slope", "beside", best=70.0)
    face = light_world(lit(slope), lit_places(), TODAY).on_faces(["beside"])["beside"]
    assert face.best is None
    assert face.low < face.middle < face.high
    assert light_world(lit(slope, lamps=()), lit_places(), TODAY).on_faces(["beside"]) == {}


def test_an_underside_told_by_a_word_alone_is_darker_than_the_open_water_and_no_reading_of_it() -> None:
    tank = lit(fact("faces", "beside", words=("under",)), read("beside", 5.0))
    found = light_world(tank, lit_places(), TODAY)
    assert found.worded == found.dark == {"beside"}
    assert labels(found) == []
    told = lit(fact("faces", "beside", words=("under",)), fact("slope", "beside", best=180.0), SAND)
    assert light_world(told, lit_places(), TODAY).worded == frozenset()


def test_a_reading_on_a_face_is_held_against_the_light_there() -> None:
    tank = lit(UNDER, SAND, read("ceiling", 300.0), rocks=(ROOF,), spots=(CEILING,))
    found = light_world(tank, lit_places(), TODAY)
    rest, face = found.rest_at("ceiling"), found.on_faces(["ceiling"])["ceiling"]
    assert rest is not None
    assert (rest.low, rest.best, rest.high) == (face.low, face.best, face.high)
