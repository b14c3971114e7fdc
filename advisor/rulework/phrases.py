"""Expressions in plain English, made from their tree; brackets stand wherever two could be read for one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from advisor.language.format_expr import expression, literal
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
    CompareOp,
    Expr,
    Extreme,
    Is,
    IsOp,
    Name,
    Negative,
    Not,
    Number,
    Or,
    Since,
    StepsAway,
    Text,
)
from advisor.model.vocabulary import Kind, Param

_COMPARED = {
    CompareOp.AT_LEAST: "at least",
    CompareOp.AT_MOST: "at most",
    CompareOp.MORE: "more than",
    CompareOp.LESS: "less than",
}
_ARITHMETIC = {
    ArithOp.ADD: "plus",
    ArithOp.SUBTRACT: "minus",
    ArithOp.MULTIPLY: "times",
    ArithOp.DIVIDE: "divided by",
}
_MANY = {AggregateOp.SUM: "the sum", AggregateOp.LEAST: "the least", AggregateOp.MOST: "the most"}
_CLAUSES = (Compare, Call, Is, Between, StepsAway)
"""Truths that are one clause of a sentence."""
_NAMED = (Number, Name, Call)
"""Quantities that are one name."""
_IS, _MUST, _NO = "is", "must be", "it is not so that"
_TIMES = re.compile(r"^([\d.]+)[ \x00]times(?= \(|$)")
"""A factor, which is told once: ``3 (slack widths) times width of b``."""


class Phrases:
    """Says the expressions of one library in words."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def said(self, node: Expr) -> str:
        """Return an expression in words: a truth as a clause, a quantity as a name for it."""
        match node:
            case Number():
                return literal(node)
            case Name(name=name):
                return self._name(name)
            case Call(name=name, args=args):
                return self._call(name, args)
            case Compare() | Between() | Is() | StepsAway():
                return self._verdict(node, _IS)
            case Not(of=of):
                return f"{_NO} {self._inner(of, *_CLAUSES)}"
            case And(items=items):
                return " and ".join(self._parts(items, Or))
            case Or(items=items):
                return " or ".join(self._parts(items, And))
            case Arith():
                return self._arithmetic(node)
            case Negative(of=of):
                return f"minus {self._inner(of, *_NAMED)}"
            case Extreme(largest=largest, items=items):
                size = ("larg" if largest else "small") + ("er" if len(items) == 2 else "est")
                return f"{listed([self._inner(item, *_NAMED) for item in items], 'or')}, whichever is {size}"
            case Since(event=event, of=of):
                return f"the days since the last '{event}' of {self._thing(of)}"
            case Aggregate():
                return self._aggregate(node)

    def must(self, node: Expr) -> str:
        """Return a truth as something that is asked for: ``gap of a and b must be at least 5 cm``."""
        match node:
            case Compare() | Between() | Is() | StepsAway():
                return self._verdict(node, _MUST)
            case And(items=items):
                return ", and ".join(self.must(item) for item in items)
            case Not(of=of):
                return f"it must not be so that {self._inner(of, *_CLAUSES)}"
            case Aggregate(op=AggregateOp.EVERY, binder=binder, where=where) if where is not None:
                return f"for {self.binder(binder)}, {self.must(where)}"
            case Aggregate(op=AggregateOp.ANY):
                return self.said(node).replace("there is", "there must be", 1)
            case _:
                return f"it must be so that {self.said(node)}"

    def binder(self, binder: Binder) -> str:
        """Return one variable in words: ``every coral c``."""
        return "the tank" if binder.kind is Kind.TANK else f"every {self._bound(binder)}"

    def about(self, template: str, params: Sequence[Param], things: Sequence[str]) -> str:
        """Return a phrase of the vocabulary with its holes filled."""
        by_name = {param.name: thing for param, thing in zip(params, things, strict=True)}
        hole = r"\{([a-z][a-z0-9-]*)\}"
        return re.sub(hole, lambda found: by_name.get(found.group(1), found.group(1)), template)

    # --- parts -------------------------------------------------------------------------

    def _inner(self, node: Expr, *alone: type) -> str:
        """A part of something larger, in brackets unless it is of a kind that stands alone."""
        said = self.said(node)
        return said if isinstance(node, alone) else f"({said})"

    def _parts(self, items: Sequence[Expr], other: type) -> list[str]:
        """What ``and`` or ``or`` joins, in brackets where it would run on or is joined otherwise."""
        found = [self.said(item) for item in items]
        return [
            f"({said})"
            if isinstance(item, other)
            or (said is not found[-1] and (isinstance(item, Aggregate) or said.startswith(_NO)))
            else said
            for item, said in zip(items, found, strict=True)
        ]

    def _bound(self, binder: Binder, plural: bool = False) -> str:
        """A variable with what it is: ``neighbour n of c``."""
        kind = "neighbour" if binder.neighbour_of else binder.kind.value
        whose = binder.neighbour_of or binder.weapon_of
        many = f"{kind}s" if plural and binder.kind is not Kind.FISH else kind
        text = f"{many} {binder.name}" + (f" of {whose}" if whose else "")
        return text if binder.chain is None else f"{text} {self._chain(binder.chain)}"

    def _chain(self, chain: Chain) -> str:
        """``within 2 steps of a``, and what makes a step."""
        steps = "1 step" if chain.steps == 1 else f"{chain.steps} steps"
        return f"within {steps} of {chain.of} (a step: {self._call(chain.over, ('one', 'the next'))})"

    def _name(self, name: str) -> str:
        """A named number with its value, or a word as it stands."""
        let = self._library.lets.get(name)
        return name.replace("-", " ") if let is None else f"{literal(let.value)} ({name.replace('-', ' ')})"

    def _call(self, name: str, args: Sequence[Expr | str]) -> str:
        """A measure, relation or definition by its own phrase."""
        things = [arg if isinstance(arg, str) else self._thing(arg) for arg in args]
        if name == "spot":
            return f"the place of {things[0]}"
        vocabulary = self._library.vocabulary
        found = vocabulary.measures.get(name) or vocabulary.relations.get(name)
        if found is not None and found.say:
            return self.about(found.say, found.params, things)
        define = self._library.defines.get(name)
        if define is not None and define.say is not None:
            return self.about(phrase_of(define.say), define.params, things)
        return f"{name.replace('-', ' ')} of {listed(things)}"

    def _thing(self, node: Expr) -> str:
        """Whom a phrase is about."""
        if isinstance(node, Name):
            return "the tank" if node.name == "tank" else node.name
        return self.said(node)

    def _verdict(self, node: Compare | Between | Is | StepsAway, verb: str) -> str:
        """A comparison, as what is or as what must be."""
        match node:
            case Compare(op=op, left=left, right=right):
                return f"{self._side(left)} {verb} {_COMPARED[op]} {self._side(right)}"
            case Between(value=value, low=low, high=high):
                return f"{self._side(value)} {verb} from {self._side(low)} to {self._side(high)}"
            case StepsAway(thing=thing, chain=chain):
                return f"{self._thing(thing)} {verb} {self._chain(chain)}"
            case Is():
                return self._is(node, verb)

    def _side(self, node: Expr) -> str:
        """One side of a comparison."""
        return self._inner(node, *_NAMED, Arith, Negative, Since)

    def _is(self, node: Is, verb: str) -> str:
        """A comparison of words; a yes or no that is called ``whether …`` as what is so."""
        first, denied = node.right[0], _denied(verb) if node.negated else verb
        left = self._thing(node.left) if isinstance(node.left, Name) else self._side(node.left)
        right = listed([self._thing(item) for item in node.right], "or")
        if left.startswith("whether ") and right in ("yes", "no"):
            return _told(left.removeprefix("whether "), (right == "yes") is not node.negated, verb)
        if node.op is IsOp.HAS:
            return f"{right} {denied} among {left}"
        if node.op is IsOp.ONE_OF and len(node.right) == 1 and isinstance(first, Call):
            return f"{left} {denied} among {self.said(first)}"
        return f"{left} {denied} {'the same as ' if isinstance(first, Call) else ''}{right}"

    def _arithmetic(self, node: Arith) -> str:
        """A sum or product; what it is made of stands in brackets where the order could be mistaken."""
        same = (ArithOp.ADD, ArithOp.SUBTRACT) if node.op in (ArithOp.ADD, ArithOp.SUBTRACT) else (node.op,)
        runs_on = isinstance(node.left, Arith) and node.left.op in same
        left = self.said(node.left) if runs_on else self._inner(node.left, *_NAMED)
        if node.op is ArithOp.MULTIPLY:
            left = _TIMES.sub(r"\1", left)
        return f"{left} {_ARITHMETIC[node.op]} {self._inner(node.right, *_NAMED)}"

    def _aggregate(self, node: Aggregate) -> str:
        """What is made of many."""
        where = "" if node.where is None else self._inner(node.where, *_CLAUSES, Not, Aggregate)
        such = f" such that {where}" if where else ""
        many = self._bound(node.binder, plural=True)
        match node.op:
            case AggregateOp.ANY:
                return f"there is {_with_article(self._bound(node.binder))}{such}"
            case AggregateOp.EVERY:
                return f"for {self.binder(node.binder)}, {where}" if where else self.binder(node.binder)
            case AggregateOp.COUNT:
                return f"the number of {many}{such}"
            case _ if node.value is not None:
                return f"{_MANY[node.op]} of {self._side(node.value)} over all {many}{such}"
            case _:
                return expression(node)


def phrase_of(say: Text) -> str:
    """Return what a definition is called, its holes named for its own variables."""
    return "".join(
        piece if isinstance(piece, str) else f"{{{getattr(piece, 'name', '')}}}" for piece in say.pieces
    )


def listed(parts: Iterable[str], joint: str = "and") -> str:
    """Return parts joined by commas and a last word."""
    found = list(parts)
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} {joint} {found[-1]}"


def _with_article(text: str) -> str:
    """A thing with its article."""
    return f"{'an' if text[0] in 'aeiou' else 'a'} {text}"


def _told(clause: str, so: bool, verb: str) -> str:
    """Something that is so or not, as what is or as what must be."""
    if verb == _MUST:
        return f"it must {'' if so else 'not '}be so that {clause}"
    return clause if so else f"{_NO} {clause}"


def _denied(verb: str) -> str:
    """A verb turned round."""
    return "must not be" if verb == _MUST else f"{verb} not"
