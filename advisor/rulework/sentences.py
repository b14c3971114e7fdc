"""Rules in plain English, made from their tree, so that no sentence can be out of date."""

from __future__ import annotations

import re
from collections.abc import Iterable

from advisor.language.format_expr import expression, literal
from advisor.language.library import Library
from advisor.language.nodes import (
    Aggregate,
    And,
    Arith,
    Between,
    Binder,
    Call,
    Compare,
    CompareOp,
    Define,
    Expr,
    Extreme,
    Is,
    IsOp,
    Name,
    Not,
    Number,
    Or,
    Prefer,
    Rule,
)
from advisor.model.vocabulary import Param

_COMPARED = {
    CompareOp.AT_LEAST: "is at least",
    CompareOp.AT_MOST: "is at most",
    CompareOp.MORE: "is more than",
    CompareOp.LESS: "is less than",
}
_ARITHMETIC = {"+": "plus", "-": "minus", "*": "times", "/": "divided by"}
_LEVEL = {
    "danger": "Not keeping it is a danger",
    "warning": "Not keeping it is a warning",
    "advice": "Not keeping it is only worth a word",
}


class Speaker:
    """Says expressions of one library in words."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def rule(self, rule: Rule) -> str:
        """Return a rule as one or two sentences."""
        start = f"For {_listed(map(self.binder, rule.binders))}"
        when = f", where {self.said(rule.when)}" if rule.when is not None else ""
        what = (
            f"look whether {_without_braces(rule.by_eye)}"
            if rule.expect is None
            else f"it is required that {self.said(rule.expect)}"
        )
        ahead = ", now and as both grow" if rule.until_horizon else ""
        unless = f", unless {self.said(rule.unless)}" if rule.unless is not None else ""
        return f"{start}{when}: {what}{ahead}{unless}. {_LEVEL[rule.level.value]}."

    def preference(self, prefer: Prefer) -> str:
        """Return a preference as one sentence."""
        when = f", where {self.said(prefer.when)}" if prefer.when is not None else ""
        about = _listed(map(self.binder, prefer.binders))
        return f"For {about}{when}: a place is better where {self.said(prefer.want)}."

    def definition(self, define: Define) -> list[str]:
        """Return the cases of a definition, one sentence each."""
        if define.cases[0].when is None and len(define.cases) == 1:
            return [self.said(define.cases[0].value)]
        return [
            f"{self.said(case.value)}, {'otherwise' if case.when is None else f'when {self.said(case.when)}'}"
            for case in define.cases
        ]

    def binder(self, binder: Binder) -> str:
        """Return one variable in words: ``every coral c``."""
        if binder.kind.value == "tank":
            return "the tank"
        if binder.neighbour_of:
            return f"every neighbour {binder.name} of {binder.neighbour_of}"
        if binder.weapon_of:
            return f"every weapon {binder.name} of {binder.weapon_of}"
        return f"every {binder.kind.value} {binder.name}"

    def said(self, node: Expr) -> str:
        """Return an expression in words; what has no words of its own as it is written."""
        match node:
            case Number():
                return literal(node)
            case Name(name=name):
                return self._name(name)
            case Call(name=name, args=args):
                return self._call(name, args)
            case Compare(op=op, left=left, right=right):
                return f"{self.said(left)} {_COMPARED[op]} {self.said(right)}"
            case Between(value=value, low=low, high=high):
                return f"{self.said(value)} is from {self.said(low)} to {self.said(high)}"
            case Is():
                return self._is(node)
            case Not(of=of):
                return f"it is not so that {self.said(of)}"
            case And(items=items):
                return " and ".join(self._grouped(item, Or) for item in items)
            case Or(items=items):
                return " or ".join(self._grouped(item, And) for item in items)
            case Arith(op=op, left=left, right=right):
                return f"{self.said(left)} {_ARITHMETIC[op.value]} {self.said(right)}"
            case Extreme(largest=largest, items=items):
                which = "largest" if largest else "smallest"
                return f"the {which} of {_listed(map(self.said, items))}"
            case Aggregate():
                return self._aggregate(node)
            case _:
                return expression(node)

    def _grouped(self, node: Expr, other: type[And | Or]) -> str:
        """A part of ``and`` or ``or``, in brackets where it is the other of the two."""
        return f"({self.said(node)})" if isinstance(node, other) else self.said(node)

    def _name(self, name: str) -> str:
        """A named number with its value, or a word as it stands."""
        let = self._library.lets.get(name)
        return name.replace("-", " ") if let is None else f"{literal(let.value)} ({name.replace('-', ' ')})"

    def _call(self, name: str, args: tuple[Expr, ...]) -> str:
        """A measure, relation or definition by its own phrase."""
        if name == "spot":
            return f"the place of {self.said(args[0])}"
        things = [self._thing(arg) for arg in args]
        vocabulary = self._library.vocabulary
        found = vocabulary.measures.get(name) or vocabulary.relations.get(name)
        if found is not None and found.say:
            return _filled(found.say, found.params, things)
        define = self._library.defines.get(name)
        if define is not None and define.say is not None:
            say = "".join(
                piece if isinstance(piece, str) else f"{{{getattr(piece, 'name', '')}}}"
                for piece in define.say.pieces
            )
            return _filled(say, define.params, things)
        return f"{name.replace('-', ' ')} of {_listed(things)}"

    def _thing(self, node: Expr) -> str:
        """Whom a phrase is about."""
        return node.name if isinstance(node, Name) else self.said(node)

    def _is(self, node: Is) -> str:
        """A comparison of words."""
        right = " or ".join(self._thing(item) for item in node.right)
        if node.op is IsOp.HAS:
            return f"{right} is {'not ' if node.negated else ''}among {self.said(node.left)}"
        if len(node.right) == 1 and isinstance(node.right[0], Call) and node.op is IsOp.ONE_OF:
            return (
                f"{self.said(node.left)} is {'not ' if node.negated else ''}among {self.said(node.right[0])}"
            )
        if isinstance(node.right[0], Call):
            right = self.said(node.right[0])
            same = "is not the same as" if node.negated else "is the same as"
            return f"{self.said(node.left)} {same} {right}"
        return f"{self.said(node.left)} is {'not ' if node.negated else ''}{right}"

    def _aggregate(self, node: Aggregate) -> str:
        """What is made of many."""
        about = self.binder(node.binder).removeprefix("every ")
        where = "" if node.where is None else self.said(node.where)
        match node.op.value:
            case "any":
                return f"there is a {about}" + (f" such that {where}" if where else "")
            case "every":
                return f"for every {about} {where}" if where else f"every {about}"
            case "count of":
                return f"the number of {about}" + (f" such that {where}" if where else "")
            case kind:
                value = "" if node.value is None else self.said(node.value)
                named = {"sum of": "the sum of", "least of": "the least of", "most of": "the most of"}[kind]
                return f"{named} {value} over every {about}" + (f" such that {where}" if where else "")


def _without_braces(text: str) -> str:
    """A text for the eye with its things named as the rule names them."""
    return re.sub(r"\{([^{}]*)\}", r"\1", str(text))


def _filled(say: str, params: tuple[Param, ...], things: list[str]) -> str:
    """A phrase with its holes filled."""
    by_name = {param.name: thing for param, thing in zip(params, things, strict=True)}
    return re.sub(r"\{([a-z][a-z0-9-]*)\}", lambda hole: by_name.get(hole.group(1), hole.group(1)), say)


def _listed(parts: Iterable[str]) -> str:
    """Parts joined by commas and an ``and``."""
    found = list(parts)
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}"
