"""Whether a larger number makes the rules stricter: which way every rule leans on a name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

from advisor.language.nodes import (
    Aggregate,
    AggregateOp,
    And,
    Arith,
    ArithOp,
    Between,
    Call,
    Compare,
    CompareOp,
    Define,
    Expr,
    Extreme,
    Is,
    Name,
    Negative,
    Not,
    Number,
    Or,
    Prefer,
    Rule,
    Since,
    StepsAway,
)

Signs = frozenset[int]
"""+1: grows with the name, -1: falls with it, 0: cannot be said; empty: does not depend on it."""
_NONE: Signs = frozenset()
_UNSURE: Signs = frozenset({0})


def stricter_way(name: str, rules: Mapping[str, Rule | Prefer], defines: Mapping[str, Define]) -> int:
    """Return +1 if a larger `name` is stricter wherever it counts, -1 if looser, 0 if neither can be said."""
    found: set[int] = set()
    for rule in rules.values():
        asked = rule.expect if isinstance(rule, Rule) else rule.want
        found |= _opposite(_signs(asked, name, defines, 0)) if asked is not None else _NONE
        if rule.when is not None:
            found |= _signs(rule.when, name, defines, 0)
        if isinstance(rule, Rule) and rule.unless is not None:
            found |= _opposite(_signs(rule.unless, name, defines, 0))
    return next(iter(found)) if len(found) == 1 else 0


def _opposite(signs: Signs) -> Signs:
    """The signs of the negative."""
    return frozenset(-sign for sign in signs)


def _many(parts: tuple[Expr, ...], name: str, defines: Mapping[str, Define], depth: int) -> Signs:
    """The signs of several parts that count the same way."""
    return frozenset().union(*(_signs(part, name, defines, depth) for part in parts))


def _signs(node: Expr, name: str, defines: Mapping[str, Define], depth: int) -> Signs:
    """How an expression (a truth: its margin) moves when the name grows."""
    match node:
        case Number() | Is() | Since():
            return _NONE
        case StepsAway(chain=chain):
            return _defined(defines.get(chain.over), name, defines, depth)
        case Name(name=found):
            return frozenset({1}) if found == name else _NONE
        case Call(name=found):
            return frozenset({1}) if found == name else _defined(defines.get(found), name, defines, depth)
        case Compare(op=op, left=left, right=right):
            difference = _signs(left, name, defines, depth) | _opposite(_signs(right, name, defines, depth))
            return difference if op in (CompareOp.AT_LEAST, CompareOp.MORE) else _opposite(difference)
        case Between(value=value, low=low, high=high):
            unsure = _UNSURE if _signs(value, name, defines, depth) else _NONE
            return unsure | _opposite(_signs(low, name, defines, depth)) | _signs(high, name, defines, depth)
        case Not(of=of) | Negative(of=of):
            return _opposite(_signs(of, name, defines, depth))
        case And(items=items) | Or(items=items) | Extreme(items=items):
            return _many(items, name, defines, depth)
        case Arith(op=op, left=left, right=right):
            second = _signs(right, name, defines, depth)
            falls = op in (ArithOp.SUBTRACT, ArithOp.DIVIDE)
            return _signs(left, name, defines, depth) | (_opposite(second) if falls else second)
        case Aggregate():
            return _aggregate(node, name, defines, depth)
        case _:
            assert_never(node)


def _aggregate(node: Aggregate, name: str, defines: Mapping[str, Define], depth: int) -> Signs:
    """How something made of many moves; a condition on what is summed says nothing sure."""
    inside = _signs(node.where, name, defines, depth) if node.where is not None else _NONE
    if node.binder.chain is not None:
        steps = _defined(defines.get(node.binder.chain.over), name, defines, depth)
        inside |= _opposite(steps) if node.op is AggregateOp.EVERY else steps
    if node.op in (AggregateOp.ANY, AggregateOp.EVERY, AggregateOp.COUNT):
        return inside
    value = _signs(node.value, name, defines, depth) if node.value is not None else _NONE
    return value | (_UNSURE if inside else _NONE)


def _defined(define: Define | None, name: str, defines: Mapping[str, Define], depth: int) -> Signs:
    """How a definition moves; a case's condition says nothing sure."""
    if define is None or depth > len(defines):
        return _NONE
    found = _many(tuple(case.value for case in define.cases), name, defines, depth + 1)
    guards = _many(
        tuple(case.when for case in define.cases if case.when is not None), name, defines, depth + 1
    )
    return found | (_UNSURE if guards else _NONE)
