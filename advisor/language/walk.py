"""Going through expressions: what stands below a node, and which names it leads to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import assert_never

from advisor.language.nodes import (
    Aggregate,
    And,
    Arith,
    Between,
    Call,
    Compare,
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


def children(node: Expr) -> tuple[Expr, ...]:
    """Return the expressions directly below one."""
    match node:
        case Number() | Name():
            return ()
        case Call(args=args):
            return args
        case Compare(left=left, right=right) | Arith(left=left, right=right):
            return (left, right)
        case Between(value=value, low=low, high=high):
            return (value, low, high)
        case Is(left=left, right=listed):
            return (left, *listed)
        case Not(of=of) | Negative(of=of):
            return (of,)
        case And(items=items) | Or(items=items) | Extreme(items=items):
            return items
        case Since(of=of):
            return (of,)
        case StepsAway(thing=thing):
            return (thing,)
        case Aggregate(value=value, where=where):
            return tuple(part for part in (value, where) if part is not None)
        case _:
            assert_never(node)


def walk(node: Expr) -> Iterator[Expr]:
    """Yield an expression and everything below it."""
    todo = [node]
    while todo:
        item = todo.pop()
        yield item
        todo.extend(reversed(children(item)))


def conditions(rule: Rule | Prefer) -> tuple[Expr, ...]:
    """Return the expressions a verdict or comfort rests on."""
    if isinstance(rule, Rule):
        return tuple(part for part in (rule.when, rule.expect, rule.unless) if part is not None)
    return tuple(part for part in (rule.when, rule.want) if part is not None)


def bodies(define: Define) -> tuple[Expr, ...]:
    """Return the values and guards of a definition."""
    return tuple(part for case in define.cases for part in (case.value, case.when) if part is not None)


def names_used(parts: tuple[Expr, ...], defines: Mapping[str, Define]) -> frozenset[str]:
    """Return every let, measure, relation and definition that expressions lead to, through definitions.

    The words that something is compared with are no names of this kind.
    """
    found: set[str] = set()
    todo = list(parts)
    while todo:
        node = todo.pop()
        if isinstance(node, Is):
            todo.append(node.left)
            todo.extend(item for item in node.right if not isinstance(item, Name))
            continue
        todo.extend(children(node))
        used = relied_on(node)
        if isinstance(node, Name):
            used = (node.name,)
        for name in used:
            if name not in found:
                found.add(name)
                if not isinstance(node, Name) and name in defines:
                    todo.extend(bodies(defines[name]))
    return frozenset(found)


def relied_on(node: Expr) -> tuple[str, ...]:
    """Return the measures, relations and definitions that a node itself asks."""
    match node:
        case Call(name=name):
            return (name,)
        case StepsAway(chain=chain):
            return (chain.over,)
        case Aggregate(binder=binder) if binder.chain is not None:
            return (binder.chain.over,)
        case _:
            return ()
