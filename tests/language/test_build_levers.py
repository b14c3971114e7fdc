"""Levers out of their text."""

from __future__ import annotations

from advisor.language.nodes import Lever, LeverWay, Name
from tests.language.texts import codes, faults, read


def lever(text: str) -> Lever:
    """One lever."""
    (item,) = read(f"lever {text}").declarations
    assert isinstance(item, Lever)
    return item


def test_a_lever_moves_a_quantity_by_steps() -> None:
    found = lever('part(animal a, animal b) changes gap(b, a) up by 2 cm cost 2.5 say "move {a}"')
    assert (found.name, found.target, found.args) == ("part", "gap", ("b", "a"))
    assert found.step is not None
    assert (found.step.value, found.step.unit) == (2.0, "cm")
    assert found.way is LeverWay.UP
    assert found.cost == 2.5
    assert found.not_checked is None
    assert [param.name for param in found.params] == ["a", "b"]


def test_without_a_way_it_moves_either_way() -> None:
    assert lever('dim(place p) changes light(p) by 5 PAR cost 1 say "dim {p}"').way is LeverWay.EITHER
    assert lever('dim(place p) changes light(p) down by 5 PAR cost 1 say "dim {p}"').way is LeverWay.DOWN


def test_a_lever_makes_a_relation_or_a_word() -> None:
    found = lever('divide(animal a, animal b) makes divider(a, b) cost 5 say "divide" not-checked "the {a}"')
    assert (found.step, found.word) == (None, "")
    assert found.not_checked is not None
    assert [piece.name for piece in found.not_checked.pieces if isinstance(piece, Name)] == ["a"]
    assert lever('bed(place p) makes ground(p) = sand cost 5 say "sand"').word == "sand"


def test_the_tank_can_be_moved() -> None:
    found = lever('warm(tank) changes temperature(tank) by 0.5 K cost 1 say "warm it"')
    assert found.args == ("tank",)


def test_a_lever_without_a_clause_is_left_out() -> None:
    assert codes(faults('lever part(animal a) cost 2 say "x"')) == ["word-114"]
    assert codes(faults('lever part(animal a) makes divider(a) say "x"')) == ["word-114"]
    assert codes(faults("lever part(animal a) makes divider(a) cost 2")) == ["word-114"]


def test_a_mistyped_clause_is_told_where_it_stands() -> None:
    (problem,) = faults('lever part(animal a) makse divider(a) cost 2 say "x"')
    assert (problem.code, problem.mend) == ("word-101", "makes")
