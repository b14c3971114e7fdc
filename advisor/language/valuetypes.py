"""What each expression is: a quantity of some dimension, words, or a truth; and what is wrong where it is none.

`typed` answers for expressions that are already checked; `Typer` also collects
the problems of those that are not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import assert_never

from advisor.errors import Problem, Related, Severity, Span, UnusableInput
from advisor.language.dimensions import PHRASE, alike, kin_unit, number_type, product_type, shown, sum_type
from advisor.language.guess import nearest, several
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
    Compare,
    Define,
    Expr,
    Extreme,
    Is,
    IsOp,
    Let,
    Name,
    Negative,
    Not,
    Number,
    Or,
    Text,
)
from advisor.model.vocabulary import (
    Kind,
    NumberType,
    Param,
    SetType,
    TruthType,
    ValueType,
    Vocabulary,
    WordType,
)
from advisor.units import BASE_UNIT, DIMENSIONLESS, Dimension

Scope = Mapping[str, Kind]
"""The variables of a rule or definition and what each stands for."""
SPOT = "spot"
"""The one built-in: the place where an animal stands."""
MONTH = "month"
"""What ``{month}`` is in the texts of a rule that looks ahead."""
_TRUTH = TruthType()
_ARTICLE = {Kind.ANIMAL: "an animal", Kind.CORAL: "a coral", Kind.PLACE: "a place", Kind.TANK: "the tank"}


def typed(expr: Expr, scope: Scope, library: Library) -> ValueType:
    """Return what a checked expression is.

    Raises
    ------
    UnusableInput
        If the expression would not have passed the check.
    """
    typer = Typer(library.vocabulary, library.lets, library.defines)
    found = typer.type_of(expr, scope)
    if found is None or typer.problems:
        raise UnusableInput("this expression was never checked", tuple(typer.problems))
    return found


def scope_of(binders: tuple[Binder, ...]) -> dict[str, Kind]:
    """Return the scope that a rule's binders make."""
    return {binder.name: binder.kind for binder in binders}


