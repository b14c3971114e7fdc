"""How expressions bind."""

from __future__ import annotations

import pytest

from advisor.language.format import same_tree
from advisor.language.format_expr import expression
from advisor.language.nodes import (
    Aggregate,
    AggregateOp,
    And,
    Arith,
    ArithOp,
    Call,
    Compare,
    CompareOp,
    Extreme,
    Is,
    IsOp,
    Not,
)
from advisor.model.vocabulary import Kind
from tests.language.texts import codes, faults, quantity, truth


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("size(a) + 1 cm * 2 > 3 cm", "(size(a) + (1 cm * 2)) > 3 cm"),
        ("size(a) - 1 cm - 2 cm > 3 cm", "((size(a) - 1 cm) - 2 cm) > 3 cm"),
        ("fed(a) or pale(a) and not open(b)", "fed(a) or (pale(a) and (not open(b)))"),
        ("not a.group is soft", "not (a.group is soft)"),
        ("a.spot.light > 3 PAR", "light(spot(a)) > 3 PAR"),
        ("b is not down-flow of a", "not down-flow(b, a)"),
        ("size(a) between 1 cm and 2 cm and fed(a)", "(size(a) between 1 cm and 2 cm) and fed(a)"),
        ("-size(a) + 1 cm > 0 cm", "((-size(a)) + 1 cm) > 0 cm"),
        ("any animal x where fed(x) and pale(x)", "any animal x where (fed(x) and pale(x))"),
        ("count of animal x where (fed(x)) >= 3", "(count of animal x where fed(x)) >= 3"),
        ("count of animal x where (size(x) > 1 cm) >= 3", "(count of animal x where size(x) > 1 cm) >= 3"),
        (
            "count of animal x where (size(x) > 1 cm) >= 3 and fed(a)",
            "((count of animal x where (size(x) > 1 cm)) >= 3) and fed(a)",
        ),
        (
            "count of animal x where (x.group is soft) between 1 and 3",
            "(count of animal x where x.group is soft) between 1 and 3",
        ),
        ("larger of size(a), size(b) > 3 cm", "(larger of size(a), size(b)) > 3 cm"),
    ],
)
def test_an_expression_binds_as_its_brackets_say(text: str, same: str) -> None:
    if text.startswith("count of animal x where (fed(x))"):
        # a call in brackets may be a quantity: the comparison stays inside, and the check tells it
        assert not same_tree(truth(text), truth(same))
        return
    left, right = truth(text), truth(same)
    assert _undotted(left) == _undotted(right)


def _undotted(tree: object) -> str:
    """A tree as text, however its calls were written and wherever it stands."""
    from dataclasses import fields, is_dataclass

    if isinstance(tree, tuple):
        return "(" + ", ".join(_undotted(item) for item in tree) + ")"
    if is_dataclass(tree):
        parts = [f.name for f in fields(tree) if f.name not in ("span", "name_span", "dotted")]
        return f"{type(tree).__name__}({', '.join(_undotted(getattr(tree, name)) for name in parts)})"
    return repr(tree)


def test_words_are_compared_in_three_ways() -> None:
    one, many, has = (
        truth("a.group is not soft"),
        truth("a.group is one of soft, clam"),
        truth("a.footing has rock"),
    )
    assert isinstance(one, Is)
    assert (one.op, one.negated) == (IsOp.IS, True)
    assert isinstance(many, Is)
    assert (many.op, len(many.right)) == (IsOp.ONE_OF, 2)
    assert isinstance(has, Is)
    assert has.op is IsOp.HAS


def test_pasted_signs_mean_what_they_show() -> None:
    from advisor.language.nodes import Define
    from advisor.language.parse import parse_file

    file, _ = parse_file("x", "edition 1\ndefine x(animal a) as size(a) ≥ 3 cm and a.group ≠ b.group")
    (item,) = file.declarations
    assert isinstance(item, Define)
    both = item.cases[0].value
    assert isinstance(both, And)
    first, second = both.items
    assert isinstance(first, Compare)
    assert first.op is CompareOp.AT_LEAST
    assert isinstance(second, Is)
    assert second.negated


def test_a_list_of_terms_ends_before_a_sum_and_says_so() -> None:
    problems = faults("define x(animal a, animal b) in cm as larger of size(a), size(b) + 2 cm")
    assert codes(problems) == ["word-112"]
    found = quantity("(larger of size(a), size(b)) + 2 cm")
    assert isinstance(found, Arith)
    assert found.op is ArithOp.ADD
    assert isinstance(found.left, Extreme)


def test_what_is_summed_stands_before_its_binder() -> None:
    found = quantity("sum of size(x) for neighbour x of a where not fed(x)")
    assert isinstance(found, Aggregate)
    assert (found.op, found.binder.neighbour_of) == (AggregateOp.SUM, "a")
    assert isinstance(found.where, Not)


def test_a_chain_may_not_be_endless() -> None:
    assert codes(faults("define x(animal a) in cm as " + " + ".join(["size(a)"] * 61))) == ["size-123"]


def test_a_relation_may_be_said_with_by() -> None:
    found = truth("b is shaded by a")
    assert isinstance(found, Call)
    assert (found.name, [getattr(arg, "name", "") for arg in found.args]) == ("shaded-by", ["b", "a"])
    denied = truth("b is not shaded by a")
    assert isinstance(denied, Not)
    assert isinstance(denied.of, Call)
    assert [expression(node) for node in (found, denied)] == ["b is shaded by a", "b is not shaded by a"]
    assert expression(truth("shaded-by(b, a)")) == "shaded-by(b, a)"


def test_a_weapon_is_bound_with_its_animal() -> None:
    found = quantity("most of reach(w) for weapon w of a where potency(w) >= 2")
    assert isinstance(found, Aggregate)
    assert (found.binder.kind, found.binder.name, found.binder.weapon_of) == (Kind.WEAPON, "w", "a")
    assert found.binder.neighbour_of == ""
    for kind in ("rock", "lamp", "pump", "fish", "place"):
        truth_of = truth(f"any {kind} x where ground(x) is {kind}")
        assert isinstance(truth_of, Aggregate)
        assert truth_of.binder.kind.value == kind
        assert expression(truth_of) == f"any {kind} x where ground(x) is {kind}"
    assert expression(found) == "most of reach(w) for weapon w of a where potency(w) >= 2"
