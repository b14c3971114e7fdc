"""Limits, values and regions of the cells of a formula."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.reasoning.columns import Numbers, Truths
from advisor.reasoning.ops import NumberCell
from advisor.rulework.cellspace import (
    NotAnalysedError,
    comparisons_in,
    cuts_in,
    ends_of,
    take_column,
    unknown_column,
)
from tests.language.texts import base_library
from tests.rulework.lints import space


def test_limits_are_where_a_lone_reading_turns() -> None:
    made = space("2 times * size(a) - 1 cm >= 9 cm and size(a) < 30 cm and size(a) < size(b)", base_library())
    cuts = {cell.refs[0].var: limits for cell, limits in cuts_in(made.op).items()}
    assert cuts == {"a": (5.0, 30.0)}
    assert len(comparisons_in(made.op)) == 3


def test_regions_cover_the_physical_range_without_a_limit_in_two() -> None:
    made = space("size(a) >= 5 cm", base_library())
    (choice,) = made.choices
    assert isinstance(choice.cell, NumberCell)
    low, high = ends_of(choice.cell)
    assert choice.regions[0] == (low, low)
    assert (5.0, 5.0) in choice.regions
    assert choice.regions[-1][1] == high
    ends = [end for region in choice.regions for end in region]
    assert ends == sorted(ends)
    gaps = [after[0] - before[1] for before, after in zip(choice.regions, choice.regions[1:], strict=False)]
    assert max(gaps) < 1e-6


def test_values_worth_trying_lie_on_both_sides_of_a_limit() -> None:
    (choice,) = space("size(a) >= 5 cm", base_library()).choices
    assert {point for point in choice.points if abs(point - 5.0) <= 0.5} >= {4.5, 5.0, 5.5} or (
        min(choice.points) < 5.0 < max(choice.points)
    )
    assert all(0.5 <= point <= 150.0 for point in choice.points)


def test_words_that_are_named_and_one_that_is_not_are_tried() -> None:
    (choice,) = space("group(a) is one of soft, clam", base_library()).choices
    assert set(choice.named) > {"soft", "clam"}
    assert len(choice.named) == 3
    (name, other) = space("genus(a) is genus(b)", base_library()).choices
    assert len(name.words) == len(other.words) == 2


def test_what_asks_of_many_is_not_analysed() -> None:
    with pytest.raises(NotAnalysedError):
        space("count of neighbour n of a where (gap(a, n) < 10 cm) <= 2", base_library())


def test_an_unknown_cell_may_be_anything() -> None:
    choices = {choice.cell.name: choice for choice in space(
        "size(a) > 5 cm and divider(a, b)", base_library()).choices}  # fmt: skip
    number, relation = unknown_column(choices["size"], 2), unknown_column(choices["divider"], 2)
    assert isinstance(number, Numbers)
    assert isinstance(relation, Truths)
    assert (number.low[0], number.high[0]) == (0.5, 150.0)
    assert not (relation.yes | relation.no).any()
    assert take_column(number, np.array([1])).low.tolist() == [0.5]  # type: ignore[union-attr]  # numbers stay numbers
