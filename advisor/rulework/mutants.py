"""Small changes of a rule, each of which its examples ought to notice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import cast

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import (
    Aggregate,
    AggregateOp,
    And,
    Arith,
    ArithOp,
    Between,
    Call,
    Case,
    Compare,
    CompareOp,
    Define,
    Expr,
    Extreme,
    Is,
    IsOp,
    Name,
    Negative,
    Not,
    Number,
    Or,
    Prefer,
    Rule,
)
from advisor.language.walk import children
from advisor.reasoning import compare_ops
from advisor.reasoning.ops import Op
from advisor.rulework.coverage import written
from advisor.units import DEFAULT_STEP, PLAIN, Unit, unit_named

_STRICT = {
    CompareOp.AT_LEAST: CompareOp.MORE,
    CompareOp.MORE: CompareOp.AT_LEAST,
    CompareOp.AT_MOST: CompareOp.LESS,
    CompareOp.LESS: CompareOp.AT_MOST,
}
_TURNED = {
    CompareOp.AT_LEAST: CompareOp.AT_MOST,
    CompareOp.MORE: CompareOp.LESS,
    CompareOp.AT_MOST: CompareOp.AT_LEAST,
    CompareOp.LESS: CompareOp.MORE,
}
_SWAPPED = {
    AggregateOp.ANY: AggregateOp.EVERY,
    AggregateOp.EVERY: AggregateOp.ANY,
    AggregateOp.LEAST: AggregateOp.MOST,
    AggregateOp.MOST: AggregateOp.LEAST,
}
_NOWHERE = Span("")

Thing = Rule | Prefer | Define


@dataclass(frozen=True, slots=True)
class Edit:
    """One node of an expression written otherwise; `after` None where it is left out."""

    kind: str
    before: Expr
    after: Expr | None


@dataclass(frozen=True, slots=True)
class Mutant:
    """A rule, preference or definition with one small change."""

    thing: Thing
    changed: Thing
    kind: str
    """``limit a step higher``, ``strictness``, ``left out`` …"""
    clause: str
    span: Span
    before: str
    after: str
    node: Expr
    """What was changed, as it was."""
    fresh: Expr | None
    """What stands there now."""


def mutants_of(thing: Thing, ops: Mapping[int, Op], library: Library) -> Iterator[Mutant]:
    """Yield every small change of one thing.

    Parameters
    ----------
    ops
        The operations of its nodes by identity, from which the step of each limit is taken.
    """
    if isinstance(thing, Define):
        yield from _of_define(thing, ops, library)
        return
    clauses = ("when", "expect", "unless") if isinstance(thing, Rule) else ("when", "want")
    for clause in clauses:
        node: Expr | None = getattr(thing, clause)
        if node is None:
            continue
        for edit, whole in _edits(node, ops, library):
            yield _made(thing, _with_clause(thing, clause, whole), edit, clause)
        if clause in ("when", "unless"):
            yield _made(thing, _with_clause(thing, clause, None), Edit("left out", node, None), clause)


def _with_clause(thing: Rule | Prefer, clause: str, node: Expr | None) -> Rule | Prefer:
    """A rule with one clause written otherwise."""
    match clause:
        case "when":
            return replace(thing, when=node)
        case "unless":
            return replace(cast(Rule, thing), unless=node)  # only a rule has exceptions
        case "expect":
            return replace(cast(Rule, thing), expect=node)
        case _:
            return replace(cast(Prefer, thing), want=cast(Expr, node))  # never left out


def _of_define(define: Define, ops: Mapping[int, Op], library: Library) -> Iterator[Mutant]:
    """Every small change of a definition."""
    for index, case in enumerate(define.cases):
        for clause, node in (("when", case.when), ("as", case.value)):
            for edit, whole in _edits(node, ops, library) if node is not None else ():
                fresh = replace(case, when=whole) if clause == "when" else replace(case, value=whole)
                yield _made(define, _with_case(define, index, fresh), edit, clause)
        if case.when is not None:
            gone = _with_case(define, index, None)
            edit = Edit("case left out", case.value, None)
            yield _made(define, gone, edit, "case")


def _with_case(define: Define, index: int, case: Case | None) -> Define:
    """A definition with one case written otherwise, or left out."""
    fresh = () if case is None else (case,)
    return replace(define, cases=(*define.cases[:index], *fresh, *define.cases[index + 1 :]))


def _made(thing: Thing, changed: Thing, edit: Edit, clause: str) -> Mutant:
    """A change with its words."""
    return Mutant(
        thing,
        changed,
        edit.kind,
        clause,
        edit.before.span,
        written(edit.before),
        "" if edit.after is None else written(edit.after),
        edit.before,
        edit.after,
    )


def _edits(node: Expr, ops: Mapping[int, Op], library: Library) -> Iterator[tuple[Edit, Expr]]:
    """Every change of one expression: what is changed, and the whole as it is then."""
    for edit in _own(node, ops, library):
        if edit.after is not None:
            yield edit, edit.after
    if isinstance(node, And | Or) and len(node.items) > 1:
        for index, item in enumerate(node.items):
            left = (*node.items[:index], *node.items[index + 1 :])
            yield Edit("left out", item, None), left[0] if len(left) == 1 else replace(node, items=left)
    if isinstance(node, Call | Is):  # the things it is about and the words it names are no parts to change
        return
    limits = _limits(node)
    for index, child in enumerate(children(node)):
        moved = any(child is limit for limit in limits)
        for edit, whole in _edits(child, ops, library):
            if not (moved and edit.before is child and edit.kind.startswith("number")):
                yield edit, with_child(node, index, whole)


def _limits(node: Expr) -> tuple[Expr, ...]:
    """The sides of a comparison, which are moved as limits."""
    match node:
        case Compare(left=left, right=right):
            return (left, right)
        case Between(value=value, low=low, high=high):
            return (value, low, high)
        case _:
            return ()


def _own(node: Expr, ops: Mapping[int, Op], library: Library) -> Iterator[Edit]:
    """The changes of one node itself."""
    match node:
        case Compare(op=op):
            yield Edit("strictness", node, replace(node, op=_STRICT[op]))
            yield Edit("turned round", node, replace(node, op=_TURNED[op]))
            yield from _moved(node, {"limit": 1}, ops, library)
        case Between():
            yield from _moved(node, {"low end": 1, "high end": 2}, ops, library)
        case Is():
            yield Edit("denied", node, replace(node, negated=not node.negated))
            if node.op is IsOp.ONE_OF and len(node.right) > 1:
                for index in range(len(node.right)):
                    fewer = (*node.right[:index], *node.right[index + 1 :])
                    yield Edit("a word left out", node, replace(node, right=fewer))
        case Call() if _is_truth(node, library):
            yield Edit("denied", node, Not(node.span, node))
        case Extreme(largest=largest):
            yield Edit("larger for smaller", node, replace(node, largest=not largest))
        case Aggregate(op=op) if op in _SWAPPED:
            yield Edit(f"{_SWAPPED[op].value} for {op.value}", node, replace(node, op=_SWAPPED[op]))
        case Aggregate(where=where) if where is not None:
            yield Edit("condition left out", node, replace(node, where=None))
        case Number() | Name():
            yield from _nudged(node, library)


def _is_truth(node: Call, library: Library) -> bool:
    """Whether a call is a relation or a defined truth."""
    define = library.defines.get(node.name)
    return node.name in library.vocabulary.relations or (define is not None and define.unit is None)


def _moved(
    node: Compare | Between, ends: dict[str, int], ops: Mapping[int, Op], library: Library
) -> Iterator[Edit]:
    """A limit moved by a step of what is compared, up and down; `ends` are named parts of `children`."""
    op = ops.get(id(node))
    if not isinstance(op, compare_ops.Compare | compare_ops.Within):
        return
    step = op.step / op.unit.factor
    for name, index in ends.items():
        for sign, word in ((1.0, "higher"), (-1.0, "lower")):
            fresh = _shifted(children(node)[index], sign * step, op.unit.name, library)
            yield Edit(f"{name} a step {word}", node, with_child(node, index, fresh))


def _shifted(limit: Expr, by: float, unit: str, library: Library) -> Expr:
    """An expression with a little more or less."""
    number = _literal(limit, library)
    if number is not None:
        factor = _unit(unit).factor / _unit(number.unit).factor
        return replace(number, value=_clean(number.value + by * factor))
    op = ArithOp.ADD if by > 0 else ArithOp.SUBTRACT
    return Arith(limit.span, op, limit, Number(_NOWHERE, _clean(abs(by)), unit))


def _nudged(node: Number | Name, library: Library) -> Iterator[Edit]:
    """A number moved by a step of its kind, up and down."""
    number = _literal(node, library)
    if number is None:
        return
    unit = _unit(number.unit)
    step = DEFAULT_STEP[unit.dimension] / unit.factor
    for sign, word in ((1.0, "higher"), (-1.0, "lower")):
        fresh = replace(number, value=_clean(number.value + sign * step))
        yield Edit(f"number a step {word}", node, fresh)


def _literal(node: Expr, library: Library) -> Number | None:
    """A number as written, or the one a name stands for."""
    match node:
        case Number():
            return node
        case Name(name=name) if name in library.lets:
            return replace(library.lets[name].value, span=node.span)
        case _:
            return None


def _unit(name: str) -> Unit:
    """A unit by its name, empty for a plain number."""
    return unit_named(name) if name else PLAIN


def _clean(value: float) -> float:
    """A number without the dust of floating point."""
    return float(f"{value:.10g}")


def with_child(node: Expr, index: int, fresh: Expr) -> Expr:
    """Return a node with one of its `children`, counted in their order, replaced."""
    parts = list(children(node))
    parts[index] = fresh
    match node:
        case Compare() | Arith():
            return replace(node, left=parts[0], right=parts[1])
        case Between():
            return replace(node, value=parts[0], low=parts[1], high=parts[2])
        case And() | Or() | Extreme():
            return replace(node, items=tuple(parts))
        case Not() | Negative():
            return replace(node, of=parts[0])
        case Aggregate(value=None):
            return replace(node, where=parts[0])
        case Aggregate(where=None):
            return replace(node, value=parts[0])
        case Aggregate():
            return replace(node, value=parts[0], where=parts[1])
        case _:
            return node
