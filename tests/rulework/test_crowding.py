"""Examples with one thing more or less."""

from __future__ import annotations

from advisor.rulework.altering import Slot, Value, told
from advisor.rulework.crowding import crowds_of
from tests.rulework.little import CROWD, ONE, little


def test_one_more_is_like_another_and_one_less_is_none_that_is_asked_about() -> None:
    (example,) = little(ONE, rules=CROWD).examples
    more_x, more_y, less = crowds_of(example)
    assert [given.entity for given in more_y.givens if given.entity] == ["x", "y", "y-twin"]
    assert told(more_y, Slot("gap", ("x", "y-twin"))) == Value(5.0, 5.0)
    assert [given.entity for given in more_x.givens if given.entity] == ["x", "y", "x-twin"]
    assert [given.entity for given in less.givens if given.entity] == ["x"]
    assert told(less, Slot("gap", ("x", "y"))) is None
