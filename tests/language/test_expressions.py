from __future__ import annotations

from dataclasses import FrozenInstanceError
from typing import get_args

import pytest

from advisor.errors import Span
from advisor.language import expressions, nodes
from advisor.language.expressions import Compare, CompareOp, Expr, Name, Number

HERE = Span("x.rules")


def test_expressions_are_frozen() -> None:
    number = Number(HERE, 5.0, "cm")
    with pytest.raises(FrozenInstanceError):
        number.value = 6.0  # type: ignore[misc]  # the very thing that must not work


def test_equal_trees_are_equal_and_can_be_keys() -> None:
    one = Compare(HERE, CompareOp.AT_LEAST, Name(HERE, "a"), Number(HERE, 5.0, "cm"))
    other = Compare(HERE, CompareOp.AT_LEAST, Name(HERE, "a"), Number(HERE, 5.0, "cm"))
    assert one == other
    assert len({one, other}) == 1


def test_every_expression_is_known_among_the_nodes() -> None:
    for kind in get_args(Expr):
        assert getattr(nodes, kind.__name__) is getattr(expressions, kind.__name__)
