"""Who there is of each kind in each world."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.errors import AdvisorError
from advisor.model.changes import Add, Change, Move, Remove, SetFact
from advisor.model.tank import Fish, Pump, Rock
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import animal, fact, point, said, spot, survey, tank, waiting

HOME = tank(
    [spot("foot"), spot("ledge")],
    [animal("a", at="ledge"), animal("b", box=point(10, 10)), waiting("new")],
    pumps=(Pump(id="p-1"),),
    fish=(Fish(id="f-1", kind="tang"),),
    told=("pump",),
)
LIGHT = fact("light", "ledge", best=90.0)


def names(of: Survey, kind: Kind, world: int, *, strangers: bool = False) -> list[str]:
    """Return the ids of a kind in a world."""
    listing = of.listing(kind)
    listing = listing if strangers else listing.without_strangers()
    rows = listing.rows[listing.starts[world] : listing.starts[world + 1]]
    return [of.label(kind, int(row)) for row in rows]


@pytest.mark.parametrize(
    ("change", "places"),
    [
        ((), ["foot", "ledge", "the place of b"]),
        ((SetFact(LIGHT),), ["foot", "ledge", "the place of b"]),
        ((SetFact(LIGHT), SetFact(fact("flow", "ledge", best=9.0))), ["foot", "ledge", "the place of b"]),
        ((Remove("b"),), ["foot", "ledge"]),
        ((Move("b", "foot"),), ["foot", "ledge"]),
        ((Add(waiting("new")),), ["foot", "ledge", "the place of b", "the place of new"]),
    ],
)
def test_every_place_stands_once_in_each_world(change: Change, places: list[str]) -> None:
    made = survey(HOME, [change, ()])
    assert sorted(names(made, Kind.PLACE, 1)) == places
    assert sorted(names(made, Kind.PLACE, 0)) == ["foot", "ledge", "the place of b"]
    assert sorted(names(made, Kind.PLACE, 2)) == ["foot", "ledge", "the place of b"]


def test_a_changed_place_has_the_changed_reading_alone() -> None:
    made = survey(HOME, [(SetFact(LIGHT),)])
    listing = made.listing(Kind.PLACE)
    rows = listing.rows[listing.starts[1] : listing.starts[2]]
    ledge = np.array([row for row in rows if made.places[int(row)].id == "ledge"])
    assert [made.numbers("light", (ledge,), None, True).best.tolist()] == [[90]]


def test_a_thing_told_of_in_a_change_stands_for_the_old_one() -> None:
    made = survey(HOME, [(SetFact(fact("pump-guard", "p-1", words=("no",))),)])
    listing = made.listing(Kind.PUMP)
    assert [names(made, Kind.PUMP, world) for world in (0, 1)] == [["p-1"], ["p-1"]]
    assert listing.rows[listing.starts[0]] != listing.rows[listing.starts[1]]
    assert listing.world.tolist() == [-1, 1]


def test_only_a_list_closes_its_kind() -> None:
    made = survey(HOME)
    assert names(made, Kind.PUMP, 0, strangers=True) == ["p-1"]
    assert names(made, Kind.FISH, 0, strangers=True) == ["f-1", "a fish nobody told of"]
    assert names(made, Kind.FISH, 0) == ["f-1"]
    assert names(made, Kind.LAMP, 0, strangers=True) == ["a lamp nobody told of"]


def test_a_question_about_a_thing_names_it() -> None:
    made = survey(HOME)
    pump = int(made.listing(Kind.PUMP).rows[0])
    assert made.ask("pump-guard", (pump,)) == "Is the intake of p-1 guarded?"
    assert made.asked_of("pump-guard", (pump,)) == ("p-1",)
    assert said(3.0).best == 3


def test_a_rock_is_told_from_a_spot_of_its_name() -> None:
    twins = HOME.model_copy(update={"rocks": (Rock(id="ledge"), Rock(id="foot"))})
    worlds: list[Change] = [
        (SetFact(fact("rock-lifts-out", "ledge", words=("yes",))),),
        (SetFact(fact("light", "ledge", best=90.0)),),
        (SetFact(fact("touches", "ledge", "foot", truth=True)),),
    ]
    made = survey(twins, worlds)
    assert made.listing(Kind.ROCK).world.tolist().count(1) == 1
    assert made.listing(Kind.PLACE).world.tolist().count(1) == 0
    assert made.listing(Kind.PLACE).world.tolist().count(2) == 1
    assert made.listing(Kind.ROCK).world.tolist().count(3) == 2
    assert made.place_world.tolist().count(3) == 0


def test_a_change_of_what_is_not_there_is_refused() -> None:
    with pytest.raises(AdvisorError, match="p-9"):
        survey(HOME, [(SetFact(fact("pump-guard", "p-9", words=("no",))),)])
