from __future__ import annotations

import pytest

from advisor.errors import AdvisorError
from advisor.model.changes import Add, CardChoice, Change, Move, Remove, SetFact
from advisor.model.tank import Animal
from advisor.reasoning.survey_rows import Layout, place_of
from advisor.reasoning.survey_worlds import lay_out
from tests.reasoning.survey_samples import animal, fact, spot, tank, waiting

TANK = tank(
    [spot("ledge"), spot("foot"), spot("arch")],
    [animal("b-1", at="ledge"), animal("a-1", at="foot"), animal("free-1"), waiting("new-1")],
)
NEW = waiting("new-1")
CARDS = {"a-1": CardChoice(("stinger",)), "stinger": CardChoice(("plate",))}


def stand(layout: Layout, world: int) -> dict[str, str]:
    """Return who stands where in a world."""
    gone = {row for each, row in layout.removals if each == world}
    return {
        row.id: layout.places[row.place].id
        for at, row in enumerate(layout.animals)
        if row.world == world or (row.world == -1 and at not in gone)
    }


def test_the_tank_as_it_is_holds_all_but_the_waiting_by_id() -> None:
    layout = lay_out(TANK, (), {})
    assert [row.id for row in layout.animals] == ["a-1", "b-1", "free-1"]
    assert stand(layout, 0) == {"a-1": "foot", "b-1": "ledge", "free-1": "at free-1"}
    assert layout.shared_animals == 3
    assert layout.tank_row == [0]


def test_every_spot_is_a_place_and_so_is_wherever_an_animal_stands_without_one() -> None:
    layout = lay_out(TANK, (), {})
    assert [place.id for place in layout.places] == ["arch", "foot", "ledge", "at free-1"]
    assert layout.places[3].animal_id == "free-1"
    assert layout.places[3].key == place_of("free-1") == "at free-1"
    assert layout.spot_place == {"arch": 0, "foot": 1, "ledge": 2}


def test_each_kind_of_edit_changes_its_own_world_only() -> None:
    worlds: list[Change] = [(Add(NEW, "arch"),), (Remove("a-1"),), (Move("b-1", "arch"),), ()]
    layout = lay_out(TANK, worlds, {})
    base = stand(layout, 0)
    assert stand(layout, 1) == {**base, "new-1": "arch"}
    assert stand(layout, 2) == {"b-1": "ledge", "free-1": "at free-1"}
    assert stand(layout, 3) == {**base, "b-1": "arch"}
    assert stand(layout, 4) == base
    assert layout.removed().tolist() == [
        [False, False, False],
        [False, False, False],
        [True, False, False],
        [False, True, False],
        [False, False, False],
    ]


def test_edits_are_laid_over_in_order() -> None:
    change = (Remove("a-1"), Add(NEW, "foot"), Move("new-1", "arch"), Move("b-1", "foot"))
    assert stand(lay_out(TANK, [change], {}), 1) == {"new-1": "arch", "b-1": "foot", "free-1": "at free-1"}


def test_an_animal_may_be_taken_out_and_put_back() -> None:
    back = TANK.animals[1]
    layout = lay_out(TANK, [(Remove("a-1"), Add(back, "arch"))], {})
    assert stand(layout, 1)["a-1"] == "arch"
    assert [row.here for row in layout.animals if row.id == "a-1"] == [True, False]


def test_rows_of_one_animal_at_many_places_share_what_is_known_of_it() -> None:
    layout = lay_out(TANK, [(Add(NEW, name),) for name in ("arch", "foot", "ledge")], {})
    own = [row for row in layout.animals if row.world > 0]
    assert len({row.entity for row in own}) == 1
    assert [row.place for row in own] == [0, 1, 2]
    assert layout.entities[own[0].entity].moved


def test_an_animal_moved_is_known_as_before_but_stands_there_only_now() -> None:
    layout = lay_out(TANK, [(Move("a-1", "arch"),)], {})
    old, new = (row for row in layout.animals if row.id == "a-1")
    assert (old.here, new.here) == (True, False)
    assert layout.entities[new.entity].animal is layout.entities[old.entity].animal
    assert (layout.entities[old.entity].moved, layout.entities[new.entity].moved) == (False, True)


def test_cards_are_found_by_id_before_name() -> None:
    layout = lay_out(TANK, [(Add(NEW, "arch"),)], CARDS)
    assert [layout.entities[row.entity].choice.cards for row in layout.animals] == [
        ("stinger",),
        ("plate",),
        ("plate",),
        ("plate",),
    ]


