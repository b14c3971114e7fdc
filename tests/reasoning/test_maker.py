"""The operations of one rule: each distinct one once, variables that hide none, events and chains."""

from __future__ import annotations

import pytest

from advisor.language.library import Library
from advisor.model.vocabulary import Kind
from advisor.reasoning.frame import Ref
from advisor.reasoning.logic_ops import TruthAggregate
from advisor.reasoning.maker import Maker
from advisor.reasoning.ops import NumberCell, Op
from advisor.reasoning.scales import CompileError
from advisor.reasoning.step_ops import StepsAway
from tests.reasoning.compiled import PAIR, below, expect_op
from tests.reasoning.small import compiled_of, expect_of, library_of, rule_text


def made(library: Library, **scope: Kind) -> Op:
    """The operation of a rule's expectation."""
    return Maker(library).expr(expect_of(library), {name: Ref(name, kind) for name, kind in scope.items()})


def test_like_expressions_are_one_operation() -> None:
    op = expect_op("gap(a, b) >= size(a) and gap(b, a) <= 3 * size(a)", binders=PAIR)
    gaps = [item for item in below(op) if isinstance(item, NumberCell) and item.name == "gap"]
    sizes = [item for item in below(op) if isinstance(item, NumberCell) and item.name == "size"]
    assert (len(gaps), len(sizes)) == (1, 1)


def test_the_days_since_an_event_are_a_cell_of_the_kind_asked_about() -> None:
    op = expect_op("days since fed of tank <= days since fed of a")
    cells = {item.name: item.refs for item in below(op) if isinstance(item, NumberCell)}
    assert set(cells) == {"days-since-fed-of-tank", "days-since-fed"}
    assert [ref.target for ref in cells["days-since-fed-of-tank"]] == [Kind.TANK]


def test_a_chain_knows_where_it_starts_and_ends_and_what_makes_a_link() -> None:
    op = expect_op("b is within 2 steps of a over above", binders=PAIR)
    assert isinstance(op, StepsAway)
    assert (op.start.var, op.end.var, op.steps, op.over) == ("a", "b", 2, "above")
    (link,) = [item for item in below(op.condition) if item is op.condition]
    refs = getattr(link, "refs", ())
    assert [ref.var for ref in refs] == [op.binder.name, op.before]


def test_a_chain_within_a_chain_has_variables_of_its_own() -> None:
    more = "define near(animal a, animal b) as b is within 2 steps of a over above\n"
    op = expect_op("b is within 3 steps of a over near", more=more, binders=PAIR)
    chains = [item for item in below(op) if isinstance(item, StepsAway)]
    assert len({chain.before for chain in chains} | {chain.binder.name for chain in chains}) == 4


def test_a_chain_makes_a_rule_depend_on_the_whole_tank() -> None:
    _, compiled = compiled_of("b is within 2 steps of a over above", binders=PAIR)
    assert compiled.aggregates
    _, plain = compiled_of("above(b, a)", binders=PAIR)
    assert not plain.aggregates


def test_what_is_looked_for_in_a_chain_is_asked_of_its_members_only() -> None:
    op = expect_op("any animal n within 2 steps of a over above where size(n) >= 3 cm")
    assert isinstance(op, TruthAggregate)
    (chain,) = [item for item in below(op.condition) if isinstance(item, StepsAway)]
    assert (chain.start.var, chain.end.var) == ("a", op.binder.name)


def test_a_name_that_nothing_gives_a_value_is_refused() -> None:
    library = library_of(rule_text("gap(a, b) >= 3 cm", binders=PAIR))
    with pytest.raises(CompileError):
        made(library, a=Kind.ANIMAL)
