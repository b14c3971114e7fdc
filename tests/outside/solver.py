"""Rules translated for an SMT solver: what they say over every completion of the unknowns.

Nothing of the evaluator is used: the tree of the rule and the cells of a table
are read, each cell becomes an unknown of the solver within its range, and the
logic is the solver's own two-valued one (L. de Moura, N. Bjorner, Z3: An
Efficient SMT Solver, TACAS 2008, LNCS 4963, 337-340).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import permutations

import z3  # type: ignore[import-untyped]  # ships no types

from advisor.language import nodes
from advisor.language.nodes import Aggregate, AggregateOp, ArithOp, Binder, Define, Expr, IsOp
from advisor.language.since import kind_of, since_name
from advisor.model.vocabulary import CARRIES, Kind, SetType
from advisor.reasoning.tables import Tables
from advisor.units import to_base, unit_named
from tests.outside.amounts import DOWN, ORDER, UP, Amount, Arithmetic, both, either, exact, opposite
from tests.outside.unknowns import Env, Members, Thing, Unknowns

MOST_MS = 60_000
"""Time for one question to the solver; it needs a few milliseconds."""


class UntoldError(Exception):
    """A construct this translation does not know, or a question the solver gives up."""


@dataclass
class Translation:
    """Rules over one world of some tables, as terms of the solver."""

    unknowns: Unknowns
    links: dict[str, dict[tuple[Thing, Thing], z3.BoolRef]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.library = self.unknowns.tables.library
        self.cell = self.unknowns.cell
        self.reckon = Arithmetic(self.unknowns.bounds)

    # --- truths ---------------------------------------------------------------

    def truth(self, expr: Expr, env: Env) -> z3.BoolRef:
        """Return a truth of the rule language as the solver's."""
        match expr:
            case nodes.Not(of=of):
                return opposite(self.truth(of, env))
            case nodes.And(items=items):
                return both(*(self.truth(item, env) for item in items))
            case nodes.Or(items=items):
                return either(self.truth(item, env) for item in items)
            case nodes.Compare(op=op, left=left, right=right):
                return ORDER[op.value](self.number(left, env), self.number(right, env))
            case nodes.Between(value=value, low=low, high=high):
                found = self.number(value, env)
                return both(found.at_least(self.number(low, env)), self.number(high, env).at_least(found))
            case nodes.Is():
                said = self._is(expr, env)
                return opposite(said) if expr.negated else said
            case nodes.Call(name=name, args=args):
                return self.applied(name, tuple(self.thing(arg, env) for arg in args))
            case nodes.Name(name="yes" | "no" as plain):
                return z3.BoolVal(plain == "yes")
            case nodes.StepsAway(thing=thing, chain=chain):
                return self.chain(chain, self.thing(thing, env), env)
            case Aggregate(op=AggregateOp.ANY | AggregateOp.EVERY):
                every = expr.op is AggregateOp.EVERY
                each = [
                    both(there, opposite(asked) if every else asked)
                    for there, inner in self._members(expr.binder, env)
                    for asked in (self._where(expr, inner),)
                ]
                return opposite(either(each)) if every else either(each)
        raise UntoldError(expr)

    def applied(self, name: str, things: tuple[Thing, ...]) -> z3.BoolRef:
        """Return a definition of a truth, or a relation."""
        if name in self.library.defines:
            return self._defined(self.library.defines[name], things)
        found = self.cell(name, things)
        if not isinstance(found, z3.BoolRef):
            raise UntoldError(name)
        return found

    def chain(self, chain: nodes.Chain, end: Thing, env: Env) -> z3.BoolRef:
        """Return whether at most so many links lead from one animal to another."""
        start = env[chain.of]
        if start == end:
            return z3.BoolVal(False)
        standing = [Thing(Kind.ANIMAL, row) for row in self.unknowns.standing()]
        links = self._links(chain.over, standing)
        reached = {start: z3.BoolVal(True)}
        found = []
        for _ in range(chain.steps):
            reached = {
                other: either(both(led, links[one, other]) for one, led in reached.items() if one != other)
                for other in standing
            }
            found.append(reached[end])
        return either(found)

    def _links(self, over: str, standing: list[Thing]) -> dict[tuple[Thing, Thing], z3.BoolRef]:
        """Whether a step leads from one animal to another, made once for all bindings."""
        if over not in self.links:
            pairs = permutations(standing, 2)
            self.links[over] = {(one, other): self.applied(over, (other, one)) for one, other in pairs}
        return self.links[over]

    def _where(self, expr: Aggregate, env: Env) -> z3.BoolRef:
        return z3.BoolVal(True) if expr.where is None else self.truth(expr.where, env)

    def _is(self, expr: nodes.Is, env: Env) -> z3.BoolRef:
        left = self._wordlike(expr.left, env)
        rights = [self._wordlike(item, env) for item in expr.right]
        match expr.op:
            case IsOp.HAS if isinstance(left, Members):
                (right,) = expr.right
                if isinstance(right, nodes.Name):
                    return left.has(right.name)
                wanted = rights[0]
                domain = self._domain(expr.left)
                return z3.Or([z3.And(wanted == self.unknowns.word(text), left.has(text)) for text in domain])
            case IsOp.ONE_OF if len(rights) == 1 and isinstance(rights[0], Members):
                domain = self._domain(expr.right[0])
                return z3.Or(
                    [z3.And(left == self.unknowns.word(text), rights[0].has(text)) for text in domain]
                )
            case IsOp.IS | IsOp.ONE_OF if not isinstance(left, Members):
                return z3.simplify(z3.Or([left == right for right in rights]))
        raise UntoldError(expr)

    def _domain(self, expr: Expr) -> tuple[str, ...]:
        if isinstance(expr, nodes.Call):
            measure = self.library.vocabulary.measures.get(expr.name)
            if measure is not None and isinstance(measure.type, SetType):
                return measure.type.words
        raise UntoldError(expr)

    def _wordlike(self, expr: Expr, env: Env) -> object:
        match expr:
            case nodes.Name(name=text):
                return z3.IntVal(self.unknowns.word(text))
            case nodes.Call(name=name, args=args) if name in self.library.vocabulary.measures:
                return self.cell(name, tuple(self.thing(arg, env) for arg in args))
        raise UntoldError(expr)

    # --- quantities -------------------------------------------------------------

    def number(self, expr: Expr, env: Env) -> Amount:
        """Return a quantity in base units."""
        match expr:
            case nodes.Number(value=value, unit=unit):
                return Amount(exact(to_base(value, unit_named(unit)) if unit else value))
            case nodes.Name(name=name) if name in self.library.lets:
                return self.number(self.library.lets[name].value, env)
            case nodes.Negative(of=of):
                return -self.number(of, env)
            case nodes.Arith(op=op, left=left, right=right):
                return self._reckoned(op, self.number(left, env), self.number(right, env))
            case nodes.Extreme(largest=largest, items=items):
                first, *rest = (self.number(item, env) for item in items)
                return self.reckon.extreme(((z3.BoolVal(True), item) for item in rest), first, most=largest)
            case nodes.Call(name=name, args=args):
                things = tuple(self.thing(arg, env) for arg in args)
                if name in self.library.defines:
                    return self._quantity(self.library.defines[name], things)
                return self._read(name, things)
            case nodes.Since(event=event, of=of):
                kind = kind_of(of, {name: thing.kind for name, thing in env.items()})
                return self._read(since_name(event, kind), (self.thing(of, env),))
            case Aggregate():
                return self._of_many(expr, env)
        raise UntoldError(expr)

    def _read(self, name: str, things: tuple[Thing, ...]) -> Amount:
        """A measure of some things."""
        found = self.cell(name, things)
        if not isinstance(found, z3.ArithRef):
            raise UntoldError(name)
        return Amount(found)

    def _reckoned(self, op: ArithOp, one: Amount, other: Amount) -> Amount:
        """Arithmetic; units are the base units of each side, so no factor is needed."""
        match op:
            case ArithOp.ADD:
                return self.reckon.plus(one, other)
            case ArithOp.SUBTRACT:
                return self.reckon.plus(one, -other)
            case ArithOp.MULTIPLY:
                return self.reckon.times(one, other)
            case ArithOp.DIVIDE:
                return self.reckon.over(one, other)

    def _of_many(self, expr: Aggregate, env: Env) -> Amount:
        """``count of``, ``sum of``, ``least of``, ``most of``."""
        one = Amount(z3.RealVal(1))
        members = [
            (both(there, self._where(expr, inner)), inner) for there, inner in self._members(expr.binder, env)
        ]
        values = [
            (there, one if expr.value is None else self.number(expr.value, inner), inner[expr.binder.name])
            for there, inner in members
            if not z3.is_false(there)
        ]
        if expr.op in (AggregateOp.LEAST, AggregateOp.MOST):
            most = expr.op is AggregateOp.MOST
            counted = ((there, value) for there, value, _ in values)
            return self.reckon.extreme(counted, DOWN if most else UP, most=most)
        found = nothing = Amount(z3.RealVal(0))
        for there, value, thing in values:
            share = value if not thing.copy else self.reckon.times(value, self.unknowns.many(thing))
            found = self.reckon.plus(found, self.reckon.chosen(there, share, nothing))
        return found

    # --- names -----------------------------------------------------------------

    def _inside(self, define: Define, things: tuple[Thing, ...]) -> Env:
        return {param.name: thing for param, thing in zip(define.params, things, strict=True)}

    def _defined(self, define: Define, things: tuple[Thing, ...]) -> z3.BoolRef:
        (case,) = define.cases
        return self.truth(case.value, self._inside(define, things))

    def _quantity(self, define: Define, things: tuple[Thing, ...]) -> Amount:
        """A definition by cases, tried in order; where none applies it says nothing."""
        env = self._inside(define, things)
        value = self.reckon.any_amount() if define.cases[-1].when is not None else None
        for case in reversed(define.cases):
            own = self.number(case.value, env)
            if value is None or case.when is None:
                value = own
            else:
                value = self.reckon.chosen(self.truth(case.when, env), own, value)
        if value is None:
            raise UntoldError(define.name)
        return value

    def thing(self, expr: Expr, env: Env) -> Thing:
        """Return what a name, ``c.spot`` or ``tank`` stands for."""
        match expr:
            case nodes.Name(name="tank"):
                return Thing(Kind.TANK, self.unknowns.tank())
            case nodes.Name(name=name) if name in env:
                return env[name]
            case nodes.Call(name="spot", args=(inner,)):
                return Thing(Kind.PLACE, int(self.unknowns.tables.animal_place[self.thing(inner, env).row]))
        raise UntoldError(expr)

    # --- who there is -------------------------------------------------------------

    def _members(self, binder: Binder, env: Env) -> list[tuple[z3.BoolRef, Env]]:
        """Every value of one more variable, and whether it is there."""
        found = [(there, {**env, binder.name: thing}) for there, thing in self.unknowns.things(binder, env)]
        if binder.chain is None:
            return found
        return [
            (both(there, self.chain(binder.chain, inner[binder.name], inner)), inner)
            for there, inner in found
        ]


