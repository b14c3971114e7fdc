"""A rule's text and its recorded evaluation, gone through hand in hand: what each condition came out as.

The truths are those of the compiled operations that judged the row; nothing is
evaluated a second time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.language.library import Library
from advisor.language.nodes import (
    Aggregate,
    AggregateOp,
    And,
    Arith,
    Between,
    Call,
    Case,
    Compare,
    Define,
    Expr,
    Extreme,
    Is,
    Name,
    Negative,
    Not,
    Or,
    StepsAway,
)
from advisor.language.walk import children
from advisor.reasoning.columns import Truths
from advisor.reasoning.compare_ops import Compare as CompareOp
from advisor.reasoning.compare_ops import Within
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.logic_ops import Every, Exact, Negation, NumberAggregate, Some, TruthAggregate
from advisor.reasoning.ops import Arithmetic, Cases, Defined, DefinedQuantity, Minus, Op, truth
from advisor.reasoning.ops import Extreme as ExtremeOp
from advisor.reasoning.record import Row, members_of

Condition = Compare | Between | Is | Call | Aggregate | StepsAway
"""What can be true or false by itself, neither joined nor denied."""


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """One condition, or one case of a definition, as one row had it.

    `taken` is the truth of a condition; of a case whether it is the one that applies.
    """

    node: Condition | Case
    op: Op
    row: Row
    taken: bool | None


def conditions_of(node: Expr) -> Iterator[Condition]:
    """Yield every condition of an expression in the order written, those inside aggregates too."""
    match node:
        case Name():
            return
        case And() | Or() | Not():
            below = children(node)
        case Aggregate(op=op, value=value, where=where):
            if op in (AggregateOp.ANY, AggregateOp.EVERY):
                yield node
            below = tuple(part for part in (value, where) if part is not None)
            yield from (found for part in below for found in _below(part, part is where))
            return
        case Compare() | Between():
            yield node
            below = children(node)
            yield from (found for part in below for found in _below(part, False))
            return
        case Is() | Call() | StepsAway():
            yield node
            return
        case _:
            below = ()
    for part in below:
        yield from conditions_of(part)


def conditions_within(node: Expr) -> Iterator[Condition]:
    """Yield every condition that a quantity rests on, in the order written."""
    return _below(node, formula=False)


def _below(node: Expr, formula: bool) -> Iterator[Condition]:
    """The conditions inside a quantity, or of a formula."""
    if formula or isinstance(node, Aggregate):
        yield from conditions_of(node)
    elif not isinstance(node, Call):
        for part in children(node):
            yield from _below(part, False)


def clauses_of(compiled: CompiledRule) -> tuple[tuple[str, Expr, Op], ...]:
    """Return each written clause of a rule with its operation."""
    rule = compiled.rule
    named = (("when", rule.when), ("expect", rule.expect), ("unless", rule.unless))
    found = []
    for (name, node), op in zip(named, (compiled.when, compiled.expect, compiled.unless), strict=True):
        if node is not None and op is not None:
            found.append((name, node, _own_part(op, compiled) if name == "when" else op))
    return tuple(found)


def _own_part(when: Op, compiled: CompiledRule) -> Op:
    """The written part of a `when` that also asks whether the things a rule binds are meant at all."""
    plain = _plain(when)
    more = any(binder.weapon_of or binder.chain is not None for binder in compiled.binders)
    return plain.items[-1] if more and isinstance(plain, Every) else when


def sights_of(compiled: CompiledRule, row: Row, library: Library) -> Iterator[tuple[str, Sight]]:
    """Yield every condition one row reached, with the clause it was reached from.

    What is not covered reaches nothing behind `when`, and what holds needs no `unless`.
    """
    done = False
    for name, node, op in clauses_of(compiled):
        if done:
            return
        for sight in _follow(node, op, row, library):
            yield name, sight
        came = truth(row.frame, op)
        done = bool(came.no[row.at]) if name == "when" else bool(came.yes[row.at])


def ops_of(compiled: CompiledRule, library: Library) -> dict[int, Op]:
    """Return the operation of every node of a rule and of the definitions it uses, by the node's identity."""
    found: dict[int, Op] = {}
    todo = [(node, op) for _, node, op in clauses_of(compiled)]
    while todo:
        node, op = todo.pop()
        made = _plain(op)
        found[id(node)] = made
        todo.extend(_pairs(node, made, library))
    return found


