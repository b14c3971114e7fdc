"""What each expression is: a quantity of some dimension, words, or a truth; and what is wrong if none.

`typed` answers for expressions that are already checked; `Typer` also collects
the problems of those that are not.
"""

from __future__ import annotations

from typing import assert_never

from advisor.errors import Problem, UnusableInput
from advisor.language.dimensions import PHRASE, alike, number_type, product_type, sum_type
from advisor.language.library import Library
from advisor.language.mends import free_name
from advisor.language.mismatch import uncombinable, unlike
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
from advisor.language.steps import check_binder, check_since, check_steps
from advisor.language.things import ARTICLE, SPOT, Scope, Things, listed_params, source_text
from advisor.language.wordtypes import check_words
from advisor.model.vocabulary import (
    Kind,
    NumberType,
    TruthType,
    ValueType,
    WordType,
)

_TRUTH = TruthType()


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


class Typer(Things):
    """Finds the type of expressions and collects what is wrong with them."""

    def bind(self, binder: Binder, scope: dict[str, Kind]) -> None:
        """Add a binder's variable to a scope, checked; a chain starts at one bound before."""
        check_binder(self, binder, scope)
        super().bind(binder, scope)

    # --- what is asked from outside ------------------------------------------

    def truth(self, expr: Expr, scope: Scope) -> None:
        """Check an expression that must be true or false."""
        if isinstance(expr, Name) and expr.name in ("yes", "no"):
            return
        found = self.type_of(expr, scope)
        if found is None or isinstance(found, TruthType):
            return
        if found == WordType(("yes", "no")):
            self.say(
                "units-208",
                "this is yes or no as a word, not a condition",
                expr.span,
                "compare it",
                f"{source_text(expr)} is yes",
            )
        elif isinstance(found, NumberType):
            self.say(
                "units-208",
                f"{PHRASE[found.dimension]} is no condition",
                expr.span,
                "true or false is expected here",
                "compare it: >=, <=, >, < or between",
            )
        else:
            self.say(
                "units-208",
                "a word is no condition",
                expr.span,
                "true or false is expected here",
                "compare it: is, is one of, has",
            )

    def quantity(self, expr: Expr, scope: Scope, want: ValueType | None = None) -> NumberType | None:
        """Check an expression that must be a quantity, and return its type."""
        found = self.type_of(expr, scope, want)
        if found is None or isinstance(found, NumberType):
            return found
        what = "a condition" if isinstance(found, TruthType) else "a word"
        mend = "put brackets around what is counted" if isinstance(expr, Call | Aggregate) else ""
        if not isinstance(found, TruthType):
            mend = "words are compared with: is, is not, is one of, has"
        self.say(
            "units-209", f"{what} stands where a quantity is expected", expr.span, "not a quantity", mend
        )
        return None

    def hole(self, expr: Expr, scope: Scope, months: bool) -> None:
        """Check a ``{…}`` of a text: a thing, a value, or the month of a rule that looks ahead."""
        match expr:
            case Name(name=name) if name in scope or name == "tank":
                return
            case Name(span=span, name="month"):
                if not months:
                    self.say(
                        "text-401",
                        "{month} cannot be filled in: this rule does not look ahead",
                        span,
                        "only a rule with 'until horizon' has a month",
                        "expect … until horizon",
                    )
            case Call(name="spot", args=(Name(name=name),)) if name in scope:
                return
            case Name(span=span, name=name) if name not in self.lets and self.params(name) is None:
                self.unbound(name, span, scope)
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
                check_words(self, expr, scope)
                return _TRUTH
            case Not(of=of):
                self.truth(of, scope)
                return _TRUTH
            case And(items=items) | Or(items=items):
                for item in items:
                    self.truth(item, scope)
                return _TRUTH
            case Arith():
                return self._arithmetic(expr, scope, want)
            case Negative(of=of):
                return self.quantity(of, scope, want)
            case Extreme(items=items):
                return self._extreme(items, scope, want)
            case Aggregate():
                return self._aggregate(expr, scope)
            case Since():
                return check_since(self, expr, scope)
            case StepsAway():
                check_steps(self, expr, scope)
                return _TRUTH
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
            self.say(
                "word-122",
                f"'{name}' is {ARTICLE[kind]}, not a value",
                expr.span,
                "a value is expected here",
                f"one of its values, such as {self.some_measure(kind, name, want)}",
            )
            return None
        if name in self.lets:
            return number_type(self.lets[name].value.unit)
        if name in ("yes", "no"):
            return _TRUTH
        params = self.params(name)
        if params is not None:
            args = ", ".join(param.name for param in params)
            self.say(
                "word-120",
                f"'{name}' is asked of something",
                expr.span,
                f"it needs {listed_params(params)}",
                f"{name}({args})",
            )
            return None
        self.unknown(name, expr.span, scope, want, tuple(self.lets))
        return None

    def _call(self, expr: Call, scope: Scope, want: ValueType | None) -> ValueType | None:
        """A measure, relation or definition applied to things."""
        where = expr.name_span or expr.span
        if expr.name == SPOT:
            self.say(
                "word-122",
                "a place is not a value",
                expr.span,
                "a value is expected here",
                f"one of its values, such as light({source_text(expr)})",
            )
            return None
        params = self.params(expr.name)
        if params is None:
            of = self.kinds_of(expr.args, scope)
            self.unknown(expr.name, where, scope, want, self.asked_of(expr.args, scope), of)
            self.things(expr, scope)
            return None
        if not self.arguments(expr, params, scope):
            return None
        return self.value_of(expr.name)

    # --- quantities --------------------------------------------------------------

    def _comparable(self, left: Expr, right: Expr, scope: Scope, again: bool = False) -> None:
        """Check that two quantities may be compared; `again`: left was checked before."""
        want = self._silently(right, scope)
        a = self._silently(left, scope) if again else self.quantity(left, scope, want)
        b = self.quantity(right, scope, a)
        if not isinstance(a, NumberType) or b is None:
            return
        if not alike(a, b, self.plain(left), self.plain(right)):
            unlike(self, left, a, right, b)

    def _arithmetic(self, expr: Arith, scope: Scope, want: ValueType | None) -> NumberType | None:
        """The type of two quantities put together."""
        adding = expr.op in (ArithOp.ADD, ArithOp.SUBTRACT)
        a = self.quantity(expr.left, scope, (self._silently(expr.right, scope) or want) if adding else None)
        b = self.quantity(expr.right, scope, (a or want) if adding else None)
        if a is None or b is None:
            return None
        if adding:
            found = sum_type(expr.op, a, b)
            if found is None and a.dimension is not b.dimension:
                left, right = self.plain(expr.left), self.plain(expr.right)
                found = (b if left else a) if alike(a, b, left, right) else None
        else:
            found = product_type(expr.op, a, b)
        if found is None:
            uncombinable(self, expr, a, b)
        return found

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
                unlike(self, first, wanted, item, kind)
        return wanted

    # --- many -----------------------------------------------------------------------

    def _aggregate(self, expr: Aggregate, scope: Scope) -> ValueType | None:
        """The type of what is made of many bindings."""
        inner = dict(scope)
        self.bind(expr.binder, inner)
        if expr.binder.kind is Kind.TANK:
            what = "there is one tank, nothing to count"
            free = free_name([*scope, *self.lets])
            self.say("word-121", what, expr.binder.span, "an animal or a place", f"animal {free}")
        if expr.where is not None:
            self.truth(expr.where, inner)
        elif expr.op is AggregateOp.EVERY:
            self.say(
                "word-114",
                "what is it that every one must be?",
                expr.span,
                "'every' needs a 'where'",
                "every … where …",
            )
        if expr.op in (AggregateOp.ANY, AggregateOp.EVERY):
            return _TRUTH
        if expr.value is None:
            return number_type("count")
        return self.quantity(expr.value, inner)


def _as_hole(problem: Problem) -> Problem:
    """A problem of a hole; an unbound variable under the code of texts."""
    if problem.code != "word-123":
        return problem
    what = problem.what.replace("nothing here is called ", "")
    return Problem(
        "text-401",
        f"this {{…}} cannot be filled in: the rule binds no {what}",
        problem.span,
        problem.label,
        problem.mend,
        problem.severity,
        problem.related,
    )
