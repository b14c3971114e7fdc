from __future__ import annotations

import pytest

from advisor.model.tank import Box
from advisor.reasoning.place_lies import lies_of
from advisor.reasoning.place_numbers import PlaceNumbers, place_numbers
from tests.reasoning.lying import BLOCK, lying, lying_library
from tests.reasoning.survey_samples import animal, point, spot


def numbers() -> PlaceNumbers:
    found = place_numbers(lying_library())
    assert found is not None
    return found


def test_places_with_ground_near_them_lie_on_it() -> None:
    found = lies_of(lying(), numbers())
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
    found = lies_of(lying(spots=(of_grid, spot("top", point(30.0, 30.0, 10.0)))), numbers())
    assert (len(found["block-30-30-10"]), len(found["top"])) == (1, 5)


def test_an_animal_on_no_spot_lies_where_it_stands() -> None:
    alone = animal("alone", box=point(30.0, 30.0, 10.0))
    assert lies_of(lying(animals=(alone,)), numbers())["at alone"][0].rock == "block"


def test_a_place_known_by_words_or_to_a_foot_lies_nowhere() -> None:
    word = spot("word", Box(x=(0.0, 40.0), y=(0.0, 20.0), z=(0.0, 16.0), by_word=True))
    loose = spot("loose", Box(x=(20.0, 40.0), y=(30.0, 30.0), z=(10.0, 10.0)))
    assert lies_of(lying(spots=(word, loose)), numbers()) == {}


def test_without_glass_or_shapes_nothing_is_said() -> None:
    assert lies_of(lying(glass=None), numbers()) == {}
    assert lies_of(lying(rocks=(BLOCK.model_copy(update={"body": None}),)), numbers()) == {}