@dataclass(slots=True)
class Typer:
    """Finds the type of expressions and collects what is wrong with them."""

    vocabulary: Vocabulary
    lets: Mapping[str, Let]
    defines: Mapping[str, Define]
    problems: list[Problem] = field(default_factory=list)

    def say(self, code: str, what: str, span: Span, label: str = "", mend: str = "",
            related: tuple[Related, ...] = ()) -> None:
        """Record one problem."""
        self.problems.append(Problem(code, what, span, label, mend, Severity.ERROR, related))

    # --- what is asked from outside ------------------------------------------

    def truth(self, expr: Expr, scope: Scope) -> None:
        """Check an expression that must be true or false."""
        if isinstance(expr, Name) and expr.name in ("yes", "no"):
            return
        found = self.type_of(expr, scope)
        if found is None or isinstance(found, TruthType):
            return
        if found == WordType(("yes", "no")):
            self.say("units-208", "this is yes or no as a word, not a condition", expr.span, "compare it",
                     f"{_source_text(expr)} is yes")
        elif isinstance(found, NumberType):
            self.say("units-208", f"{PHRASE[found.dimension]} is no condition", expr.span,
                     "true or false is expected here", "compare it: >=, <=, >, < or between")
        else:
            self.say("units-208", "a word is no condition", expr.span, "true or false is expected here",
                     "compare it: is, is one of, has")

    def quantity(self, expr: Expr, scope: Scope, want: ValueType | None = None) -> NumberType | None:
        """Check an expression that must be a quantity, and return its type."""
        found = self.type_of(expr, scope, want)
        if found is None or isinstance(found, NumberType):
            return found
        what = "a condition" if isinstance(found, TruthType) else "a word"
        mend = "put brackets around what is counted" if isinstance(expr, Call | Aggregate) else ""
        if not isinstance(found, TruthType):
            mend = "words are compared with: is, is not, is one of, has"
        self.say("units-209", f"{what} stands where a quantity is expected", expr.span, "not a quantity", mend)
        return None

    def hole(self, expr: Expr, scope: Scope, months: bool) -> None:
        """Check a ``{…}`` of a text: a thing, a value, or the month of a rule that looks ahead."""
        match expr:
            case Name(name=name) if name in scope or name == "tank":
                return
            case Name(span=span, name="month"):
                if not months:
                    self.say("text-401", "{month} cannot be filled in: this rule does not look ahead", span,
                             "only a rule with 'until horizon' has a month", "expect … until horizon")
            case Call(name="spot", args=(Name(name=name),)) if name in scope:
                return
            case _:
                self.type_of(expr, scope)

    def texts(self, text: Text, scope: Scope, months: bool = False) -> None:
        """Check every hole of a text; an unbound variable is told in the text's own words."""
        for piece in text.pieces:
            if isinstance(piece, str):
                continue
            before = len(self.problems)
            self.hole(piece, scope, months)
            for index in range(before, len(self.problems)):
                self.problems[index] = _as_hole(self.problems[index])

    # --- expressions -----------------------------------------------------------

    def type_of(self, expr: Expr, scope: Scope, want: ValueType | None = None) -> ValueType | None:
        """Return the type of an expression; None if it has none, which is then recorded."""
        match expr:
            case Number(unit=unit):
                return number_type(unit)
            case Name():
                return self._name(expr, scope, want)
            case Call():
                return self._call(expr, scope, want)
            case Compare(left=left, right=right):
                self._comparable(left, right, scope)
                return _TRUTH
            case Between(value=value, low=low, high=high):
                self._comparable(value, low, scope)
                self._comparable(value, high, scope, again=True)
                return _TRUTH
            case Is():
                self._words(expr, scope)
                return _TRUTH
            case Not(of=of):
                self.truth(of, scope)
                return _TRUTH
            case And(items=items) | Or(items=items):
                for item in items:
                    self.truth(item, scope)
                return _TRUTH
            case Arith():
                return self._arithmetic(expr, scope)
            case Negative(of=of):
                return self.quantity(of, scope, want)
            case Extreme(items=items):
                return self._extreme(items, scope, want)
            case Aggregate():
                return self._aggregate(expr, scope)
            case _:
                assert_never(expr)

    def _silently(self, expr: Expr, scope: Scope) -> ValueType | None:
        """The type of an expression, its problems kept for later."""
        return Typer(self.vocabulary, self.lets, self.defines).type_of(expr, scope)

    def plain(self, expr: Expr) -> bool:
        """Return whether an expression is made of bare numbers only, and so fits count, ratio and rank."""
        match expr:
            case Number(unit=unit):
                return not unit
            case Name(name=name):
                return name in self.lets and not self.lets[name].value.unit
            case Negative(of=of):
                return self.plain(of)
            case Arith(left=left, right=right):
                return self.plain(left) and self.plain(right)
            case Extreme(items=items):
                return all(self.plain(item) for item in items)
            case _:
                return False

    def _name(self, expr: Name, scope: Scope, want: ValueType | None) -> ValueType | None:
        """A let, or a truth; anything else cannot stand alone."""
        name = expr.name
        if name in scope or name == "tank":
            kind = scope.get(name, Kind.TANK)
            self.say("word-122", f"'{name}' is {_ARTICLE[kind]}, not a value", expr.span, "a value is expected here",
                     f"one of its values, such as {self._some_measure(kind, name, want)}")
            return None
        if name in self.lets:
            return number_type(self.lets[name].value.unit)
        if name in ("yes", "no"):
            return _TRUTH
        params = self.params(name)
        if params is not None:
            args = ", ".join(param.name for param in params)
            self.say("word-120", f"'{name}' is asked of something", expr.span, f"it needs {_listed(params)}",
                     f"{name}({args})")
            return None
        self._unknown(name, expr.span, scope, want, tuple(self.lets))
        return None

    def params(self, name: str) -> tuple[Param, ...] | None:
        """Return the parameters of a measure, relation or definition, None if there is none of that name."""
        found = (self.vocabulary.measures.get(name) or self.vocabulary.relations.get(name)
                 or self.defines.get(name))
        return found.params if found is not None else None

    def _call(self, expr: Call, scope: Scope, want: ValueType | None) -> ValueType | None:
        """A measure, relation or definition applied to things."""
        where = expr.name_span or expr.span
        if expr.name == SPOT:
            self.say("word-122", "a place is not a value", expr.span, "a value is expected here",
                     f"one of its values, such as light({_source_text(expr)})")
            return None
        params = self.params(expr.name)
        if params is None:
            self._unknown(expr.name, where, scope, want, self._callable())
            self.things(expr, scope)
            return None
        if not self.arguments(expr, params, scope):
            return None
        return self.value_of(expr.name)

    def value_of(self, name: str) -> ValueType:
        """Return the type of a known measure, relation or definition."""
        measure = self.vocabulary.measures.get(name)
        if measure is not None:
            return measure.type
        define = self.defines.get(name)
        return number_type(define.unit) if define is not None and define.unit is not None else _TRUTH

    def arguments(self, expr: Call, params: tuple[Param, ...], scope: Scope) -> bool:
        """Check number and kinds of the things a call is about."""
        where = expr.name_span or expr.span
        if len(expr.args) != len(params):
            said = {0: "nothing", 1: "one thing"}.get(len(expr.args), f"{len(expr.args)} things")
            self.say("word-120", f"'{expr.name}' is asked of {said}", where, f"it needs {_listed(params)}",
                     f"{expr.name}({', '.join(param.name for param in params)})")
            return False
        good = True
        for arg, param in zip(expr.args, params, strict=True):
            kind = self.thing(arg, scope)
            if kind is None:
                good = False
            elif not kind.fits(param.kind):
                good = False
                self.say("word-121", f"'{expr.name}' is asked of {_ARTICLE[param.kind]}", arg.span,
                         f"this is {_ARTICLE[kind]}", _other_kind(arg, kind, param.kind))
        return good

    def things(self, expr: Call, scope: Scope) -> None:
        """Check that everything a call is about is bound."""
        for arg in expr.args:
            self.thing(arg, scope)

    def thing(self, expr: Expr, scope: Scope) -> Kind | None:
        """Return the kind of a thing that is named, or record that none is."""
        match expr:
            case Name(name="tank"):
                return Kind.TANK
            case Name(name=name) if name in scope:
                return scope[name]
            case Call(name="spot", args=(Name(name=name),)) if name in scope:
                if scope[name].fits(Kind.ANIMAL):
                    return Kind.PLACE
                self.say("word-121", "only an animal stands on a spot", expr.span, f"this is {_ARTICLE[scope[name]]}",
                         name)
                return None
            case Name(span=span, name=name):
                self._unbound(name, span, scope)
            case Call(name="spot", args=(Name(span=span, name=name),)):
                self._unbound(name, span, scope)
            case _:
                self.say("word-121", "a thing is expected here, not a value", expr.span,
                         f"one of: {several([*scope, 'tank'])}")
        return None

    def _unbound(self, name: str, span: Span, scope: Scope) -> None:
        """A variable that nothing binds."""
        self.say("word-123", f"nothing here is called '{name}'", span, f"known here: {several([*scope, 'tank'])}",
                 nearest(name, scope, 50.0))

    def _callable(self) -> tuple[str, ...]:
        """Every name that can be applied to something."""
        return (*self.vocabulary.measures, *self.vocabulary.relations, *self.defines)

    def _unknown(self, name: str, span: Span, scope: Scope, want: ValueType | None, known: tuple[str, ...]) -> None:
        """A name that is not in the vocabulary, with what was expected."""
        fitting = [other for other in known if want is not None and self._fits(other, want)]
        parts = name.split("-")
        everything = {*scope, *self.lets, *self._callable()}
        if len(parts) > 1 and all(part in everything or part.isdigit() for part in parts):
            self.say("word-104", f"I do not know '{name}'", span, "this is one name; a subtraction needs spaces",
                     " - ".join(parts))
            return
        label = f"expected {_phrase(want)} ({several(sorted(fitting), 5)})" if fitting else "not in the vocabulary"
        guess = nearest(name, fitting, 55.0) or nearest(name, {*known, *self.lets, *self._callable()}, 60.0)
        self.say("word-104", f"I do not know '{name}'", span, label, guess)

    def _fits(self, name: str, want: ValueType) -> bool:
        """Whether a name gives what is wanted."""
        found = number_type(self.lets[name].value.unit) if name in self.lets else self.value_of(name)
        if isinstance(found, NumberType) and isinstance(want, NumberType):
            return found.dimension is want.dimension
        return type(found) is type(want) and not isinstance(found, NumberType)

    def _some_measure(self, kind: Kind, name: str, want: ValueType | None) -> str:
        """A call that would make a value of a thing."""
        for measure in self.vocabulary.measures.values():
            if len(measure.params) == 1 and kind.fits(measure.params[0].kind) and (
                    want is None or self._fits(measure.name, want)):
                return f"{measure.name}({name})"
        return f"gap({name}, …)"

    # --- quantities --------------------------------------------------------------

    def _comparable(self, left: Expr, right: Expr, scope: Scope, again: bool = False) -> None:
        """Check that two quantities may be compared; `again`: left was checked before."""
        want = self._silently(right, scope)
        a = self._silently(left, scope) if again else self.quantity(left, scope, want)
        b = self.quantity(right, scope, a)
        if not isinstance(a, NumberType) or b is None:
            return
        if not alike(a, b, self.plain(left), self.plain(right)):
            self._unlike(left, a, right, b)

    def _unlike(self, left: Expr, a: NumberType, right: Expr, b: NumberType) -> None:
        """Two quantities that cannot be compared."""
        for bare, other, known in ((right, left, a), (left, right, b)):
            if self.plain(bare) and known.dimension not in DIMENSIONLESS:
                self._needs_unit(bare, other, known)
                return
        mend = self._let_of(a.dimension, right)
        if {a.dimension, b.dimension} == {Dimension.TEMPERATURE, Dimension.TEMPERATURE_STEP}:
            mend = "°C is a temperature, K is a difference of two"
        self.say("units-201", f"{PHRASE[a.dimension]} is compared with {PHRASE[b.dimension]}", left.span,
                 f"{a.unit.name or 'a plain number'}, {a.dimension.value}", mend,
                 (Related(right.span, self._seen(right, b)),))

    def _seen(self, expr: Expr, found: NumberType) -> str:
        """What an operand is, with the place a let was set."""
        if isinstance(expr, Name) and expr.name in self.lets:
            let = self.lets[expr.name]
            return (f"{shown(let.value.value, let.value.unit)}, {found.dimension.value} "
                    f"(set at {let.span.file}:{let.span.line})")
        return f"{found.unit.name or 'a plain number'}, {found.dimension.value}"

    def _let_of(self, dimension: Dimension, expr: Expr) -> str:
        """The let of a dimension that was probably meant."""
        names = [name for name, let in self.lets.items() if number_type(let.value.unit).dimension is dimension]
        meant = nearest(expr.name if isinstance(expr, Name | Call) else "", names, 0.0)
        if not meant:
            return ""
        value = self.lets[meant].value
        return f"did you mean {meant} ({shown(value.value, value.unit)})?"

    def _needs_unit(self, bare: Expr, other: Expr, known: NumberType) -> None:
        """A bare number against a quantity with a unit."""
        unit = known.unit.name or BASE_UNIT[known.dimension].name
        name = other.name if isinstance(other, Name | Call) else "the other side"
        value = shown(bare.value, "") if isinstance(bare, Number) else "…"
        kin = kin_unit(known.dimension)
        more = f"          ({value} {kin} would be allowed, too)" if kin and kin != unit else ""
        self.say("units-202", "this number needs a unit", bare.span, f"{name} is measured in {unit}",
                 f"{value} {unit}{more}")

    def _arithmetic(self, expr: Arith, scope: Scope) -> NumberType | None:
        """The type of two quantities put together."""
        adding = expr.op in (ArithOp.ADD, ArithOp.SUBTRACT)
        a = self.quantity(expr.left, scope, self._silently(expr.right, scope) if adding else None)
        b = self.quantity(expr.right, scope, a if adding else None)
        if a is None or b is None:
            return None
        if adding:
            found = sum_type(expr.op, a, b)
            if found is None and alike(a, b, self.plain(expr.left), self.plain(expr.right)):
                found = b if self.plain(expr.left) else a
        else:
            found = product_type(expr.op, a, b)
        if found is None:
            self._uncombinable(expr, a, b)
        return found

    def _uncombinable(self, expr: Arith, a: NumberType, b: NumberType) -> None:
        """Two quantities no arithmetic joins."""
        word = {ArithOp.ADD: "added to", ArithOp.SUBTRACT: "taken from", ArithOp.MULTIPLY: "multiplied by",
                ArithOp.DIVIDE: "divided by"}[expr.op]
        if expr.op in (ArithOp.ADD, ArithOp.SUBTRACT):
            for bare, other, known in ((expr.right, expr.left, a), (expr.left, expr.right, b)):
                if self.plain(bare) and known.dimension not in DIMENSIONLESS:
                    self._needs_unit(bare, other, known)
                    return
            first, second = PHRASE[b.dimension], PHRASE[a.dimension]
        else:
            first, second = PHRASE[a.dimension], PHRASE[b.dimension]
        self.say("units-207", f"{first} cannot be {word} {second}", expr.span,
                 f"{a.unit.name or 'plain'} {expr.op.value} {b.unit.name or 'plain'}")

    def _extreme(self, items: tuple[Expr, ...], scope: Scope, want: ValueType | None) -> NumberType | None:
        """The type of the larger or smaller of several."""
        kinds = [(item, self.quantity(item, scope, want)) for item in items]
        known = [(item, kind) for item, kind in kinds if kind is not None]
        measured = [pair for pair in known if not self.plain(pair[0])] or known
        if not measured:
            return None
        first, wanted = measured[0]
        for item, kind in known:
            if not alike(wanted, kind, self.plain(first), self.plain(item)):
                self._unlike(first, wanted, item, kind)
        return wanted

    # --- words -----------------------------------------------------------------------

    def _words(self, expr: Is, scope: Scope) -> None:
        """Check a comparison of words."""
        if isinstance(expr.left, Name) and (expr.left.name in scope or expr.left.name == "tank"):
            self.say("word-122", f"'{expr.left.name}' is a thing; what of it is compared?", expr.left.span,
                     "a word-valued measure is expected", f"{expr.left.name}.group is …")
            return
        left = self.type_of(expr.left, scope)
        if left is None:
            return
        if isinstance(left, NumberType):
            self.say("units-209", "a quantity is not compared with 'is'", expr.left.span,
                     PHRASE[left.dimension], "use >=, <=, >, < or between")
        elif isinstance(left, TruthType):
            text = _source_text(expr.left)
            no = expr.negated != (isinstance(expr.right[0], Name) and expr.right[0].name == "no")
            self.say("units-209", "a condition needs no 'is'", expr.left.span, "true or false already",
                     f"not {text}" if no else text)
        elif isinstance(left, SetType) and expr.op is not IsOp.HAS:
            self.say("units-210", "this measure holds several words", expr.left.span, "one word cannot be all of them",
                     f"{_source_text(expr.left)} has …")
        elif isinstance(left, WordType) and expr.op is IsOp.HAS:
            self.say("units-210", "this measure holds one word", expr.left.span, "'has' asks among several",
                     f"{_source_text(expr.left)} is …")
        else:
            for item in expr.right:
                self._word(item, left, expr, scope)

    def _word(self, item: Expr, left: WordType | SetType, expr: Is, scope: Scope) -> None:
        """Check one word, or a measure that gives words, on the right of a comparison."""
        if isinstance(item, Name) and item.name not in scope:
            if left.words and item.name not in left.words:
                self._no_such_word(item, left.words, expr.left)
            return
        found = self.type_of(item, scope)
        if found is None:
            return
        several_allowed = expr.op is IsOp.ONE_OF and len(expr.right) == 1
        if not isinstance(found, SetType if several_allowed else WordType) or (
                isinstance(item, Call) and len(expr.right) > 1):
            what = "a measure of several words" if several_allowed else "a word"
            self.say("units-210", f"{what} is expected here", item.span, "this is something else")
        elif left.words and isinstance(found, SetType | WordType) and found.words and not (
                set(left.words) & set(found.words)):
            self.say("word-119", "these two have no word in common", item.span, several(found.words),
                     related=(Related(expr.left.span, several(left.words)),))

    def _no_such_word(self, item: Name, words: tuple[str, ...], left: Expr) -> None:
        """A word that the measure on the left does not have."""
        measure = left.name if isinstance(left, Call) else "the left side"
        self.say("word-119", f"'{item.name}' is not a word of {measure}", item.span,
                 f"{measure} is one of: {several(words, 12)}", nearest(item.name, words, 50.0))

    # --- many -----------------------------------------------------------------------

    def _aggregate(self, expr: Aggregate, scope: Scope) -> ValueType | None:
        """The type of what is made of many bindings."""
        inner = dict(scope)
        self.bind(expr.binder, inner)
        if expr.binder.kind is Kind.TANK:
            self.say("word-121", "there is one tank, nothing to count", expr.binder.span, "an animal or a place")
        if expr.where is not None:
            self.truth(expr.where, inner)
        elif expr.op is AggregateOp.EVERY:
            self.say("word-114", "what is it that every one must be?", expr.span, "'every' needs a 'where'",
                     "every … where …")
        if expr.op in (AggregateOp.ANY, AggregateOp.EVERY):
            return _TRUTH
        if expr.value is None:
            return number_type("count")
        return self.quantity(expr.value, inner)

    def bind(self, binder: Binder, scope: dict[str, Kind]) -> None:
        """Add a binder's variable to a scope, checked."""
        if binder.neighbour_of:
            kind = scope.get(binder.neighbour_of)
            if kind is None:
                self._unbound(binder.neighbour_of, binder.span, scope)
            elif not kind.fits(Kind.ANIMAL):
                self.say("word-121", "only an animal has neighbours", binder.span, f"this is {_ARTICLE[kind]}")
        if binder.name in scope and binder.kind is not Kind.TANK:
            self.say("word-124", f"'{binder.name}' already stands for something else here", binder.span,
                     _ARTICLE[scope[binder.name]], "give it another name")
        elif binder.name != "tank" and (binder.name in self.lets or binder.name in ("yes", "no", SPOT, MONTH)):
            self.say("word-124", f"'{binder.name}' already means something", binder.span, "a named number or a word",
                     "give it another name")
        scope[binder.name] = binder.kind


