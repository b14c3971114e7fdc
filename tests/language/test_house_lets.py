"""House lines about named numbers."""

from __future__ import annotations

import pytest

from advisor.language.house_lets import compared, ground, let_change, rests_on, same_kind
from advisor.language.house_state import House
from advisor.model.vocabulary import Grade
from tests.language.house_lines import edit, fresh
from tests.language.texts import base_library, codes


def changed(line: str) -> House:
    """The base with one line about a named number laid over."""
    house = fresh()
    meant = let_change(house, edit(line))
    assert meant is not None
    meant.apply(house)
    return house


def test_a_let_takes_the_new_value_and_names_the_house() -> None:
    let = changed('change sweeper-allowance from 50 mm to 8 cm because "lost one"').lets["sweeper-allowance"]
    assert (let.value.value, let.value.unit) == (8.0, "cm")
    assert let.source is not None
    assert let.source.text == "the house's own, instead of 50 mm: lost one"
    assert let.source.grade is Grade.EXPERIENCE


def test_a_change_without_a_reason_is_a_guess_where_no_danger_rests_on_it() -> None:
    source = changed("change low-light from 50 PAR to 60 PAR").lets["low-light"].source
    assert source is not None
    assert source.grade is Grade.GUESS


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
        ('change sweeper-allowance from 5 PAR to 6 PAR because "x"', "house-508", "light"),
        ("change sweeper-allowance from 5 cm to 6 cm", "house-504", "danger"),
        ("change low-light from dim to bright", "house-508", "one number"),
        ("change low-light from 50 to 60 PAR to 60 to 70 PAR", "house-508", "one number"),
    ],
)
def test_a_refusal_says_why(line: str, code: str, words: str) -> None:
    house = fresh()
    assert let_change(house, edit(line)) is None
    assert codes(tuple(house.problems)) == [code]
    assert words in house.problems[0].what
    assert house.lets == base_library().lets


def test_what_drifted_is_kept_so_that_explanations_can_tell_it() -> None:
    house = fresh()
    let_change(house, edit('change sweeper-allowance from 3 cm to 4 cm because "x"'))
    (aside,) = house.aside
    assert aside.told == "the shipped value is now 5 cm; your 4 cm is now looser than the shipped value"
    assert aside.where == base_library().lets["sweeper-allowance"].span


def test_a_number_is_compared_the_way_the_rules_lean() -> None:
    shipped = base_library().lets["sweeper-allowance"].value
    new = edit("change x from 1 cm to 8 cm").new
    assert new is not None
    assert [compared(new, shipped, way) for way in (1, -1, 0)] == [
        "your 8 cm is now stricter than the shipped value",
        "your 8 cm is now looser than the shipped value",
        "your 8 cm is more than the shipped value",
    ]


def test_a_ground_names_the_reason_where_there_is_one() -> None:
    assert ground(edit("switch off x"), "5 cm").text == "the house's own, instead of 5 cm"
    assert ground(edit('switch off x because "y"'), "5 cm").text == "the house's own, instead of 5 cm: y"


def test_numbers_must_be_of_the_kind_that_is_changed() -> None:
    house = fresh()
    assert same_kind(house, edit("change x from 1 cm to 2 mm"), "cm")
    assert same_kind(house, edit("change x from 1 to 2"), "rank")
    assert not same_kind(house, edit("change x from 1 PAR to 2 PAR"), "cm")
    assert codes(tuple(house.problems)) == ["house-508"]


def test_what_a_rule_rests_on_is_found_through_definitions() -> None:
    house = fresh()
    assert rests_on(house, "keep-clear", "potency")
    assert not rests_on(house, "light-enough", "potency")
