"""Formulas out of the clauses of rules."""

from __future__ import annotations

from advisor.language.nodes import And, Expr, Not
from advisor.rulework.formulas import (
    Formula,
    alike,
    as_rule,
    binders_of,
    conjuncts,
    denied,
    every,
    fails,
    renamed,
)
from advisor.rulework.lint_rules import text_of
from tests.language.texts import base_library, rule, truth

DIM = "rule dim\n  for animal {0}\n  when group({0}) is soft\n  expect light({0}.spot) <= 90 PAR\n"
DIM += '  unless size({0}) > 5 cm\n  level advice\n  because "{{{0}}}"'


def shown(body: Expr | None) -> str:
    return "" if body is None else text_of(body)


def test_a_rule_fails_where_it_speaks_and_is_not_met() -> None:
    assert shown(fails(rule(DIM.format("a")))) == (
        "group(a) is soft and not (light(a.spot) <= 90 PAR) and not (size(a) > 5 cm)"
    )
    by_eye = rule('rule look\n  for animal a\n  expect-by-eye "open"\n  level advice\n  because "{a}"')
    assert fails(by_eye) is None


def test_all_of_nothing_is_nothing() -> None:
    body = truth("size(a) > 5 cm")
    assert every(None, None) is None
    assert every(None, body) is body
    assert isinstance(every(body, body), And)


def test_what_is_denied_twice_stands_again() -> None:
    body = truth("size(a) > 5 cm")
    assert isinstance(denied(body), Not)
    assert denied(denied(body)) is body
    assert denied(None) is None


def test_rules_that_bind_the_same_are_alike_whatever_they_call_it() -> None:
    one, other = rule(DIM.format("a")), rule(DIM.format("z"))
    called = alike(one.binders, other.binders)
    assert called == {"z": "a"}
    moved = renamed(other, called)
    assert shown(moved.expect) == shown(one.expect)
    assert moved.binders[0].name == "a"


def test_a_pair_is_not_like_one_animal() -> None:
    near = "rule near\n  for animal a, neighbour b of a\n  expect gap(a, b) > 2 cm"
    pair = rule(near + '\n  level advice\n  because "{a}"')
    assert alike(rule(DIM.format("a")).binders, pair.binders) is None


def test_parts_of_a_condition_are_taken_apart() -> None:
    body = truth("size(a) > 5 cm and (size(b) > 1 cm and group(a) is soft)")
    assert [text_of(part) for part in conjuncts(body)] == [
        "size(a) > 5 cm",
        "size(b) > 1 cm",
        "group(a) is soft",
    ]


def test_a_formula_is_a_rule_that_expects_it() -> None:
    body = truth("size(a) > 5 cm")
    binders = binders_of(base_library().defines["can-hurt"])
    made = as_rule(Formula(binders, body))
    assert made.expect is body
    assert [binder.neighbour_of for binder in made.binders] == ["", "a"]