@dataclass(frozen=True)
class Claims:
    """What the solver says of one binding: whether some completion makes each of these true."""

    broken: bool
    """Some completion in which the rule speaks, nothing excuses and the expectation is not met."""
    kept: bool
    """Some completion in which that is not so."""
    unmet: bool
    """Some completion in which the expectation is not met, whatever the conditions."""


def translation_of(tables: Tables, *, assume: bool) -> Translation:
    """Return a translation that has read nothing yet; one serves every binding of a rule."""
    return Translation(Unknowns(tables, assume))


def claims_of(rule: nodes.Rule, bound: dict[str, tuple[Kind, int]], told: Translation) -> Claims:
    """Return what is possible for a rule at one binding; one to look at by eye is taken as not met.

    Raises
    ------
    UntoldError
        If the rule holds a construct the translation does not know.
    """
    env = {name: Thing(kind, row) for name, (kind, row) in bound.items()}
    expect = z3.BoolVal(False) if rule.expect is None else told.truth(rule.expect, env)
    parts = [] if rule.when is None else [told.truth(rule.when, env)]
    for binder in rule.binders:
        if binder.weapon_of:
            parts.append(told.applied(CARRIES, (env[binder.weapon_of], env[binder.name])))
        if binder.chain is not None:
            parts.append(told.chain(binder.chain, env[binder.name], env))
    unless = z3.BoolVal(False) if rule.unless is None else told.truth(rule.unless, env)
    broken = both(*parts, opposite(unless), opposite(expect))
    solver = z3.Solver()
    solver.set("timeout", MOST_MS)
    solver.add(told.unknowns.bounds)

    def possible(claim: z3.BoolRef) -> bool:
        answer = solver.check(claim)
        if answer == z3.unknown:
            raise UntoldError(rule.name)
        return bool(answer == z3.sat)

    return Claims(possible(broken), possible(opposite(broken)), possible(opposite(expect)))
