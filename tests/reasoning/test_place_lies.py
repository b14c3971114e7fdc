from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from advisor.model.tank import Box, Fact, RockPart, Tank
from advisor.reasoning.place_lies import Lies, lies_of
from advisor.reasoning.place_numbers import PlaceNumbers, place_numbers
from advisor.reasoning.survey_facts import collect
from tests.reasoning.lying import BLOCK, ROOF, lying, lying_library
from tests.reasoning.survey_samples import TODAY, animal, fact, point, spot


def numbers() -> PlaceNumbers:
    found = place_numbers(lying_library())
    assert found is not None
    return found


def lies_in(tank: Tank) -> Mapping[str, Lies]:
    return lies_of(tank, numbers(), collect(tank, lying_library().vocabulary, TODAY))


def test_places_with_ground_near_them_lie_on_it() -> None:
    found = lies_in(lying())
    assert set(found) == {"top", "rim", "roof-top", "flank", "sand"}
    assert [found[key][0].rock for key in ("top", "roof-top", "flank", "sand")] == [
        "block",
        "roof",
        "heap",
        "",
    ]
    assert found["top"][0].at_cm[2] == pytest.approx(10.0)


def test_a_place_told_by_hand_may_lie_in_five_ways_one_of_a_grid_in_one() -> None:
    of_grid = spot("block-30-30-10", point(30.0, 30.0, 10.0), sampled=True)
    found = lies_in(lying(spots=(of_grid, spot("top", point(30.0, 30.0, 10.0)))))
    assert (len(found["block-30-30-10"]), len(found["top"])) == (1, 5)


def test_an_animal_on_no_spot_lies_where_it_stands() -> None:
    alone = animal("alone", box=point(30.0, 30.0, 10.0))
    assert lies_in(lying(animals=(alone,)))["at alone"][0].rock == "block"


def test_a_place_known_by_words_or_to_a_foot_lies_nowhere() -> None:
    word = spot("word", Box(x=(0.0, 40.0), y=(0.0, 20.0), z=(0.0, 16.0), by_word=True))
    loose = spot("loose", Box(x=(20.0, 40.0), y=(30.0, 30.0), z=(10.0, 10.0)))
    assert lies_in(lying(spots=(word, loose))) == {}


def test_without_glass_or_shapes_nothing_is_said() -> None:
    assert lies_in(lying(glass=None)) == {}
    assert lies_in(lying(rocks=(BLOCK.model_copy(update={"body": None}),))) == {}


@pytest.mark.parametrize(
    ("said", "slope", "height"),
    [
        (fact("faces", "roof", words=("under",)), 180.0, 20.0),
        (fact("slope", "roof", best=170.0), 180.0, 20.0),
        (fact("faces", "roof", words=("side",)), 90.0, 21.0),
    ],
)
def test_what_is_told_to_be_a_side_or_an_underside_is_looked_for_there(
    said: Fact, slope: float, height: float
) -> None:
    found = lies_in(lying(said, rocks=(BLOCK, ROOF), spots=(spot("roof", point(41.0, 30.0, 21.0)),)))["roof"]
    assert found[0].slope_deg == pytest.approx(slope)
    assert found[0].at_cm[2] == pytest.approx(height)
    assert found[0].rock == "roof"


def test_a_place_that_may_face_in_two_ways_is_looked_for_on_the_ground() -> None:
    said = fact("faces", "top", words=("side", "under"))
    assert lies_in(lying(said))["top"][0].slope_deg == pytest.approx(0.0, abs=1e-6)


def test_of_a_place_of_the_grid_it_is_known_what_it_is_on() -> None:
    ceiling = spot("roof-underside-40-30-20", point(40.0, 30.0, 20.0), sampled=True, part=RockPart.UNDERSIDE)
    (lie,) = lies_in(lying(spots=(ceiling,)))[ceiling.id]
    assert lie.rock == "roof"
    assert [lie.slope_deg, lie.front_cm] == pytest.approx([180.0, 10.0])


def test_one_tank_is_looked_at_once() -> None:
    tank, told = lying(), collect(lying(), lying_library().vocabulary, TODAY)
    assert lies_of(tank, numbers(), told) is lies_of(tank, numbers(), told)


def test_a_house_that_sets_undersides_elsewhere_still_finds_what_it_calls_so() -> None:
    house = replace(numbers(), side_deg=50.0, under_deg=85.0)
    wall = spot("wall", point(41.0, 30.0, 5.0))
    of_grid = spot("block-side-40-30-5", point(40.0, 30.0, 5.0), sampled=True, part=RockPart.SIDE)
    tank = lying(fact("slope", "wall", best=88.0), rocks=(BLOCK,), spots=(wall, of_grid))
    found = lies_of(tank, house, collect(tank, lying_library().vocabulary, TODAY))
    assert found["wall"][0].slope_deg == pytest.approx(90.0)
    assert found["block-side-40-30-5"][0].slope_deg == pytest.approx(90.0)  # a grid knows no house
