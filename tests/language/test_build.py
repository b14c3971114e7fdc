"""Numbers, texts and sources out of the parser's tree."""

from __future__ import annotations

import pytest

from advisor.language.build import joined
from advisor.language.nodes import Call, Let, Name, Rule
from advisor.model.vocabulary import Grade, Source
from tests.language.texts import codes, faults, read

HEAD = "rule x\n  for animal a\n  expect size(a) > 3 cm\n  level advice\n"


def because(text: str) -> tuple[object, ...]:
    """The pieces of a reason."""
    (item,) = read(HEAD + f"  because {text}").declarations
    assert isinstance(item, Rule)
    return item.because.pieces


@pytest.mark.parametrize(
    ("written", "value", "unit"),
    [
        ("3 cm", 3.0, "cm"),
        ("3cm", 3.0, "cm"),
        ("-2.5 °C", -2.5, "°C"),
        ("7", 7.0, ""),
        ("1e2 PAR", 100.0, "PAR"),
    ],
)
def test_a_number_keeps_its_unit_as_written(written: str, value: float, unit: str) -> None:
    (item,) = read(f"let x = {written}").declarations
    assert isinstance(item, Let)
    assert (item.value.value, item.value.unit) == (value, unit)


def test_adjacent_texts_join_with_one_space() -> None:
    assert because('"one" "two"') == ("one two",)
    assert because('"one " "two"') == ("one two",)
    assert because('"one"\n    " two"') == ("one two",)


def test_adjacent_texts_join_around_holes() -> None:
    pieces = because('"{a}" "is {size(a)}" "wide"')
    assert [type(piece) for piece in pieces] == [Name, str, Call, str]
    assert (pieces[1], pieces[3]) == (" is ", " wide")


def test_the_source_keeps_grade_and_date() -> None:
    (item,) = read('let x = 3 cm source "a" "b" kind maker dated 2024').declarations
    assert isinstance(item, Let)
    assert item.source == Source("a b", Grade.MAKER, "2024")


def test_two_parameters_of_one_name_are_told() -> None:
    assert codes(faults("define x(animal a, place a) as yes")) == ["define-802"]


def test_joined_is_what_the_texts_say() -> None:
    assert joined.__doc__ is not None
    (item,) = read('let x = 3 cm because "a" ""  "b"').declarations
    assert isinstance(item, Let)
    assert item.because == "a b"
