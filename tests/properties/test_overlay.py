"""A change laid over the tank says what the tank says once it is really so."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from advisor import api
from advisor.model.changes import Add, Change, Move, Remove, SetFact
from advisor.model.tank import Animal, Fact, Phase, Spot, Statement, Tank
from advisor.model.vocabulary import Kind
from advisor.planning.bench import Sitting, sitting_of
from advisor.reasoning.judge import VERDICTS
from advisor.reasoning.survey import make_survey
from tests.properties.demo import FOLDER, ON, bench, desk, sitting

Said = dict[tuple[str, tuple[str, ...]], tuple[str, str, str, str]]


def verdicts_in(whole: Sitting, world: int) -> Said:
    """Return what every rule says of every binding of one world, by the ids it is about."""
    found: Said = {}
    for plane in whole.judge(whole.bench.rules, everywhere=True):
        now = plane.now
        binders = plane.compiled.binders
        for at in np.flatnonzero(now.bindings.worlds == world):
            subjects = tuple(
                whole.tables.label(
                    Kind.ANIMAL if binder.kind is Kind.CORAL else binder.kind,
                    int(now.bindings.rows[binder.name][at]),
                )
                for binder in binders
            )
            later = "" if plane.later is None else VERDICTS[int(plane.later.verdict[at])].value
            found[plane.compiled.rule.name, subjects] = (
                VERDICTS[int(now.verdict[at])].value,
                later,
                f"{now.low[at]:.6f}",
                f"{now.high[at]:.6f}",
            )
    return found


def really(tank: Tank) -> Said:
    """Return what every rule says of a tank surveyed anew."""
    own = desk()
    cards = {**own.cards}
    for animal in tank.animals:
        if animal.id not in cards:
            cards[animal.id] = cards["hammer-1"]
    survey = make_survey(tank, own.library, ON, horizon_months=own.horizon_months, cards=cards)
    return verdicts_in(sitting_of(bench(), survey, ON, own.horizon_months), 0)


def assert_same(found: Said, expected: Said) -> None:
    """Check that two answers are one, pointing at the first differences; pairs out of reach may be absent."""
    alike = found.keys() & expected.keys()
    differ = {key: (found[key], expected[key]) for key in sorted(alike) if found[key] != expected[key]}
    assert differ == {}
    settled = {"holds", "not covered", "excused", "by eye"}
    for key in sorted(found.keys() ^ expected.keys()):
        verdict, later, _, _ = found.get(key) or expected[key]
        assert {verdict, later} - {""} <= settled, key


def free_spots() -> list[Spot]:
    """Return the spots nothing stands on."""
    taken = {animal.spot for animal in desk().tank.animals}
    return [spot for spot in desk().tank.spots if spot.id not in taken and not spot.temporary]


def test_no_change_is_the_tank_itself() -> None:
    assert_same(verdicts_in(sitting((), ()), 1), really(desk().tank))


@pytest.mark.parametrize("animal_id", ["galaxy-1", "brain-1", "plate-1"])
def test_taking_an_animal_out(animal_id: str) -> None:
    tank = desk().tank
    without = tank.model_copy(
        update={"animals": tuple(animal for animal in tank.animals if animal.id != animal_id)}
    )
    assert_same(verdicts_in(sitting((Remove(animal_id),)), 1), really(without))


@pytest.mark.parametrize(("animal_id", "place"), [("galaxy-1", 0), ("hammer-1", 1), ("brain-1", 4)])
def test_moving_an_animal_as_the_command_does_it(tmp_path: Path, animal_id: str, place: int) -> None:
    """The overlay against the folder after ``advisor tank move``, read from disk again."""
    spots = free_spots()
    spot = spots[place % len(spots)].id
    for file in FOLDER.iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    api.move(tmp_path, animal_id, spot, on=ON)
    moved = api.open_tank(tmp_path, on=ON)
    found = verdicts_in(sitting((Move(animal_id, spot),)), 1)
    assert_same(found, really(moved.tank))


def newcomer(spot: str = "") -> Animal:
    """Return a coral that is new to the tank."""
    return Animal(
        id="new-hammer",
        taxon="branching hammer",
        phase=Phase.TRIAL,
        spot=spot,
        size_cm=Statement(best=6.0),
        placed_on=ON,
        moved_on=ON,
    )


@pytest.mark.parametrize("place", range(4))
def test_adding_a_coral(place: int) -> None:
    spot = free_spots()[place].id
    tank = desk().tank
    there = tank.model_copy(update={"animals": (*tank.animals, newcomer(spot))})
    own = desk()
    change: Change = (Add(newcomer(), spot),)
    survey = make_survey(
        tank, own.library, ON, horizon_months=own.horizon_months, worlds=(change,),
        cards={**own.cards, "new-hammer": own.cards["hammer-1"]},
    )  # fmt: skip
    found = verdicts_in(sitting_of(bench(), survey, ON, own.horizon_months), 1)
    assert_same(found, really(there))


GAP = Fact(measure="gap", subjects=("galaxy-1", "crust-2"), said=Statement(best=40.0, error=1.0, on=ON))
TANK = Fact(measure="salinity", subjects=("tank",), said=Statement(best=30.0, on=ON))
LIGHT = Fact(measure="light", subjects=("left-corner",), said=Statement(best=900.0, on=ON))
SIZE = Fact(measure="size", subjects=("brain-1",), said=Statement(best=30.0, on=ON))


def with_fact(fact: Fact) -> Callable[[Tank], Tank]:
    """Return the edit that states a fact last of all."""
    return lambda tank: tank.model_copy(update={"facts": (*tank.facts, fact)})


@pytest.mark.parametrize("fact", [GAP, TANK, LIGHT, SIZE], ids=lambda fact: fact.measure)
def test_stating_a_fact(fact: Fact) -> None:
    """World 1 judged everywhere, so that also what no own animal takes part in is compared."""
    found = verdicts_in(sitting((SetFact(fact),)), 1)
    assert_same(found, really(with_fact(fact)(desk().tank)))
    assert found != really(desk().tank)


def test_several_edits_at_once_and_several_worlds_beside_each_other() -> None:
    spots = [spot.id for spot in free_spots()]
    first: Change = (Remove("galaxy-1"), Move("crust-2", spots[0]))
    second: Change = (Move("galaxy-1", spots[1]),)
    alone = [verdicts_in(sitting(change), 1) for change in (first, second)]
    together = sitting(first, second)
    assert verdicts_in(together, 1) == alone[0]
    assert verdicts_in(together, 2) == alone[1]


def test_a_change_in_which_nothing_new_stands_leaves_the_plain_tank_as_it_is() -> None:
    plain = verdicts_in(sitting(), 0)
    assert_same(verdicts_in(sitting((Move("galaxy-1", free_spots()[0].id),), (Remove("stag-1"),)), 0), plain)
