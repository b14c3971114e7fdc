"""Where places are for light: on the rock, at the top of what stands there, and not inside a rock."""

from __future__ import annotations

import pytest

from advisor.model.lighting import RockBody, RockShape
from advisor.model.tank import Box, Phase, Rock, Tank
from advisor.reasoning.light_places import Places, colonies, height_cm, places_of, rock_bodies
from tests.reasoning.lit import ROOF, lit
from tests.reasoning.survey_samples import animal, point, spot

BLOCK = Rock(
    id="block", body=RockBody(shape=RockShape.BLOCK, middle_cm=(45.0, 22.0), size_cm=(20.0, 20.0, 25.0))
)


def places(tank: Tank) -> Places:
    return places_of(tank, rock_bodies(tank), {})


def test_a_place_told_a_little_off_is_set_onto_the_rock() -> None:
    found = places(lit(rocks=(BLOCK,), spots=(spot("top", point(46.0, 23.0, 28.0)),))).points["top"]
    assert found.at_cm == pytest.approx((46.0, 23.0, 26.0))
    assert found.moved_cm == pytest.approx(-3.0)


def test_a_place_well_inside_a_rock_is_no_place_and_the_rock_is_named() -> None:
    found = places(lit(rocks=(BLOCK,), spots=(spot("inside", point(46.0, 23.0, 8.0)),)))
    assert (dict(found.points), dict(found.buried)) == ({}, {"inside": "block"})


def test_a_place_below_a_shelf_is_not_inside_it() -> None:
    found = places(lit(rocks=(ROOF,)))
    assert "cave" in found.points
    assert found.buried == {}


def test_words_and_loose_boxes_are_no_position() -> None:
    word = Box(x=(0.0, 30.0), y=(0.0, 15.0), z=(0.0, 15.0), by_word=True)
    loose = Box(x=(0.0, 30.0), y=(10.0, 10.0), z=(5.0, 5.0))
    assert places(lit(spots=(spot("word", word), spot("loose", loose), spot("none")))).points == {}


def test_what_stands_there_is_lit_at_its_top() -> None:
    spots = (spot("ledge", point(20.0, 20.0, 10.0)),)
    stands = lit(spots=spots, animals=(animal("torch-1", at="ledge", size_cm=8.0),))
    assert places(stands).points["ledge"].at_cm[2] == pytest.approx(15.0)
    waits = animal("torch-1", at="ledge", size_cm=8.0, phase=Phase.WAITING)
    assert places(lit(spots=spots, animals=(waits,))).points["ledge"].at_cm[2] == pytest.approx(11.0)


def test_an_animal_of_unknown_width_has_no_height() -> None:
    assert (height_cm(animal("a-1", size_cm=None)), height_cm(animal("a-1", size_cm=8.0))) == (0.0, 4.0)


def test_only_colonies_that_stand_somewhere_throw_a_shadow() -> None:
    tank = lit(
        spots=(spot("ledge", point(20.0, 20.0, 10.0)), spot("free", point(40.0, 20.0, 10.0))),
        animals=(
            animal("torch-1", at="ledge", size_cm=8.0),
            animal("bag-1", at="free", size_cm=8.0, phase=Phase.WAITING),
            animal("lost-1", size_cm=8.0),
        ),
    )
    (found,) = colonies(tank, places(tank).points, 0.08)
    assert (found.id, found.passes) == ("torch-1", 0.08)
    assert found.body.bounds[1][2] == pytest.approx(14.0, abs=0.2)


def test_a_rock_without_a_shape_has_no_body() -> None:
    assert rock_bodies(lit(rocks=(Rock(id="bare"), ROOF))).keys() == {"roof"}
