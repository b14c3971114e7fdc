"""Variables, names, and what a measure is asked of."""

from __future__ import annotations

import pytest

from advisor.errors import Problem
from advisor.language.check import check
from advisor.language.nodes import Binder
from advisor.language.parse import parse_file
from advisor.language.things import Things, listed_params, source_text
from advisor.model.vocabulary import Kind, Param
from tests.language.texts import ANIMALS, base_library, truth, typer


def told(text: str) -> list[Problem]:
    """The problems of a condition."""
    found = typer()
    found.truth(truth(text), ANIMALS)
    return found.problems


@pytest.mark.parametrize(
    ("text", "code", "mend"),
    [
        ("light(a) > 3 PAR", "word-121", "a.spot"),
        ("size(a.spot) > 3 cm", "word-121", "a"),
        ("temperature(a) > 3 °C", "word-121", "tank"),
        ("gap(a) > 3 cm", "word-120", "gap(a, b)"),
        ("size(q) > 3 cm", "word-123", "bind it first: animal q"),
        ("sise(a) > 3 cm", "word-104", "size"),
        ("light(a.spot) > low-lihgt", "word-104", "low-light"),
        ("size(a) > low-light-5", "word-104", "low-light - 5 PAR"),
    ],
)
def test_a_wrong_thing_is_told_with_what_would_do(text: str, code: str, mend: str) -> None:
    (problem,) = told(text)
    assert (problem.code, problem.mend) == (code, mend)


def test_a_coral_is_an_animal_but_an_animal_is_no_coral() -> None:
    assert told("size(c) > 3 cm") == []
    things = Things(base_library().vocabulary, {}, {})
    assert Kind.CORAL.fits(Kind.ANIMAL)
    assert not Kind.ANIMAL.fits(Kind.CORAL)
    assert things.asked_of((), ANIMALS) == []


def test_a_name_that_hides_a_subtraction_is_taken_apart() -> None:
    (problem,) = told("gap(a, b) > a-b")
    assert (problem.label, problem.mend) == ("this is one name; a subtraction needs spaces", "a - b")


def test_a_label_says_what_would_fit() -> None:
    (problem,) = told("gap(a, b) > rich(a)")
    assert problem.label.startswith("expected a length of an animal (reach-most, reach-usual, size")


def test_a_binder_needs_a_name_of_its_own() -> None:
    found = typer()
    scope = {"a": Kind.ANIMAL}
    at = truth("fed(a)").span
    found.bind(Binder(at, Kind.ANIMAL, "n", "a"), scope)
    assert found.problems == []
    found.bind(Binder(at, Kind.ANIMAL, "n", "a"), scope)
    found.bind(Binder(at, Kind.PLACE, "low-light"), scope)
    found.bind(Binder(at, Kind.ANIMAL, "m", "nobody"), scope)
    assert [problem.code for problem in found.problems] == ["word-124", "word-124", "word-123"]


def test_things_are_listed_in_words() -> None:
    assert listed_params((Param(Kind.ANIMAL, "a"), Param(Kind.TANK, "tank"))) == "an animal and the tank"
    assert source_text(truth("size(a) > 3 cm")) == "size(a) > 3 cm"


@pytest.mark.parametrize(
    ("binders", "codes"),
    [
        ("animal a, weapon w of a", []),
        ("animal a, weapon w", ["word-120"]),
        ("animal a, rock r of a", ["word-121"]),
        ("weapon w of a, animal a", ["word-123"]),
        ("place p, weapon w of p", ["word-121"]),
        ("rock r, lamp l, pump p, fish f", []),
        ("rock r, rock r", ["word-124"]),
    ],
)
def test_a_weapon_is_somebodys_and_nothing_else_is(binders: str, codes: list[str]) -> None:
    text = f'rule r\n  for {binders}\n  expect-by-eye "all is well"\n  level advice\n  because "x"\n'
    carries = "relation carries(animal a, weapon w) from computed by weapons-carried\n"
    file, problems = parse_file("t", f"edition 1\n{carries}{text}")
    assert problems == ()
    assert [problem.code for problem in check([file])[1]] == codes
