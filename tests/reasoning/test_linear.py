"""A reading that stands on both sides of a comparison is one reading with one error."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.reasoning.bindings import population_of
from advisor.reasoning.frame import Frame
from advisor.reasoning.linear import collected
from advisor.reasoning.ops import truth
from tests.reasoning.compiled import PAIR, point, sides
from tests.reasoning.grids import random_grid
from tests.reasoning.small import compiled_of, letters


@pytest.mark.parametrize(("expect", "verdict"), [
    ("gap(a, b) >= gap(a, b)", "t"),
    ("gap(a, b) > gap(b, a)", "f"),
    ("gap(a, b) + reach(a) >= gap(a, b) + 3 cm", "t"),
    ("gap(a, b) - 1 cm < gap(a, b)", "t"),
    ("2 * gap(a, b) >= gap(a, b)", "t"),
    ("gap(a, b) >= gap(a, b) / 2", "t"),
    ("gap(a, b) * 50 % <= gap(a, b)", "t"),
    ("-gap(a, b) <= gap(a, b)", "t"),
    ("twice(a, b) >= gap(a, b) + gap(a, b)", "t"),
    ("gap(a, b) between gap(a, b) - 1 cm and gap(a, b) + 1 cm", "t"),
    ("gap(a, b) >= reach(b)", "u"),
])  # fmt: skip
def test_a_reading_on_both_sides_is_the_same_reading(expect: str, verdict: str) -> None:
    library, compiled = compiled_of(
        expect, binders=PAIR, more="define twice(animal a, animal b) in cm as 2 * gap(a, b)\n"
    )
    grid = random_grid(library, 0, animals=2, worlds=0)
    for part, value in enumerate((0.0, np.nan, 500.0, 1.0)):
        grid.number["gap"][part][:] = value
    point(grid, "reach", 5.0)
    assert compiled.expect is not None
    frame = Frame(
        grid,
        population_of(grid),
        np.zeros(1, np.int64),
        {"a": np.array([0]), "b": np.array([1])},
        np.zeros(1),
    )
    assert letters(truth(frame, compiled.expect)) == verdict


@pytest.mark.parametrize(("expect", "terms", "offset"), [
    ("gap(a, b) + reach(a) >= gap(a, b) + 3 cm", {0.0, 1.0}, -3.0),
    ("2 * gap(a, b) - 5 cm >= gap(a, b) / 2", {1.5}, -5.0),
    ("-(gap(a, b) - reach(a)) <= gap(a, b) * 50 %", {-1.5, 1.0}, 0.0),
])  # fmt: skip
def test_factors_and_constants_are_added_up(expect: str, terms: set[float], offset: float) -> None:
    left, right = sides(expect, binders=PAIR)
    found = collected(left, right)
    assert found is not None
    assert {factor for factor, _ in found.terms} == terms
    assert found.offset == offset


def test_a_comparison_in_which_nothing_repeats_is_left_as_it_is() -> None:
    assert collected(*sides("gap(a, b) >= reach(a) + reach(b)", binders=PAIR)) is None


def test_a_product_of_two_readings_is_a_term_of_its_own() -> None:
    found = collected(*sides("reach(a) * potency(a) - reach(a) >= reach(a) * potency(a) - 2 cm"))
    assert found is not None
    assert sorted(factor for factor, _ in found.terms) == [-1.0, 0.0]
