"""The operations of one rule, made out of its expressions.

Equal sub-expressions of a rule share one operation, so each is computed once
and an explanation names a repeated reason once. Definitions are applied where
they stand (they are acyclic), keeping a node of their own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar, assert_never, cast

from advisor.errors import Span
from advisor.language.dimensions import number_type
from advisor.language.library import Library
from advisor.language.nodes import (
    Aggregate,
    AggregateOp,
    And,
    Arith,
    ArithOp,
    Between,
    Binder,
    Call,
    Chain,
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
    Since,
    StepsAway,
    Text,
)
from advisor.language.since import since_measure
from advisor.model.vocabulary import CARRIES, Kind, Measure, NumberType, SetType
from advisor.reasoning import compare_ops, logic_ops, ops, word_ops
from advisor.reasoning.compiled_rule import Template
from advisor.reasoning.frame import Ref
from advisor.reasoning.linear import collected
from advisor.reasoning.ops import Op, Quantity
from advisor.reasoning.scales import (
    CompileError,
    as_quantity,
    comparison_scale,
    product_unit,
    step_of,
    sum_unit,
    unit_of,
)
from advisor.reasoning.step_ops import StepsAway as StepsAwayOp
from advisor.units import (
    BASE_UNIT,
    DEFAULT_STEP,
    Dimension,
    to_base,
    unit_named,
)

Scope = dict[str, Ref]
Made = TypeVar("Made", bound=Op)


@dataclass(slots=True)
class Maker:
    """Makes the operations of one rule, each distinct one once."""

    library: Library
    made: dict[tuple[object, ...], Op] = field(default_factory=dict)
    aggregates: bool = False
    depth: int = 0

    def share(self, key: tuple[object, ...], op: Made) -> Made:
        """Return the operation made earlier for `key`, or this one."""
        return cast(Made, self.made.setdefault(key, op))  # one key always makes one class

    def template(self, text: Text, scope: Scope) -> Template:
        """Return a text with its holes compiled."""
        pieces: list[str | Ref | Op] = []
        for piece in text.pieces:
            if isinstance(piece, str):
                pieces.append(piece)
            elif isinstance(piece, Name) and piece.name in scope:
                pieces.append(scope[piece.name])
            elif isinstance(piece, Name) and piece.name == "month":
                pieces.append("{month}")
            elif (ref := self.reference(piece, scope)) is not None:
                pieces.append(ref)
            else:
                pieces.append(self.expr(piece, scope))
        return Template(tuple(pieces))

    def bound(self, binders: Sequence[Binder], scope: Scope) -> tuple[Op, ...]:
        """Return what must be so for the things a rule binds to be meant at all."""
        chains = tuple(
            self.chain(binder.chain, scope[binder.name], scope)
            for binder in binders
            if binder.chain is not None
        )
        return (*self.carried(binders, scope), *chains)

    def chain(self, chain: Chain, end: Ref, scope: Scope) -> Op:
        """Return whether a chain of a relation leads to a thing; a change anywhere may close or cut it."""
        self.aggregates = True
        self.depth += 1
        before, after = (Ref(f"{word}'{self.depth}", Kind.ANIMAL) for word in ("step-from", "step-to"))
        link = logic_ops.with_exact_cases(self.applied(chain.over, (after, before), chain.span))
        self.depth -= 1
        binder = Binder(chain.span, Kind.ANIMAL, after.var)
        start = scope[chain.of]
        return self.share(
            ("chain", start, end, chain.steps, link),
            StepsAwayOp(
                chain.span, AggregateOp.ANY, binder, link, start, end, chain.steps, before.var, chain.over
            ),
        )

    def carried(self, binders: Sequence[Binder], scope: Scope) -> tuple[Op, ...]:
        """Return what must be so for the weapons a rule binds to be there at all."""
        relation = self.library.vocabulary.relations.get(CARRIES)
        armed = [binder for binder in binders if binder.weapon_of]
        if armed and relation is None:
            raise CompileError("nothing tells which weapons an animal has")
        return tuple(
            ops.RelationCell(binder.span, relation, (scope[binder.weapon_of], scope[binder.name]))
            for binder in armed
            if relation is not None
        )

    def condition(self, part: Expr | None, scope: Scope, also: tuple[Op, ...] = ()) -> Op | None:
        """Return a clause of a rule with what else must be so; None if there is neither."""
        items = (*also, *(() if part is None else (self.expr(part, scope),)))
        if not items:
            return None
        whole = items[0] if len(items) == 1 else logic_ops.Every(items[-1].span, items)
        return logic_ops.with_exact_cases(whole)

    def reference(self, node: Expr, scope: Scope) -> Ref | None:
        """Return the thing a node names, or None if it is a value."""
        match node:
            case Name(name="tank"):
                return Ref("tank", Kind.TANK)
            case Name(name=name):
                return scope.get(name)
            case Call(name="spot", args=(Name(name=name),)) if name in scope:
                return Ref(scope[name].var, scope[name].kind, spot=True)
            case _:
                return None

    def refs(self, args: tuple[Expr, ...], scope: Scope) -> tuple[Ref, ...]:
        """Return the things a call is about."""
        found = [self.reference(arg, scope) for arg in args]
        if any(ref is None for ref in found):
            raise CompileError("a call is about something that is not bound")
        return tuple(ref for ref in found if ref is not None)

    def expr(self, node: Expr, scope: Scope) -> Op:
        """Return the operation of any expression."""
        match node:
            case Number():
                return self.number(node)
            case Name():
                return self.name(node)
            case Call():
                return self.call(node, scope)
            case Compare():
                return self.compare(node, scope)
            case Between():
                return self.within(node, scope)
            case Is():
                return self.words(node, scope)
            case Not(span=span, of=of):
                inner = self.expr(of, scope)
                return self.share(("not", inner), logic_ops.Negation(span, inner))
            case And(span=span, items=items):
                every = tuple(self.expr(item, scope) for item in items)
                return self.share(("and", *every), logic_ops.Every(span, every))
            case Or(span=span, items=items):
                some = tuple(self.expr(item, scope) for item in items)
                return self.share(("or", *some), logic_ops.Some(span, some))
            case Arith():
                return self.arithmetic(node, scope)
            case Negative(span=span, of=of):
                inner = self.quantity(of, scope)
                return self.share(("minus", inner), ops.Minus(span, inner.unit, inner.step, inner))
            case Extreme(span=span, largest=largest, items=parts):
                made = tuple(self.quantity(item, scope) for item in parts)
                return self.share(
                    ("extreme", largest, *made),
                    ops.Extreme(span, unit_of(made), step_of(made), largest, made),
                )
            case Aggregate():
                return self.aggregate(node, scope)
            case Since(span=span, event=event, of=of):
                ref = self.refs((of,), scope)[0]
                return self.cell(since_measure(event, ref.target), (ref,), span)
            case StepsAway(thing=thing, chain=chain):
                return self.chain(chain, self.refs((thing,), scope)[0], scope)
            case _:
                assert_never(node)

    def quantity(self, node: Expr, scope: Scope) -> Quantity:
        """Return the operation of an expression that the checker has proved to be a quantity."""
        return as_quantity(self.expr(node, scope))

    def number(self, node: Number) -> Op:
        """Return a literal."""
        unit = unit_named(node.unit) if node.unit else BASE_UNIT[Dimension.COUNT]
        value = to_base(node.value, unit)
        return self.share(("number", value, unit.name), ops.Constant(node.span, unit, 0.0, value))

    def name(self, node: Name) -> Op:
        """Return a named number, or a plain truth."""
        let = self.library.lets.get(node.name)
        if let is not None:
            unit = unit_named(let.value.unit) if let.value.unit else BASE_UNIT[Dimension.COUNT]
            return self.share(
                ("let", node.name),
                ops.Constant(node.span, unit, 0.0, to_base(let.value.value, unit), node.name),
            )
        if node.name in ("yes", "no"):
            return self.share(("truth", node.name), ops.TruthConstant(node.span, node.name == "yes"))
        raise CompileError(f"'{node.name}' is not a value")

    def call(self, node: Call, scope: Scope) -> Op:
        """Return a cell, or a definition applied."""
        return self.applied(node.name, self.refs(node.args, scope), node.span)

    def applied(self, name: str, refs: tuple[Ref, ...], span: Span) -> Op:
        """Return a definition, relation or measure of some things."""
        define = self.library.defines.get(name)
        if define is not None:
            return self.defined(define, refs, span)
        relation = self.library.vocabulary.relations.get(name)
        if relation is not None:
            return self.share(("relation", name, refs), ops.RelationCell(span, relation, refs))
        measure = self.library.vocabulary.measures.get(name)
        if measure is None:
            raise CompileError(f"'{name}' is not in the vocabulary")
        return self.cell(measure, refs, span)

    def cell(self, measure: Measure, refs: tuple[Ref, ...], span: Span) -> Op:
        """Return the operation that reads a measure."""
        match measure.type:
            case NumberType(unit=unit):
                if measure.symmetric:
                    refs = tuple(sorted(refs, key=lambda ref: ref.key))
                return self.share(
                    ("cell", measure.name, refs), ops.NumberCell(span, unit, measure.step, measure, refs)
                )
            case SetType():
                return self.share(("cell", measure.name, refs), ops.SetCell(span, measure, refs))
            case _:
                return self.share(("cell", measure.name, refs), ops.WordCell(span, measure, refs))

    def defined(self, define: Define, refs: tuple[Ref, ...], span: Span) -> Op:
        """Return a definition applied to some things."""
        found = self.made.get(("define", define.name, refs))
        if found is not None:
            return found
        scope = {param.name: ref for param, ref in zip(define.params, refs, strict=True)}
        values = [self.expr(case.value, scope) for case in define.cases]
        guards = [
            None if case.when is None else logic_ops.with_exact_cases(self.expr(case.when, scope))
            for case in define.cases
        ]
        key = ("define", define.name, refs)
        if define.unit is None:
            body = logic_ops.with_exact_cases(values[0])
            return self.share(key, ops.Defined(span, define.name, refs, body))
        made = tuple(as_quantity(value) for value in values)
        unit = number_type(define.unit).unit if define.unit else unit_of(made)
        step = step_of(made)
        whole = made[0] if guards == [None] else ops.Cases(define.span, unit, step, made, tuple(guards))
        return self.share(key, ops.DefinedQuantity(span, unit, step, define.name, refs, whole))

    def compare(self, node: Compare, scope: Scope) -> Op:
        """Return an order comparison, like cells collected when one stands on both sides."""
        left, right = self.quantity(node.left, scope), self.quantity(node.right, scope)
        step, unit = comparison_scale((left, right))
        return self.share(
            ("compare", node.op, left, right),
            compare_ops.Compare(node.span, node.op, left, right, step, unit, collected(left, right)),
        )

    def within(self, node: Between, scope: Scope) -> Op:
        """Return a test of a band."""
        value, low, high = (self.quantity(part, scope) for part in (node.value, node.low, node.high))
        step, unit = comparison_scale((value, low, high))
        return self.share(
            ("within", value, low, high),
            compare_ops.Within(
                node.span, value, low, high, step, unit, collected(value, low), collected(high, value)
            ),
        )

    def words(self, node: Is, scope: Scope) -> Op:
        """Return a comparison of words."""
        left = self.expr(node.left, scope)
        only = node.right[0] if len(node.right) == 1 else None
        if isinstance(only, Call):
            right = self.expr(only, scope)
            return self.share(
                ("is", node.op, left, right, node.negated),
                word_ops.WordIs(node.span, node.op, left, right, (), node.negated),
            )
        literals = tuple(item.name for item in node.right if isinstance(item, Name))
        return self.share(
            ("is", node.op, left, literals, node.negated),
            word_ops.WordIs(node.span, node.op, left, None, literals, node.negated),
        )

    def arithmetic(self, node: Arith, scope: Scope) -> Op:
        """Return arithmetic with the unit of its result."""
        left, right = self.quantity(node.left, scope), self.quantity(node.right, scope)
        if node.op in (ArithOp.ADD, ArithOp.SUBTRACT):
            unit = sum_unit(node.op, left.unit, right.unit)
            return self.share(
                (node.op, left, right),
                ops.Arithmetic(node.span, unit, step_of((left, right)), node.op, left, right),
            )
        unit, factor = product_unit(node.op, left.unit, right.unit)
        keeps = unit.dimension in (left.unit.dimension, right.unit.dimension)
        step = (left.step or right.step) if keeps else 0.0
        made = self.share((node.op, left, right), ops.Arithmetic(node.span, unit, step, node.op, left, right))
        if factor == 1.0:
            return made
        scale = ops.Constant(node.span, BASE_UNIT[Dimension.COUNT], 0.0, factor)
        return self.share(
            ("scaled", made, factor), ops.Arithmetic(node.span, unit, step, ArithOp.MULTIPLY, made, scale)
        )

    def of_each(self, node: Aggregate, scope: Scope) -> Op | None:
        """Return what is asked of each thing of an aggregate: that it stands in the chain, and the rest."""
        parts: tuple[Op, ...] = () if node.where is None else (self.expr(node.where, scope),)
        if node.binder.chain is not None:
            chain = self.chain(node.binder.chain, scope[node.binder.name], scope)
            if node.op is AggregateOp.EVERY:
                parts = (logic_ops.Some(chain.span, (logic_ops.Negation(chain.span, chain), *parts)),)
            else:
                parts = (chain, *parts)
        if not parts:
            return None
        whole = parts[0] if len(parts) == 1 else logic_ops.Every(node.span, parts)
        return logic_ops.with_exact_cases(whole)

    def aggregate(self, node: Aggregate, scope: Scope) -> Op:
        """Return an aggregate; its variable is named by how deep it stands, so that none is hidden."""
        self.aggregates = True
        self.depth += 1
        fresh = f"{node.binder.name}'{self.depth}"
        around = scope[node.binder.neighbour_of].var if node.binder.neighbour_of else ""
        whose = scope[node.binder.weapon_of].var if node.binder.weapon_of else ""
        binder = replace(node.binder, name=fresh, neighbour_of=around, weapon_of=whose)
        inner = {**scope, node.binder.name: Ref(fresh, node.binder.kind)}
        where = self.of_each(node, inner)
        of = None if node.value is None else self.quantity(node.value, inner)
        self.depth -= 1
        key = ("aggregate", node.op, binder.kind, fresh, around, whose, where, of)
        if node.op in (AggregateOp.ANY, AggregateOp.EVERY):
            condition = where if where is not None else ops.TruthConstant(node.span, value=True)
            return self.share(key, logic_ops.TruthAggregate(node.span, node.op, binder, condition))
        unit = of.unit if of is not None else BASE_UNIT[Dimension.COUNT]
        step = of.step if of is not None else DEFAULT_STEP[Dimension.COUNT]
        return self.share(key, logic_ops.NumberAggregate(node.span, unit, step, node.op, binder, where, of))
