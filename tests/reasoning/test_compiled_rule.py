"""What a rule is made of once it is compiled."""

from __future__ import annotations

from advisor.reasoning.compile import compile_prefer
from advisor.reasoning.frame import Ref
from advisor.reasoning.logic_ops import Every
from advisor.reasoning.ops import RelationCell
from tests.reasoning import armed
from tests.reasoning.small import compiled_of, library_of


def test_a_rule_and_a_preference_know_their_variables() -> None:
    _, rule = compiled_of("gap(a, b) >= 3 cm", binders="animal a, neighbour b of a")
    assert [binder.name for binder in rule.binders] == ["a", "b"]
    library = library_of(
        'prefer p\n  for animal a\n  want size(a) >= 3 cm\n  weight 1\n  because "{a} is small"'
    )
    prefer = compile_prefer(library.prefers["p"], library)
    assert [binder.name for binder in prefer.binders] == ["a"]
    assert prefer.because.pieces[0] == Ref("a", prefer.binders[0].kind)
    assert not prefer.aggregates


def test_a_rule_about_weapons_asks_whether_they_are_there() -> None:
    for when, parts in (("", 1), ("weapon-potency(w) >= 2", 2)):
        text = armed.rule_text("animal a, weapon w of a", "weapon-reach(w) <= 3 cm", when)
        made = armed.compiled(armed.library(text, [])).when
        items = made.items if isinstance(made, Every) else (made,)
        assert len(items) == parts
        first = items[0]
        assert isinstance(first, RelationCell)
        assert first.name == "carries"
        assert [ref.var for ref in first.refs] == ["a", "w"]
