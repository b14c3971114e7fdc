"""Quantities that do not go together."""

from __future__ import annotations

from advisor.errors import Problem
from tests.language.texts import ANIMALS, quantity, truth, typer


def only(text: str) -> Problem:
    """The one problem of a condition."""
    found = typer()
    found.truth(truth(text), ANIMALS)
    (problem,) = found.problems
    return problem


def test_both_operands_are_shown_with_what_they_are() -> None:
    problem = only("gap(a, b) >= low-light")
    assert problem.what == "a length is compared with an amount of light"
    assert problem.label == "cm, length"
    assert problem.related[0].label.startswith("50 PAR, light (set at base.rules:")
    assert problem.mend == "did you mean sweeper-allowance (5 cm)?"


def test_a_bare_number_is_given_the_unit_of_the_other_side() -> None:
    problem = only("gap(a, b) <= 15")
    assert (problem.code, problem.label) == ("units-202", "gap is measured in cm")
    assert problem.mend == "15 cm          (15 mm would be allowed, too)"
    assert only("15 >= gap(a, b)").mend.startswith("15 cm")


def test_a_temperature_is_no_difference_of_two() -> None:
    assert only("temperature(tank) >= 3 K").mend == "°C is a temperature, K is a difference of two"


def test_what_cannot_be_added_is_told_in_words() -> None:
    found = typer()
    assert found.quantity(quantity("size(a) + light(p)"), ANIMALS) is None
    assert found.problems[0].what == "an amount of light cannot be added to a length"
