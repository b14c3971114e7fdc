"""Formulas put together from the clauses of rules: when a rule speaks, and when it fails."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import TypeVar, cast

from advisor.errors import Span
from advisor.language.nodes import And, Binder, Define, Expr, Level, Name, Not, Rule, Stage, Text

NOWHERE = Span("")
_Node = TypeVar("_Node")


@dataclass(frozen=True, slots=True)
class Formula:
    """A condition over some bound things."""

    binders: tuple[Binder, ...]
    body: Expr


def every(*parts: Expr | None) -> Expr | None:
    """Return all of some conditions at once; None where there is none."""
    given = tuple(part for part in parts if part is not None)
    return And(NOWHERE, given) if len(given) > 1 else given[0] if given else None


def denied(part: Expr | None) -> Expr | None:
    """Return the opposite of a condition."""
    return None if part is None else part.of if isinstance(part, Not) else Not(NOWHERE, part)


def speaks(rule: Rule) -> Expr | None:
    """Return when a rule asks for what it expects: covered, and not excused."""
    return every(rule.when, denied(rule.unless))


def fails(rule: Rule) -> Expr | None:
    """Return when a rule fails; None for one that is looked at by eye."""
    return None if rule.expect is None else every(rule.when, denied(rule.expect), denied(rule.unless))


def as_rule(formula: Formula) -> Rule:
    """Return a formula as a rule that expects it, so that it can be compiled like any other."""
    nothing = Text(NOWHERE, ())
    return Rule(
        span=NOWHERE,
        name="formula",
        binders=formula.binders,
        when=None,
        expect=formula.body,
        by_eye="",
        until_horizon=False,
        unless=None,
        level=Level.ADVICE,
        stage=Stage.ALWAYS,
        because=nothing,
        matters="",
        remedy=nothing,
        duties=(),
        source=None,
    )


def binders_of(define: Define) -> tuple[Binder, ...]:
    """Return the things a definition is about as the variables of a rule."""
    names: list[str] = []
    found = []
    for param in define.params:
        lives = param.kind.lives
        found.append(Binder(define.span, param.kind, param.name, names[0] if lives and names else ""))
        names += [param.name] if lives else []
    return tuple(found)


def alike(one: Sequence[Binder], other: Sequence[Binder]) -> dict[str, str] | None:
    """Return how the variables of `other` are called in `one`; None where the two bind different things."""
    if len(one) != len(other):
        return None
    called = {theirs.name: ours.name for ours, theirs in zip(one, other, strict=True)}
    for ours, theirs in zip(one, other, strict=True):
        same = (
            ours.kind is theirs.kind
            and ours.neighbour_of == called.get(theirs.neighbour_of, theirs.neighbour_of)
            and ours.weapon_of == called.get(theirs.weapon_of, theirs.weapon_of)
            and ours.chain is None
            and theirs.chain is None
        )
        if not same:
            return None
    return called


def renamed(node: _Node, called: Mapping[str, str]) -> _Node:
    """Return a tree with its variables called otherwise."""
    if all(old == new for old, new in called.items()):
        return node
    return cast(_Node, _renamed(node, called))  # the same classes, rebuilt


def _renamed(node: object, called: Mapping[str, str]) -> object:
    """Any part of a tree, rebuilt where a variable stands in it."""
    if isinstance(node, Name):
        return replace(node, name=called.get(node.name, node.name))
    if isinstance(node, Binder):
        own, around, armed = (called.get(n, n) for n in (node.name, node.neighbour_of, node.weapon_of))
        return replace(node, name=own, neighbour_of=around, weapon_of=armed)
    if isinstance(node, tuple):
        return tuple(_renamed(part, called) for part in node)
    if isinstance(node, Span) or not is_dataclass(node) or isinstance(node, type):
        return node
    parts = {part.name: _renamed(getattr(node, part.name), called) for part in fields(node) if part.init}
    return replace(node, **parts)


def conjuncts(node: Expr | None) -> Iterator[Expr]:
    """Yield what a condition asks for at once, part by part."""
    if isinstance(node, And):
        for item in node.items:
            yield from conjuncts(item)
    elif node is not None:
        yield node