def _pairs(node: Expr, op: Op, library: Library) -> list[tuple[Expr, Op]]:
    """The nodes directly below one, definitions opened, each with its operation."""
    match node, op:
        case Call(name=name), Defined(body=body):
            return [(library.defines[name].cases[0].value, body)]
        case Call(name=name), DefinedQuantity(body=body):
            return _case_pairs(library.defines[name], body)
        case (And(items=nodes), Every(items=ops)) | (Or(items=nodes), Some(items=ops)):
            return list(zip(nodes, ops, strict=True))
        case Not(of=inner), Negation(of=below):
            return [(inner, below)]
        case StepsAway(chain=chain), TruthAggregate(condition=link):
            made = _plain(link)
            found = library.defines.get(chain.over)
            return [(found.cases[0].value, made.body)] if found and isinstance(made, Defined) else []
        case Compare(left=left, right=right), CompareOp(left=a, right=b):
            return [(left, a), (right, b)]
        case Between(), Within():
            return list(zip(children(node), op.inputs, strict=True))
        case Aggregate(where=where, value=value), TruthAggregate() | NumberAggregate():
            parts = ((where, op.condition), (value, getattr(op, "of", None)))
            return [(part, below) for part, below in parts if part is not None and below is not None]
        case _:
            return _terms(node, op)


def _case_pairs(define: Define, body: Op) -> list[tuple[Expr, Op]]:
    """The guards and values of a definition."""
    if not isinstance(body, Cases):
        return [(define.cases[0].value, body)]
    found: list[tuple[Expr, Op]] = []
    for case, value, guard in zip(define.cases, body.values, body.guards, strict=True):
        found.append((case.value, value))
        if case.when is not None and guard is not None:
            found.append((case.when, guard))
    return found


def _follow(node: Expr, op: Op, row: Row, library: Library) -> Iterator[Sight]:
    """Every condition below one node, with its operation and row."""
    made = _plain(op)
    match node, made:
        case Call(name=name), DefinedQuantity(body=body):
            yield from _follow_cases(library.defines[name], body, row, library)
            return
        case Aggregate(), TruthAggregate() | NumberAggregate():
            yield from _follow_members(node, made, row, library)
            return
        case StepsAway(chain=chain), TruthAggregate(condition=link):
            yield _seen(node, made, row)
            for member in members_of(made, row):
                yield from _follow_link(chain.over, link, member, library)
            return
        case Compare() | Between() | Is(), _:
            yield _seen(node, made, row)
        case Call(), _ if isinstance(row.frame.value(made), Truths):
            yield _seen(node, made, row)
    for part, below in _pairs(node, made, library):
        yield from _follow(part, below, row, library)


def _follow_link(over: str, link: Op, row: Row, library: Library) -> Iterator[Sight]:
    """What one link of a chain reached, where a definition tells what makes a step."""
    made = _plain(link)
    if isinstance(made, Defined):
        yield from _follow(library.defines[over].cases[0].value, made.body, row, library)


def _plain(op: Op) -> Op:
    """An operation without the wrapper that splits repeated unknowns."""
    return op.formula if isinstance(op, Exact) else op


def _terms(node: Expr, op: Op) -> list[tuple[Expr, Op]]:
    """The terms of a quantity."""
    match node, op:
        case Arith(left=left, right=right), Arithmetic(left=a, right=b):
            if isinstance(a, Arithmetic) and a.span is op.span:  # the product, turned to another unit
                return _terms(node, a)
            return [(left, a), (right, b)]
        case Negative(of=inner), Minus(of=below):
            return [(inner, below)]
        case Extreme(items=nodes), ExtremeOp(items=ops):
            return list(zip(nodes, ops, strict=True))
        case _:
            return []


def _seen(node: Condition, op: Op, row: Row) -> Sight:
    """A condition as the row has it."""
    found = truth(row.frame, op)
    value = True if found.yes[row.at] else False if found.no[row.at] else None
    return Sight(node, op, row, value)


def _follow_members(
    node: Aggregate, op: TruthAggregate | NumberAggregate, row: Row, library: Library
) -> Iterator[Sight]:
    """An aggregate and what its members reached."""
    if isinstance(op, TruthAggregate):
        yield _seen(node, op, row)
    of = op.of if isinstance(op, NumberAggregate) else None
    for member in members_of(op, row):
        if node.where is not None and op.condition is not None:
            yield from _follow(node.where, op.condition, member, library)
        if node.value is not None and of is not None:
            yield from _follow(node.value, of, member, library)


def _follow_cases(define: Define, body: Op, row: Row, library: Library) -> Iterator[Sight]:
    """The cases of a quantity as far as one row reached them: a case that surely applies ends it."""
    if not isinstance(body, Cases):
        yield Sight(define.cases[0], body, row, True)
        yield from _follow(define.cases[0].value, body, row, library)
        return
    sure = True
    for case, value, guard in zip(define.cases, body.values, body.guards, strict=True):
        applies: bool | None = True
        if case.when is not None and guard is not None:
            yield from _follow(case.when, guard, row, library)
            found = truth(row.frame, guard)
            applies = True if found.yes[row.at] else False if found.no[row.at] else None
        yield Sight(case, value, row, applies if sure or applies is False else None)
        if applies is not False:
            yield from _follow(case.value, value, row, library)
        if applies is True:
            return
        sure = sure and applies is False