def test_a_fact_of_a_spot_gives_its_world_a_place_of_its_own_and_restands_everyone_there() -> None:
    change = (SetFact(fact("light", "foot", best=100.0)), Add(NEW, "foot"))
    layout = lay_out(TANK, [change], {}, {"light"})
    place = layout.places[-1]
    assert (place.id, place.world, place.key) == ("foot", 1, "foot")
    assert [each.measure for each in place.facts] == ["light"]
    own = {row.id: row for row in layout.animals if row.world == 1}
    assert {name: row.place for name, row in own.items()} == {
        "a-1": len(layout.places) - 1,
        "new-1": len(layout.places) - 1,
    }
    assert own["a-1"].here
    assert stand(layout, 0)["a-1"] == "foot"


def test_the_light_of_an_animal_is_the_light_of_where_it_stands() -> None:
    layout = lay_out(TANK, [(SetFact(fact("light", "free-1", best=100.0)),)], {}, {"light"})
    assert layout.places[-1].key == "at free-1"
    assert [row.place for row in layout.animals if row.world == 1] == [len(layout.places) - 1]


def test_facts_of_one_spot_add_up() -> None:
    change = (SetFact(fact("light", "foot", best=1.0)), SetFact(fact("flow", "foot", best=2.0)))
    layout = lay_out(TANK, [change], {}, {"light", "flow"})
    last = layout.animals[-1]
    assert [each.measure for each in layout.places[last.place].facts] == ["light", "flow"]


def test_facts_of_an_animal_may_come_before_it_is_added() -> None:
    change = (SetFact(fact("bleached", "new-1", truth=True)), Add(NEW, "arch"))
    layout = lay_out(TANK, [change], {})
    assert layout.entities[layout.animals[-1].entity].facts[0].measure == "bleached"


def test_facts_of_the_tank_add_rows_to_its_table() -> None:
    first, second = fact("temperature", "tank", best=26.0), fact("salinity", "tank", best=35.0)
    layout = lay_out(TANK, [(SetFact(first), SetFact(second)), (SetFact(first),), ()], {})
    assert [layout.tank_facts[row] for row in layout.tank_row] == [(), (first, second), (first,), ()]


def test_a_fact_of_two_gives_both_a_row_of_their_own() -> None:
    layout = lay_out(TANK, [(SetFact(fact("gap", "a-1", "b-1", best=9.0)),)], {})
    assert sorted(row.id for row in layout.animals if row.world == 1) == ["a-1", "b-1"]
    assert [world for world, _ in layout.world_facts] == [1]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ((Add(NEW, "nowhere"),), "there is no spot 'nowhere' in this tank; its spots are: arch, foot, ledge"),
        ((Move("a-1", "x"),), "there is no spot 'x' in this tank; its spots are: arch, foot, ledge"),
        ((Remove("who-1"),), "no animal 'who-1' stands in this tank"),
        ((Move("new-1", "arch"),), "no animal 'new-1' stands in this tank"),
        ((Remove("a-1"), Move("a-1", "arch")), "no animal 'a-1' stands in this tank"),
        ((Add(TANK.animals[0], "arch"),), "'b-1' already stands in this tank; move it instead of adding it"),
        ((SetFact(fact("light", "nowhere")),), "a change speaks of 'nowhere', which is not in this tank"),
    ],
)  # fmt: skip
def test_a_change_that_cannot_be_made_says_why(
    change: tuple[Add | Move | Remove | SetFact, ...], message: str
) -> None:
    with pytest.raises(AdvisorError) as caught:
        lay_out(TANK, [change], {})
    assert str(caught.value) == message


def test_the_order_of_animals_and_spots_does_not_change_the_rows() -> None:
    turned = TANK.model_copy(update={"animals": TANK.animals[::-1], "spots": TANK.spots[::-1]})
    one, other = lay_out(TANK, (), {}), lay_out(turned, (), {})
    assert [(row.id, row.place) for row in one.animals] == [(row.id, row.place) for row in other.animals]
    assert one.spot_place == other.spot_place


def test_an_animal_added_without_a_spot_stands_where_its_own_position_says() -> None:
    placed = Animal(id="new-1", taxon="stinger", phase=NEW.phase)
    layout = lay_out(TANK, [(Add(placed),)], {})
    row = layout.animals[-1]
    assert layout.places[row.place].id == "at new-1"
    assert (layout.places[row.place].world, row.here) == (1, True)
