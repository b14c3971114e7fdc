"""Rules translated for an SMT solver: what they say over every completion of the unknowns.

Nothing of the evaluator is used: the tree of the rule and the cells of a table
are read, each cell becomes an unknown of the solver within its range, and the
logic is the solver's own two-valued one (L. de Moura, N. Bjorner, Z3: An
Efficient SMT Solver, TACAS 2008, LNCS 4963, 337-340).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction

import z3  # type: ignore[import-untyped]  # ships no types

from advisor.language import nodes
from advisor.language.nodes import Aggregate, AggregateOp, ArithOp, Binder, CompareOp, Define, Expr, IsOp
from advisor.model.cells import NumberCell, SetCell, TruthCell, WordCell
from advisor.model.vocabulary import Kind, Measure, NumberType, SetType
from advisor.reasoning.bindings import population_of
from advisor.reasoning.tables import Tables
from advisor.units import to_base, unit_named

FAR = Fraction(10) ** 12
"""Stands for the unbounded result of ``least of`` and ``most of`` over nobody."""

Thing = tuple[Kind, int]
Env = dict[str, Thing]


class UntoldError(Exception):
    """A construct this translation does not know; the caller counts the rule as not translated."""


def exact(number: float) -> z3.ArithRef:
    """Return a float as the fraction it is."""
    return z3.RealVal(str(Fraction(number)))


@dataclass
class Translation:
    """Rules over one world of some tables, as terms of the solver."""

    tables: Tables
    assume: bool
    world: int = 0
    bounds: list[z3.BoolRef] = field(default_factory=list)
    unknowns: dict[tuple[str, tuple[int, ...]], object] = field(default_factory=dict)
    words: dict[str, int] = field(default_factory=dict)

    # --- cells --------------------------------------------------------------

    def cell(self, name: str, rows: tuple[int, ...]) -> object:
        """Return the unknown of one cell, made once; a gap is the same from both ends."""
        key = (name, tuple(sorted(rows)) if name == "gap" else rows)
        if key not in self.unknowns:
            self.unknowns[key] = self._unknown(f"{name}{key[1]}", name, rows)
        return self.unknowns[key]

    def _unknown(self, label: str, name: str, rows: tuple[int, ...]) -> object:
        match self.tables.cell(name, rows, 0.0, self.assume):
            case NumberCell(low=low, high=high):
                number = z3.Real(label)
                self.bounds += [number >= exact(low)] if math.isfinite(low) else []
                self.bounds += [number <= exact(high)] if math.isfinite(high) else []
                return number
            case WordCell(possible=possible):
                word = z3.Int(label)
                if possible is not None:
                    self.bounds.append(z3.Or([word == self.word(each) for each in sorted(possible)]))
                return word
            case TruthCell(value=value):
                return z3.Bool(label) if value is None else z3.BoolVal(value)
            case SetCell(surely=surely, possibly=possibly):
                return _Members(label, surely, possibly)

    def word(self, text: str) -> int:
        """Return the number that stands for a word."""
        return self.words.setdefault(text, len(self.words))

    # --- truths ---------------------------------------------------------------

    def truth(self, expr: Expr, env: Env) -> z3.BoolRef:
        """Return a truth of the rule language as the solver's."""
        match expr:
            case nodes.Not(of=of):
                return z3.Not(self.truth(of, env))
            case nodes.And(items=items):
                return z3.And([self.truth(item, env) for item in items])
            case nodes.Or(items=items):
                return z3.Or([self.truth(item, env) for item in items])
            case nodes.Compare(op=op, left=left, right=right):
                one, other = self.number(left, env), self.number(right, env)
                return {
                    CompareOp.AT_LEAST: one >= other,
                    CompareOp.AT_MOST: one <= other,
                    CompareOp.MORE: one > other,
                    CompareOp.LESS: one < other,
                }[op]
            case nodes.Between(value=value, low=low, high=high):
                found = self.number(value, env)
                return z3.And(found >= self.number(low, env), found <= self.number(high, env))
            case nodes.Is():
                said = self._is(expr, env)
                return z3.Not(said) if expr.negated else said
            case nodes.Call(name=name, args=args):
                things = [self.thing(arg, env) for arg in args]
                if name in self.tables.library.defines:
                    return self._defined(self.tables.library.defines[name], things)
                found = self.cell(name, tuple(row for _, row in things))
                if isinstance(found, z3.BoolRef):
                    return found
            case nodes.Name(name="yes" | "no" as plain):
                return z3.BoolVal(plain == "yes")
            case Aggregate(op=AggregateOp.ANY | AggregateOp.EVERY):
                each = [self._where(expr, inner) for inner in self._members(expr.binder, env)]
                return z3.Or(each) if expr.op is AggregateOp.ANY else z3.And(each)
        raise UntoldError(expr)

    def _where(self, expr: Aggregate, env: Env) -> z3.BoolRef:
        return z3.BoolVal(True) if expr.where is None else self.truth(expr.where, env)

    def _is(self, expr: nodes.Is, env: Env) -> z3.BoolRef:
        left = self._wordlike(expr.left, env)
        rights = [self._wordlike(item, env) for item in expr.right]
        match expr.op:
            case IsOp.HAS if isinstance(left, _Members):
                (right,) = expr.right
                if isinstance(right, nodes.Name):
                    return left.has(right.name)
                wanted = rights[0]
                domain = self._domain(expr.left)
                return z3.Or([z3.And(wanted == self.word(text), left.has(text)) for text in domain])
            case IsOp.ONE_OF if len(rights) == 1 and isinstance(rights[0], _Members):
                domain = self._domain(expr.right[0])
                return z3.Or([z3.And(left == self.word(text), rights[0].has(text)) for text in domain])
            case IsOp.IS | IsOp.ONE_OF if not isinstance(left, _Members):
                return z3.Or([left == right for right in rights])
        raise UntoldError(expr)

    def _domain(self, expr: Expr) -> tuple[str, ...]:
        if isinstance(expr, nodes.Call):
            measure = self.tables.library.vocabulary.measures.get(expr.name)
            if measure is not None and isinstance(measure.type, SetType):
                return measure.type.words
        raise UntoldError(expr)

    def _wordlike(self, expr: Expr, env: Env) -> object:
        match expr:
            case nodes.Name(name=text):
                return self.word(text)
            case nodes.Call(name=name, args=args) if name in self.tables.library.vocabulary.measures:
                return self.cell(name, tuple(self.thing(arg, env)[1] for arg in args))
        raise UntoldError(expr)

    # --- quantities -------------------------------------------------------------

    def number(self, expr: Expr, env: Env) -> z3.ArithRef:
        """Return a quantity in base units as the solver's real."""
        match expr:
            case nodes.Number(value=value, unit=unit):
                return exact(to_base(value, unit_named(unit)) if unit else value)
            case nodes.Name(name=name) if name in self.tables.library.lets:
                return self.number(self.tables.library.lets[name].value, env)
            case nodes.Negative(of=of):
                return -self.number(of, env)
            case nodes.Arith(op=op, left=left, right=right):
                one, other = self.number(left, env), self.number(right, env)
                match op:
                    case ArithOp.ADD:
                        return one + other
                    case ArithOp.SUBTRACT:
                        return one - other
                    case ArithOp.MULTIPLY:
                        return one * other
                raise UntoldError(expr)  # nobody may divide by what may be nothing
            case nodes.Extreme(largest=largest, items=items):
                found = [self.number(item, env) for item in items]
                best = found[0]
                for item in found[1:]:
                    best = z3.If(item > best if largest else item < best, item, best)
                return best
            case nodes.Call(name=name, args=args):
                things = [self.thing(arg, env) for arg in args]
                if name in self.tables.library.defines:
                    return self._quantity(self.tables.library.defines[name], things)
                measure = self.tables.library.vocabulary.measures.get(name)
                if isinstance(measure, Measure) and isinstance(measure.type, NumberType):
                    found_cell = self.cell(name, tuple(row for _, row in things))
                    if isinstance(found_cell, z3.ArithRef):
                        return found_cell
            case Aggregate():
                return self._reckoned(expr, env)
        raise UntoldError(expr)

    def _reckoned(self, expr: Aggregate, env: Env) -> z3.ArithRef:
        """``count of``, ``sum of``, ``least of``, ``most of``."""
        members = [
            (
                self._where(expr, inner),
                z3.RealVal(1) if expr.value is None else self.number(expr.value, inner),
            )
            for inner in self._members(expr.binder, env)
        ]
        if expr.op in (AggregateOp.COUNT, AggregateOp.SUM):
            return z3.Sum([z3.RealVal(0), *(z3.If(there, value, 0) for there, value in members)])
        most = expr.op is AggregateOp.MOST
        best: z3.ArithRef = z3.RealVal(str(-FAR if most else FAR))
        for there, value in members:
            better = value > best if most else value < best
            best = z3.If(z3.And(there, better), value, best)
        return best

    # --- names -----------------------------------------------------------------

    def _inside(self, define: Define, things: list[Thing]) -> Env:
        return {param.name: thing for param, thing in zip(define.params, things, strict=True)}

    def _defined(self, define: Define, things: list[Thing]) -> z3.BoolRef:
        (case,) = define.cases
        return self.truth(case.value, self._inside(define, things))

    def _quantity(self, define: Define, things: list[Thing]) -> z3.ArithRef:
        env = self._inside(define, things)
        *guarded, last = define.cases
        value = self.number(last.value, env)
        for case in reversed(guarded):
            if case.when is None:
                raise UntoldError(define.name)
            value = z3.If(self.truth(case.when, env), self.number(case.value, env), value)
        return value

    def thing(self, expr: Expr, env: Env) -> Thing:
        """Return what a name, ``c.spot`` or ``tank`` stands for."""
        match expr:
            case nodes.Name(name="tank"):
                return Kind.TANK, self.world
            case nodes.Name(name=name) if name in env:
                return env[name]
            case nodes.Call(name="spot", args=(inner,)):
                return Kind.PLACE, int(self.tables.animal_place[self.thing(inner, env)[1]])
        raise UntoldError(expr)

    def _members(self, binder: Binder, env: Env) -> list[Env]:
        """Every value of one more variable."""
        population = population_of(self.tables)
        standing = population.rows[population.starts[self.world] : population.starts[self.world + 1]].tolist()
        match binder.kind:
            case Kind.TANK:
                rows = [self.world]
            case Kind.PLACE:
                rows = list(range(self.tables.place_count))
            case Kind.CORAL:
                rows = [row for row in standing if population.coral[row]]
            case Kind.ANIMAL:
                rows = standing
            case _:
                raise UntoldError(binder)
        if binder.neighbour_of:
            rows = [row for row in rows if row != env[binder.neighbour_of][1]]
        kind = Kind.ANIMAL if binder.kind is Kind.CORAL else binder.kind
        return [{**env, binder.name: (kind, row)} for row in rows]


