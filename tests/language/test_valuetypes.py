"""What each expression is."""

from __future__ import annotations

import pytest

from advisor.errors import UnusableInput
from advisor.language.nodes import Rule
from advisor.language.valuetypes import scope_of, typed
from advisor.language.walk import conditions, walk
from advisor.model.vocabulary import NumberType, SetType, TruthType, WordType
from advisor.units import Dimension
from tests.language.texts import ANIMALS, base_library, quantity, shipped_trees, truth, typer


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("3 cm", Dimension.LENGTH),
        ("3", Dimension.COUNT),
        ("low-light", Dimension.LIGHT),
        ("gap(a, b) + 3 mm", Dimension.LENGTH),
        ("-size(a)", Dimension.LENGTH),
        ("larger of size(a), 3 cm", Dimension.LENGTH),
        ("count of animal x", Dimension.COUNT),
        ("sum of size(x) for animal x", Dimension.LENGTH),
        ("potency(a) + 1", Dimension.RANK),
        ("1 + potency(a)", Dimension.RANK),
        ("size(a) / size(b)", Dimension.RATIO),
    ],
)
def test_the_dimension_of_a_quantity(text: str, dimension: Dimension) -> None:
    found = typed(quantity(text), ANIMALS, base_library())
    assert isinstance(found, NumberType)
    assert found.dimension is dimension


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("size(a) > 3 cm", TruthType),
        ("can-hurt(a, b)", TruthType),
        ("b is down-flow of a", TruthType),
        ("any neighbour n of a", TruthType),
        ("group(a)", WordType),
        ("footing(a)", SetType),
        ("yes", TruthType),
    ],
)
def test_what_else_an_expression_may_be(text: str, kind: type) -> None:
    assert isinstance(typed(truth(text), ANIMALS, base_library()), kind)


def test_what_was_never_checked_is_refused() -> None:
    with pytest.raises(UnusableInput):
        typed(truth("size(q) > 3 cm"), ANIMALS, base_library())


def test_plain_numbers_fit_count_ratio_and_rank() -> None:
    found = typer()
    for text in ("potency(a) > 3", "swells(a) > 1.5", "(count of animal x) >= 2", "3 < potency(a)"):
        found.truth(truth(text), ANIMALS)
    assert found.problems == []


def test_every_condition_of_the_shipped_rules_is_a_truth() -> None:
    from advisor.language.check import check

    library, _ = check(shipped_trees())
    seen = 0
    for rule in library.rules.values():
        for condition in conditions(rule):
            assert isinstance(typed(condition, scope_of(rule.binders), library), TruthType)
            seen += len(list(walk(condition)))
    assert seen > len(library.rules)
    assert all(isinstance(rule, Rule) for rule in library.rules.values())
