"""The line a keeper probably meant."""

from __future__ import annotations

import pytest

from advisor.language.house_guess import (
    card_meant,
    let_meant,
    line_meant,
    lines_of_number,
    measure_of,
    number_of,
    rule_meant,
)
from advisor.language.library import Library
from tests.language.house_lines import edit
from tests.language.texts import base_library, checked


def torch() -> Library:
    """The base; its torch has two weapons."""
    return base_library()


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("reach max from 25 cm to 30 cm", "weapon sweeper-tentacles at-most from 20 cm to 30 cm"),
        ("reach max from 2 cm to 3 cm", "weapon filaments at-most from 2 cm to 3 cm"),
        ("reach longest from 20 cm to 22 cm", "weapon sweeper-tentacles at-most from 20 cm to 22 cm"),
        ("light maximum from 250 PAR to 230 PAR", "light max from 250 PAR to 230 PAR"),
        ("light minimum from 60 PAR to 40 PAR", "light min from 50 PAR to 40 PAR"),
        ("light best from 80 PAR to 90 PAR", "light best-low from 80 PAR to 90 PAR"),
        ("light best from 150 PAR to 160 PAR", "light best-high from 150 PAR to 160 PAR"),
        ("grouping from large-polyp to soft", "group from large-polyp to soft"),
    ],
)
def test_the_nearest_right_line_is_whole_and_has_the_number_in_force(typed: str, meant: str) -> None:
    library = torch()
    found = line_meant(library, library.cards["lamp-torch"], edit(f"change lamp-torch {typed}"))
    assert " ".join(found.split()) == f'change lamp-torch {meant} because "your reason"'
    _, problems = checked(f"house\n  {found.replace('your reason', 'seen')}")
    assert problems == ()


def test_a_length_is_never_offered_for_light_and_nothing_for_what_is_like_nothing() -> None:
    library = torch()
    card = library.cards["lamp-torch"]
    assert "PAR" not in line_meant(library, card, edit("change lamp-torch light max from 3 cm to 4 cm"))
    assert line_meant(library, card, edit("change lamp-torch zzz from 3 ppt to 4 ppt")) == ""


def test_a_card_is_known_by_any_of_its_names() -> None:
    library, _ = checked(
        'card own "own"\n  also "hammer coral"\n  light max 200 PAR\n  source "x" kind guess\n'
    )
    found = card_meant(library, edit("change hammer-corl light max from 100 PAR to 150 PAR"))
    assert " ".join(found.split()) == 'change own light max from 200 PAR to 150 PAR because "your reason"'
    assert card_meant(library, edit("change qqqq light max from 1 PAR to 2 PAR")) == ""


def test_a_named_number_of_the_same_kind_is_offered() -> None:
    line = edit('change sweper-allowance from 5 cm to 6 cm because "x"')
    assert let_meant(torch(), line) == 'change sweeper-allowance from 5 cm to 6 cm because "x"'
    assert let_meant(torch(), edit("change qqqq from 1 cm to 2 cm")) == ""


@pytest.mark.parametrize(
    "line",
    [
        "change potency from 1 to 2",
        "change sweeper-allowance-2 from 1 to 2",
        "change low-light from 1 cm to 2 cm",
        "change sweeper-allowance-2 from dim to bright",
        "change brightness from 40 PAR to 50 PAR",
    ],
)
def test_a_number_of_another_kind_or_a_name_unlike_it_is_never_offered(line: str) -> None:
    assert let_meant(torch(), edit(line)) == ""


def test_a_list_of_numbers_names_each_once() -> None:
    library, _ = checked("measure light-most(animal a) in PAR between 0 and 2500 PAR  from card light-max\n")
    listed = lines_of_number(library)
    assert listed.count("light max") == 1


def test_a_rule_is_offered_with_its_level_in_force() -> None:
    library = torch()
    line = edit("level ligt-enough from danger to advice")
    assert " ".join(rule_meant(library, line, library.rules).split()) == (
        'level light-enough from warning to advice because "your reason"'
    )
    assert rule_meant(library, edit("switch off qqqq"), library.rules) == ""


def test_lines_and_numbers_are_as_a_house_file_writes_them() -> None:
    library = torch()
    assert "weapon at-most" in lines_of_number(library)
    assert "group" not in lines_of_number(library)
    found = measure_of(library, "weapon-at-most")
    assert found is not None
    assert found.name == "reach-most"
    assert measure_of(library, "note") is None
    (value,) = [value for value in library.cards["lamp-torch"].values if value.key == "light-max"]
    assert (number_of(value).value, number_of(value).unit) == (250.0, "PAR")
