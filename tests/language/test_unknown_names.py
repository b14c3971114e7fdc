"""Names that nothing has: what is offered fits where they stand."""

from __future__ import annotations

import pytest

from advisor.errors import Problem
from tests.language.texts import checked


def only(text: str) -> Problem:
    """The one problem of a text, about an unknown name."""
    (problem,) = checked(text)[1]
    assert problem.code == "word-104"
    return problem


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("define x(animal a, animal b) as gap(a, b) >= reach-at-most(a)", "reach-most"),
        ("define x(animal a, animal b) as gap(a, b) >= sweeper-alowance", "sweeper-allowance"),
        ("define x(animal a) as light(a.spot) >= lowlight", "low-light"),
        ("define x(animal a) as groop(a) is soft", "group"),
        ("define x(animal a, animal b) as can-hrt(a, b)", "can-hurt"),
    ],
)
def test_the_name_most_like_it_is_offered(text: str, mend: str) -> None:
    assert only(text).mend == mend


def test_a_name_of_another_kind_is_not_offered_however_like_it() -> None:
    # 'low-lights' is most like low-light, which is an amount of light; a length is wanted
    problem = only("define x(animal a) as size(a) >= low-lights")
    assert problem.mend == ""
    assert problem.label == "expected a length (sweeper-allowance); low-light is an amount of light"


def test_a_part_of_a_sum_is_of_the_kind_of_the_other_side() -> None:
    problem = only("define x(animal a, animal b) as gap(a, b) >= reach-mos(a) + 2 cm")
    assert problem.label == "expected a length of an animal (reach-most, reach-usual, size)"
    two = checked("define x(animal a, animal b) as gap(a, b) >= reach-mos(a) + sweeper-alowance")[1]
    assert [(each.label, each.mend) for each in two] == [
        ("expected a length of an animal (reach-most, reach-usual, size)", "reach-most"),
        ("expected a length (sweeper-allowance)", "sweeper-allowance"),
    ]


def test_the_label_says_of_what_it_is_asked() -> None:
    label = only("define x(animal a, animal b) as gap(a, b) >= sweeper-range(a)").label
    assert label == "expected a length of an animal (reach-most, reach-usual, size)"
    label = only("define x(animal a, animal b) as gpa(a, b) >= 3 cm").label
    assert label == "expected a length of an animal and an animal (gap)"


@pytest.mark.parametrize(
    ("name", "mend"),
    [
        ("low-light-50", "low-light - 50 PAR"),
        ("low-light-sweeper-allowance", "low-light - sweeper-allowance"),
        ("sweeper-allowance-2", "sweeper-allowance - 2 cm"),
        ("light-50", "light(p) - 50 PAR"),
    ],
)
def test_a_subtraction_without_spaces_is_told_apart_from_a_slip(name: str, mend: str) -> None:
    problem = only(f"define x(place p) as light(p) >= {name}")
    assert (problem.label, problem.mend) == ("this is one name; a subtraction needs spaces", mend)


def test_a_name_like_nothing_offers_nothing() -> None:
    assert only("define x(animal a) as xyzzy(a)").mend == ""
