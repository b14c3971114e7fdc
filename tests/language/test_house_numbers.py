"""House edits of numbers."""

from __future__ import annotations

import pytest

from advisor.language.house_numbers import change_card, change_let
from advisor.language.house_state import House
from advisor.language.nodes import HouseEdit
from advisor.model.vocabulary import Grade
from tests.language.texts import base_library, checked, codes, read


def fresh() -> House:
    """The base, not yet changed."""
    library = base_library()
    return House(library, dict(library.lets), dict(library.rules), dict(library.cards))


def edit(line: str) -> HouseEdit:
    """One house edit."""
    (item,) = read(f"house\n  {line}").declarations
    assert isinstance(item, HouseEdit)
    return item


def test_a_let_takes_the_new_value_and_names_the_house() -> None:
    house = fresh()
    assert change_let(house, edit('change sweeper-allowance from 50 mm to 8 cm because "lost one"'))
    let = house.lets["sweeper-allowance"]
    assert (let.value.value, let.value.unit) == (8.0, "cm")
    assert let.source is not None
    assert let.source.text == "the house's own, instead of 50 mm: lost one"
    assert let.source.grade is Grade.EXPERIENCE


def test_a_card_takes_the_new_value_and_names_the_house() -> None:
    house = fresh()
    assert change_card(house, edit('change lamp-torch light max from 250 PAR to 300 PAR because "does well"'))
    (value,) = [value for value in house.cards["lamp-torch"].values if value.key == "light-max"]
    assert value.number == 300.0
    assert value.source is not None
    assert value.source.text == "the house's own, instead of 250 PAR: does well"


def test_a_change_for_one_animal_leaves_the_card_alone() -> None:
    line = 'change lamp-torch light max from 250 PAR to 300 PAR for torch-1 because "does well"'
    library, problems = checked(f"house\n  {line}")
    assert problems == ()
    assert library.cards == base_library().cards
    assert [found.animal for found in library.house] == ["torch-1"]


def test_a_change_without_a_reason_is_a_guess_where_no_danger_rests_on_it() -> None:
    house = fresh()
    assert change_let(house, edit("change low-light from 50 PAR to 60 PAR"))
    source = house.lets["low-light"].source
    assert source is not None
    assert source.grade is Grade.GUESS


def test_one_weapon_is_changed_alone() -> None:
    house = fresh()
    assert change_card(
        house, edit('change lamp-torch weapon sweeper-tentacles at-most from 20 cm to 15 cm because "seen"')
    )
    reach = {
        value.of: value.number for value in house.cards["lamp-torch"].values if value.key == "weapon-at-most"
    }
    assert reach == {"sweeper-tentacles": 15.0, "filaments": 2.0}


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ('change sweeper-allowance from 3 cm to 4 cm because "x"', "house-501", "looser"),
        ('change sweeper-allowance from 3 cm to 6 cm because "x"', "house-501", "stricter"),
        (
            'change sweeper-allowance from 3 cm to 5 cm because "x"',
            "house-501",
            "now the shipped value itself",
        ),
        ('change low-light from 3 PAR to 60 PAR because "x"', "house-501", "more than"),
        ('change lamp-torch light max from 200 PAR to 240 PAR because "x"', "house-501", "stricter"),
        ('change lamp-torch light min from 40 PAR to 45 PAR because "x"', "house-501", "looser"),
        ('change sweeper-allowance from 5 PAR to 6 PAR because "x"', "house-508", "light"),
        ('change lamp-torch light max from 250 PAR to 2501 PAR because "x"', "house-508", "not possible"),
        ('change lamp-torch light best from 80 PAR to 90 PAR because "x"', "house-502", "no number"),
        ('change lamp-torch growth out from 8 mm/month to 9 mm/month because "x"', "house-502", "says no"),
        ("change sweeper-allowance from 5 cm to 6 cm", "house-504", "danger"),
        ("change lamp-torch weapon sweeper-tentacles at-most from 20 cm to 15 cm", "house-504", "danger"),
    ],
)
def test_a_refusal_says_why(line: str, code: str, words: str) -> None:
    house = fresh()
    asked = edit(line)
    change = change_card if asked.key else change_let
    assert not change(house, asked)
    assert codes(tuple(house.problems)) == [code]
    assert words in house.problems[0].what
    assert house.lets == base_library().lets
    assert house.cards == base_library().cards
