"""The things and names an expression speaks of: variables and their kinds, measures and what they need."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.dimensions import number_type
from advisor.language.guess import nearest, several
from advisor.language.mends import free_name, some, thing_of
from advisor.language.nodes import Binder, Call, Chain, Define, Expr, Let, Name
from advisor.language.unknown_names import tell_unknown
from advisor.model.vocabulary import Kind, NumberType, Param, TruthType, ValueType, Vocabulary

Scope = Mapping[str, Kind]
"""The variables of a rule or definition and what each stands for."""
SPOT = "spot"
"""The one built-in: the place where an animal stands."""
MONTH = "month"
"""What ``{month}`` is in the texts of a rule that looks ahead."""
ARTICLE = {kind: f"a {kind.value}" for kind in Kind} | {Kind.ANIMAL: "an animal", Kind.TANK: "the tank"}


@dataclass(slots=True)
class Things:
    """Knows the names of a library, and collects what is wrong with those that are used."""

    vocabulary: Vocabulary
    lets: Mapping[str, Let]
    defines: Mapping[str, Define]
    problems: list[Problem] = field(default_factory=list)

    def say(
        self,
        code: str,
        what: str,
        span: Span,
        label: str = "",
        mend: str = "",
        related: tuple[Related, ...] = (),
    ) -> None:
        """Record one problem."""
        self.problems.append(Problem(code, what, span, label, mend, Severity.ERROR, related))

    def params(self, name: str) -> tuple[Param, ...] | None:
        """Return the parameters of a measure, relation or definition, None if there is none of that name."""
        found = (
            self.vocabulary.measures.get(name)
            or self.vocabulary.relations.get(name)
            or self.defines.get(name)
        )
        return found.params if found is not None else None

    def value_of(self, name: str) -> ValueType:
        """Return the type of a known measure, relation or definition."""
        measure = self.vocabulary.measures.get(name)
        if measure is not None:
            return measure.type
        define = self.defines.get(name)
        return number_type(define.unit) if define is not None and define.unit is not None else TruthType()

    def what(self, name: str) -> ValueType:
        """Return the type of a known name, a named number among them."""
        return number_type(self.lets[name].value.unit) if name in self.lets else self.value_of(name)

    def arguments(self, expr: Call, params: tuple[Param, ...], scope: Scope) -> bool:
        """Check number and kinds of the things a call is about."""
        where = expr.name_span or expr.span
        if len(expr.args) != len(params):
            said = {0: "nothing", 1: "one thing"}.get(len(expr.args), f"{len(expr.args)} things")
            self.say(
                "word-120",
                f"'{expr.name}' is asked of {said}",
                where,
                f"it needs {listed_params(params)}",
                f"{expr.name}({', '.join(param.name for param in params)})",
            )
            return False
        good = True
        for arg, param in zip(expr.args, params, strict=True):
            kind = self.thing(arg, scope, param.kind)
            if kind is None:
                good = False
            elif not kind.fits(param.kind):
                good = False
                self.say(
                    "word-121",
                    f"'{expr.name}' is asked of {ARTICLE[param.kind]}",
                    arg.span,
                    f"this is {ARTICLE[kind]}",
                    _other_kind(arg, kind, param.kind) or some(param.kind, scope),
                )
        return good

    def things(self, expr: Call, scope: Scope) -> None:
        """Check that everything a call is about is bound."""
        for arg in expr.args:
            self.thing(arg, scope)

    def thing(self, expr: Expr, scope: Scope, wanted: Kind = Kind.TANK) -> Kind | None:
        """Return the kind of a thing that is named, or record that none is; `wanted` helps to mend it."""
        match expr:
            case Name(name="tank"):
                return Kind.TANK
            case Name(name=name) if name in scope:
                return scope[name]
            case Call(name="spot", args=(Name(name=name),)) if name in scope:
                if scope[name].fits(Kind.ANIMAL):
                    return Kind.PLACE
                self.say(
                    "word-121",
                    "only an animal stands on a spot",
                    expr.span,
                    f"this is {ARTICLE[scope[name]]}",
                    name,
                )
                return None
            case Name(span=span, name=name):
                self.unbound(name, span, scope)
            case Call(name="spot", args=(Name(span=span, name=name),)):
                self.unbound(name, span, scope)
            case _:
                self.say(
                    "word-121",
                    "a thing is expected here, not a value",
                    expr.span,
                    f"one of: {several([*scope, 'tank'])}",
                    thing_of(wanted, scope),
                )
        return None

    def unbound(self, name: str, span: Span, scope: Scope) -> None:
        """Record a variable that nothing binds."""
        self.say(
            "word-123",
            f"nothing here is called '{name}'",
            span,
            f"known here: {several([*scope, 'tank'])}",
            nearest(name, scope, 50.0 if len(scope) > 1 else 0.0) or f"bind it first: animal {name}",
        )

    def callable(self) -> tuple[str, ...]:
        """Return every name that can be applied to something."""
        return (*self.vocabulary.measures, *self.vocabulary.relations, *self.defines)

    def unknown(
        self,
        name: str,
        span: Span,
        scope: Scope,
        want: ValueType | None,
        known: Collection[str],
        of: Sequence[Kind | None] = (),
    ) -> None:
        """Record a name that is not in the vocabulary, with what was expected."""
        tell_unknown(self, name, span, scope, want, known, of)

    def asked_of(self, args: tuple[Expr, ...], scope: Scope) -> list[str]:
        """Return the names that can be asked of such things."""
        kinds = self.kinds_of(args, scope)
        return [
            name
            for name in self.callable()
            if (params := self.params(name)) is not None
            and len(params) == len(kinds)
            and all(kind is None or kind.fits(param.kind) for kind, param in zip(kinds, params, strict=True))
        ]

    def kinds_of(self, args: tuple[Expr, ...], scope: Scope) -> list[Kind | None]:
        """Return what kind of thing each argument of a call is; None where that is not known."""
        named = {**scope, "tank": Kind.TANK}
        return [named.get(arg.name) if isinstance(arg, Name) else Kind.PLACE for arg in args]

    def fits(self, name: str, want: ValueType) -> bool:
        """Return whether a name gives what is wanted."""
        found = self.what(name)
        if isinstance(found, NumberType) and isinstance(want, NumberType):
            return found.dimension is want.dimension
        return type(found) is type(want) and not isinstance(found, NumberType)

    def some_measure(self, kind: Kind, name: str, want: ValueType | None) -> str:
        """Return a call that would make a value of a thing."""
        for measure in self.vocabulary.measures.values():
            if (
                len(measure.params) == 1
                and kind.fits(measure.params[0].kind)
                and (want is None or self.fits(measure.name, want))
            ):
                return f"{measure.name}({name})"
        return f"gap({name}, …)"

    def bind(self, binder: Binder, scope: dict[str, Kind]) -> None:
        """Add a binder's variable to a scope, checked."""
        if binder.neighbour_of:
            kind = scope.get(binder.neighbour_of)
            if kind is None:
                self.unbound(binder.neighbour_of, binder.span, scope)
            elif not kind.fits(Kind.ANIMAL):
                animal = some(Kind.ANIMAL, scope)
                mend = f"neighbour {binder.name} of {animal}" if animal else f"animal {binder.name}"
                self.say(
                    "word-121", "only an animal has neighbours", binder.span, f"this is {ARTICLE[kind]}", mend
                )
        self._owner(binder, scope)
        if binder.name in scope and binder.kind is not Kind.TANK:
            self.say(
                "word-124",
                f"'{binder.name}' already stands for something else here",
                binder.span,
                ARTICLE[scope[binder.name]],
                "give it another name",
            )
        elif binder.name != "tank" and (
            binder.name in self.lets or binder.name in ("yes", "no", SPOT, MONTH)
        ):
            self.say(
                "word-124",
                f"'{binder.name}' already means something",
                binder.span,
                "a named number or a word",
                "give it another name",
            )
        scope[binder.name] = binder.kind

    def _owner(self, binder: Binder, scope: Scope) -> None:
        """Check that a weapon is some animal's, and nothing else is anybody's."""
        whose, kind = binder.weapon_of, binder.kind
        if kind is Kind.WEAPON and not whose:
            self.say(
                "word-120",
                "a weapon belongs to an animal",
                binder.span,
                "whose weapon?",
                f"weapon {binder.name} of …",
            )
        elif kind is not Kind.WEAPON and whose:
            self.say("word-121", f"{ARTICLE[kind]} belongs to nobody", binder.span, "only a weapon does",
                     f"{kind.value} {binder.name}")  # fmt: skip
        elif whose and whose not in scope:
            self.unbound(whose, binder.span, scope)
        elif whose and not scope[whose].fits(Kind.ANIMAL):
            animal, free = some(Kind.ANIMAL, scope), free_name([*scope, binder.name])
            mend = f"weapon {binder.name} of {animal or free}"
            what = "only an animal has weapons"
            label = f"this is {ARTICLE[scope[whose]]}"
            self.say("word-121", what, binder.span, label, mend if animal else f"animal {free}, {mend}")


def listed_params(params: tuple[Param, ...]) -> str:
    """Return parameters as a sentence lists them."""
    return " and ".join(ARTICLE[param.kind] for param in params)


def _other_kind(arg: Expr, kind: Kind, wanted: Kind) -> str:
    """How to get from one kind of thing to another."""
    if wanted is Kind.PLACE and kind.fits(Kind.ANIMAL) and isinstance(arg, Name):
        return f"{arg.name}.spot"
    if (
        wanted.fits(Kind.ANIMAL)
        and kind is Kind.PLACE
        and isinstance(arg, Call)
        and isinstance(arg.args[0], Name)
    ):
        return arg.args[0].name
    return "tank" if wanted is Kind.TANK else ""


def source_text(expr: Expr | Chain) -> str:
    """Return the text an expression was written as, if it stands on one line."""
    span = expr.span
    if span.end_line == span.line and span.text:
        return span.text[span.column - 1 : span.end_column - 1]
    return "…"
