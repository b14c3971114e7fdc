"""Every cure that is printed really flips the answer once the tank is so."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from advisor.model.results import Word
from advisor.model.tank import Animal, Phase, Spot, Tank
from advisor.planning.cures import Candidate, better, candidates
from advisor.planning.desk import Subject, subject_named
from advisor.planning.place import place_answer
from advisor.planning.rounds import judged, sitting_for
from advisor.planning.why import why
from tests.properties.demo import ON, desk

WAITING = ("torch-2", "zoa-4", "milli-2")


@cache
def offered(animal: str, spot: str) -> tuple[Word, tuple[Candidate, ...]]:
    """The answer for one coral at one spot, and every cure by levers."""
    own = desk()
    subject = subject_named(own, animal)
    place = spot_of(spot)
    found = judged(own, (place,), sitting_for(own, subject, (place,))[1])
    word = place_answer(own, found, *found.order[0], subject, (), 1).word
    return word, tuple(candidates(own, subject, place, found, word))


def spot_of(name: str) -> Spot:
    """A spot of the demonstration tank."""
    return next(spot for spot in desk().tank.spots if spot.id == name)


def placed(subject: Subject, spot: Spot, candidate: Candidate) -> Tank:
    """The tank with the coral really standing there and what the levers make really stated, on the day."""
    tank = desk().tank
    standing = subject.animal.model_copy(
        update={"phase": Phase.PLACED, "spot": spot.id, "placed_on": ON, "moved_on": ON}
    )
    animals: tuple[Animal, ...] = tuple(
        standing if animal.id == subject.animal.id else animal for animal in tank.animals
    )
    facts = tuple(
        flip.fact.model_copy(update={"said": flip.fact.said.model_copy(update={"on": ON})})
        for flip in candidate.way
    )
    return tank.model_copy(update={"animals": animals, "facts": (*tank.facts, *facts)})


CURABLE = [
    ("torch-2", "left-corner"), ("torch-2", "back-right"), ("zoa-4", "arch-shelf"), ("zoa-4", "ridge-ledge"),
    ("milli-2", "mid-sand"), ("milli-2", "rack"),
]  # fmt: skip
"""Places that levers can mend, of every kind there is here; some more are taken as they come."""
PLACES = list(
    dict.fromkeys([*CURABLE, *[(each, spot.id) for each in WAITING for spot in desk().tank.spots][::9]])
)


@pytest.mark.parametrize(("animal", "spot"), PLACES)
def test_every_cure_flips_the_answer_when_it_is_applied(animal: str, spot: str) -> None:
    word, cures = offered(animal, spot)
    subject = subject_named(desk(), animal)
    for candidate in cures[:3]:
        assert better(candidate.word, word)
        applied = replace(desk(), tank=placed(subject, spot_of(spot), candidate))
        assert better(why(applied, animal).place.word, word), candidate.text


def test_there_are_cures_to_try() -> None:
    found = [offered(animal, spot)[1] for animal, spot in PLACES]
    assert sum(bool(cures) for cures in found) >= 5
    assert {flip.lever.name for cures in found for item in cures for flip in item.way} >= {
        "add-divider",
        "move-apart",
    }