@dataclass(frozen=True)
class _Members:
    """A set-valued cell: each word in it, not in it, or free."""

    label: str
    surely: frozenset[str]
    possibly: frozenset[str] | None

    def has(self, word: str) -> z3.BoolRef:
        """Return whether a word is in the set."""
        if word in self.surely:
            return z3.BoolVal(True)
        if self.possibly is not None and word not in self.possibly:
            return z3.BoolVal(False)
        return z3.Bool(f"{self.label}:{word}")


@dataclass(frozen=True)
class Claims:
    """What the solver says of one binding: whether some completion makes each of these true."""

    broken: bool
    """Some completion in which the rule speaks, nothing excuses and the expectation is not met."""
    kept: bool
    """Some completion in which that is not so."""
    unmet: bool
    """Some completion in which the expectation is not met, whatever the conditions."""


def claims_of(rule: nodes.Rule, env: Env, tables: Tables, *, assume: bool) -> Claims:
    """Return what is possible for a rule at one binding.

    Raises
    ------
    UntoldError
        If the rule holds a construct the translation does not know.
    """
    told = Translation(tables, assume)
    if rule.expect is None:
        raise UntoldError(rule.name)
    expect = told.truth(rule.expect, env)
    when = z3.BoolVal(True) if rule.when is None else told.truth(rule.when, env)
    unless = z3.BoolVal(False) if rule.unless is None else told.truth(rule.unless, env)
    broken = z3.And(when, z3.Not(unless), z3.Not(expect))
    solver = z3.Solver()
    solver.add(told.bounds)

    def possible(claim: z3.BoolRef) -> bool:
        answer = solver.check(claim)
        if answer == z3.unknown:
            raise UntoldError(rule.name)
        return bool(answer == z3.sat)

    return Claims(possible(broken), possible(z3.Not(broken)), possible(z3.Not(expect)))
