"""Weapons of cards as rows of the survey."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.changes import CardChoice
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey import Survey
from advisor.reasoning.survey_weapons import weapons_on
from tests.reasoning import armed
from tests.reasoning.survey_samples import animal, library, number, survey, tank

TWO = tank([], [animal("a", "stinger"), animal("b", "mat"), animal("c", "plate")])
EITHER = {"a": ("stinger", "plate"), "b": (), "c": ("plate", "mat")}


def carried(of: Survey, name: str, *, apart: bool = False) -> list[str]:
    """Return what the weapons of an animal are called."""
    listing = of.listing(Kind.WEAPON, apart)
    _, rows = listing.held_by(np.array([of.animal_row(name)]))
    return [of.label(Kind.WEAPON, int(row)) for row in rows]


def test_a_card_tells_its_weapons_each_once() -> None:
    cards = library().cards
    assert weapons_on(cards["stinger"]) == ("sweeper-tentacles", "filaments")
    assert weapons_on(cards["mat"]) == ()
    silent = armed.library("", ['card c-0 "c-0"\n  group soft']).cards["c-0"]
    assert weapons_on(silent) is None


def test_an_animal_carries_what_its_card_tells() -> None:
    made = survey(TWO)
    assert carried(made, "a") == ["sweeper-tentacles of a", "filaments of a"]
    assert carried(made, "b") == []
    assert carried(made, "c") == ["filaments of c"]


def test_a_species_that_is_not_certain_has_perhaps_what_one_card_lacks() -> None:
    made = survey(TWO, names=EITHER)
    assert carried(made, "a") == ["sweeper-tentacles of a, if it is stinger", "filaments of a"]
    assert carried(made, "a", apart=True) == [
        "sweeper-tentacles of a, if it is stinger",
        "filaments of a, if it is stinger",
        "filaments of a, if it is plate",
    ]
    assert carried(made, "b") == ["some weapon of b"]
    assert carried(made, "c") == ["filaments of c, if it is plate"]


def test_whether_it_is_there_is_told_with_the_species() -> None:
    made = survey(TWO, names=EITHER)
    row = made.animal_row("a")
    _, rows = made.listing(Kind.WEAPON).held_by(np.array([row]))
    perhaps, sure = (made.cell("carries", (row, int(weapon))) for weapon in rows)
    assert getattr(sure, "value", None) is True
    assert getattr(perhaps, "value", None) is None
    assert "stinger or plate" in " ".join(each.source for each in perhaps.supports)
    other = made.cell("carries", (made.animal_row("b"), int(rows[0])))
    assert getattr(other, "value", None) is False
    assert made.ask("carries", (row, int(rows[0]))) == "What is a, by its scientific name?"


@pytest.mark.parametrize(
    ("measure", "weapon", "expected"),
    [
        ("weapon-reach-most", "sweeper-tentacles of a", (25, 25)),
        ("weapon-reach-most", "filaments of a", (3, 3)),
        ("weapon-potency", "filaments of a", (3, 3)),
    ],
)
def test_each_weapon_has_the_numbers_of_its_own_line(
    measure: str, weapon: str, expected: tuple[float, float]
) -> None:
    made = survey(TWO)
    _, rows = made.listing(Kind.WEAPON).held_by(np.array([made.animal_row("a")]))
    row = next(int(row) for row in rows if made.label(Kind.WEAPON, int(row)) == weapon)
    cell = number(made, measure, row)
    assert (cell.low, cell.high) == expected
    assert cell.supports[0].text == "card stinger"


def test_one_weapon_of_two_cards_covers_both() -> None:
    made = survey(TWO, names=EITHER)
    _, rows = made.listing(Kind.WEAPON).held_by(np.array([made.animal_row("a")]))
    cell = number(made, "weapon-reach-most", int(rows[1]))
    assert (cell.low, cell.high) == (2, 3)
    assert cell.supports[0].text == "species not certain"


def test_what_is_kept_for_the_largest_over_weapons_is_as_it_was() -> None:
    made = survey(TWO)
    entity = made.animal_row("a")
    assert (number(made, "reach-most", entity).low, number(made, "potency", entity).low) == (25, 4)


def test_an_animal_of_no_card_may_carry_anything() -> None:
    made = survey(tank([], [animal("x", "nobody")]), names={"x": ()})
    row = int(made.listing(Kind.WEAPON).rows[0])
    cell = number(made, "weapon-reach-most", row)
    assert (cell.low, cell.high) == (0, 60)
    assert cell.supports[0].text == "no card"
    assert CardChoice(()).cards == ()