def _as_hole(problem: Problem) -> Problem:
    """A problem of a hole; an unbound variable under the code of texts."""
    if problem.code != "word-123":
        return problem
    what = problem.what.replace("nothing here is called ", "")
    return Problem("text-401", f"this {{…}} cannot be filled in: the rule binds no {what}", problem.span,
                   problem.label, problem.mend, problem.severity, problem.related)


def _listed(params: tuple[Param, ...]) -> str:
    """Parameters as a sentence lists them."""
    return " and ".join(_ARTICLE[param.kind] for param in params)


def _phrase(want: ValueType | None) -> str:
    """What was wanted."""
    if isinstance(want, NumberType):
        return PHRASE[want.dimension]
    return "a condition" if isinstance(want, TruthType) else "a word"


def _other_kind(arg: Expr, kind: Kind, wanted: Kind) -> str:
    """How to get from one kind of thing to another."""
    if wanted is Kind.PLACE and kind.fits(Kind.ANIMAL) and isinstance(arg, Name):
        return f"{arg.name}.spot"
    if wanted.fits(Kind.ANIMAL) and kind is Kind.PLACE and isinstance(arg, Call) and isinstance(arg.args[0], Name):
        return arg.args[0].name
    return "tank" if wanted is Kind.TANK else ""


def _source_text(expr: Expr) -> str:
    """The text an expression was written as, if it stands on one line."""
    span = expr.span
    if span.end_line == span.line and span.text:
        return span.text[span.column - 1:span.end_column - 1]
    return "…"
