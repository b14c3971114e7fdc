from __future__ import annotations

from advisor.model.changes import CardChoice
from advisor.reasoning.survey_rows import AnimalRow, Entity, Layout, PlaceRow, place_of
from tests.reasoning.survey_samples import animal, spot

HERE, THERE = animal("a-1", at="ledge"), animal("b-1")


def layout() -> Layout:
    """Return two shared rows, one of which is gone in world 1 and back at another place."""
    made = Layout(tank_row=[0, 0], shared_animals=2, removals=[(1, 0)])
    made.places = [
        PlaceRow("ledge", spot("ledge")),
        PlaceRow("at b-1", None, "b-1"),
        PlaceRow("foot", spot("foot")),
    ]
    made.entities = [Entity(HERE, CardChoice(("stinger",))), Entity(THERE, CardChoice(()))]
    made.animals = [
        AnimalRow("a-1", HERE, 0),
        AnimalRow("b-1", THERE, 1, entity=1),
        AnimalRow("a-1", HERE, 2, 1, here=False),
    ]
    return made


def test_rows_become_arrays_in_the_order_they_stand() -> None:
    made = layout()
    assert made.world_of_animals().tolist() == [-1, -1, 1]
    assert made.place_of_animals().tolist() == [0, 1, 2]
    assert made.entity_of_animals().tolist() == [0, 1, 0]
    assert made.removed().tolist() == [[False, False], [True, False]]


def test_a_place_is_known_by_its_spot_or_by_who_stands_there() -> None:
    assert [place.key for place in layout().places] == ["ledge", "at b-1", "foot"]
    assert place_of("b-1") == "at b-1"


def test_a_layout_begins_with_the_tank_as_it_is_and_nothing_in_it() -> None:
    empty = Layout()
    assert (empty.tank_facts, empty.tank_row) == ([()], [0])
    assert empty.removed().shape == (1, 0)
    assert len(empty.world_of_animals()) == 0
