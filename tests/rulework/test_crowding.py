"""Examples with one thing more or less."""

from __future__ import annotations

import pytest

from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import rule_of, try_out
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


@pytest.mark.parametrize(
    ("there", "fresh"), [("y-twin", "y-twin-2"), ("y-twin, y-twin-2", "y-twin-3"), ("y-twin-2", "y-twin")]
)
def test_one_more_has_a_name_that_nothing_in_the_example_has(there: str, fresh: str) -> None:
    more = "".join(f"        {name} is coral\n" for name in there.split(", "))
    library = little(ONE.replace("        y is coral\n", f"        y is coral\n{more}"), rules=CROWD)
    (example,) = library.examples
    crowds = list(crowds_of(example))
    for crowd in crowds:
        names = [given.entity for given in crowd.givens if given.entity]
        assert len(names) == len(set(names))
    assert any(fresh == given.entity for crowd in crowds for given in crowd.givens)
    rule = rule_of("roomy", library)
    assert rule is not None
    trial = try_out(compile_rule(rule, library), crowds, library)
    assert len(trial.cases) == len(crowds)
