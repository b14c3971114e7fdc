"""Measures, relations and word meanings."""

from __future__ import annotations

import pytest

from tests.language.texts import checked, codes


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("measure shade(place p) in PAR between 0 and 9 PAR from card shade", "measure-602"),
        ("measure shade(place p) in PAR from keeper", "measure-601"),
        ("measure kind(animal a) one of soft, soft from keeper", "measure-603"),
        ("measure shade(place p) in PAR between 0 and 9 PAR", "measure-604"),
        ("relation beside(animal a, animal b) from computed by nobody", "measure-605"),
        ('measure kind(animal a) a name from keeper ask "{b}?"', "text-401"),
        ('word "dim" of light from nobody means 1 to 2 PAR', "word-125"),
        ('word "dim" of ground from seller means 1 to 2 PAR', "units-206"),
        ('word "dim" of light from seller means 1 to 2 cm', "units-201"),
        ('word "dim" of light from seller means 1 to 9999 PAR', "card-908"),
    ],
)
def test_a_fault_of_the_vocabulary_is_told(text: str, code: str) -> None:
    assert codes(checked(text)[1]) == [code]


def test_a_sound_vocabulary_is_not_told() -> None:
    library, problems = checked(
        "measure shade(place p) in PAR between 0 and 9 PAR from keeper, computed by gap\n"
        '  assume 1 to 2 PAR for soft when unknown because "x" kind guess\n'
        '  say "shade at {p}"\n'
        'word "dim" of light from anyone means 1 to 2 PAR source "s" kind guess\n'
    )
    assert problems == ()
    assert [meaning.word for meaning in library.words] == ["dim"]


def test_a_faulty_meaning_is_left_out() -> None:
    assert checked('word "dim" of light from nobody means 1 to 2 PAR')[0].words == ()
