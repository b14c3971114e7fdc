"""Levers move what a keeper can move. Every fault has a file in `bad/`."""

from __future__ import annotations

from tests.language.texts import checked, codes

GOOD = """
lever part(animal a, animal b) changes gap(a, b) up by 1 cm cost 2 say "move {a} away from {b}"
lever divide(animal a, animal b) makes divider(a, b) cost 5 say "put a divider between {a} and {b}"
lever bed(place p) makes ground(p) = sand cost 3 say "put sand under {p}"
lever warm(tank) changes temperature(tank) by 0.5 K cost 1 say "turn the heater"
"""


def test_good_levers_are_in_the_library_by_name() -> None:
    library, problems = checked(GOOD)
    assert problems == ()
    assert sorted(library.levers) == ["bed", "divide", "part", "warm"]


def test_a_faulty_lever_is_left_out_and_spoils_no_other() -> None:
    library, problems = checked(GOOD, 'lever tame(animal a) changes potency(a) by 1 cost 1 say "tame {a}"')
    assert codes(problems) == ["lever-851"]
    assert sorted(library.levers) == ["bed", "divide", "part", "warm"]


def test_two_levers_of_one_name_are_told() -> None:
    _, problems = checked(GOOD, 'lever bed(place p) makes ledge(p) = no cost 1 say "level {p}"')
    assert codes(problems) == ["word-126"]


def test_what_a_lever_moves_must_be_known_and_asked_of_the_right_things() -> None:
    _, problems = checked('lever part(animal a, animal b) changes gpa(a, b) by 1 cm cost 2 say "x"')
    assert codes(problems) == ["word-104"]
    _, problems = checked('lever light-up(animal a) changes light(a) by 1 PAR cost 2 say "x"')
    assert codes(problems) == ["word-121"]
    _, problems = checked('lever part(animal a) changes gap(a, b) by 1 cm cost 2 say "x"')
    assert codes(problems) == ["word-123"]


def test_a_sentence_may_only_name_what_the_lever_is_about() -> None:
    _, problems = checked('lever bed(place p) makes ground(p) = sand cost 3 say "put sand under {q}"')
    assert codes(problems) == ["text-401"]


def test_a_step_has_the_kind_of_what_it_moves() -> None:
    _, problems = checked('lever warm(tank) changes temperature(tank) by 0.5 °C cost 1 say "turn it"')
    assert codes(problems) == ["units-201"]
