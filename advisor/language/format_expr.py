"""Expressions, numbers and texts as the formatter prints them."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import assert_never

from advisor.errors import Problem, UnusableInput
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
from advisor.language.since import event_of
from advisor.model.vocabulary import Kind, Source
from advisor.units import PLAIN, UNITS

WIDTH = 100
"""No line of rules is longer, where it can be broken at all."""
HARD_SPACE = "\x00"
"""A space inside a line that must not be broken: between a number and its unit, and within a hole."""
_ATOM = re.compile(r'(?P<blank>[ ]+)|(?P<quote>"[^"]*")?(?P<rest>[^ "]*)')
_SINGLE_SPACE = re.compile(r"(?<=\S) (?=\S)")
_OR, _AND, _NOT, _COMPARE, _SUM, _PRODUCT, _UNARY, _PRIMARY = range(1, 9)


def cannot(what: str) -> UnusableInput:
    """Return the refusal to print what the language cannot say."""
    return UnusableInput(
        f"this cannot be written in the rule language: {what}",
        (Problem("format-901", what, mend="this tree was not read from a file"),),
    )


def digits(value: float) -> str:
    """Return a number without an exponent, exactly as it would be read back."""
    text = format(Decimal(repr(float(value))), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def literal(number: Number) -> str:
    """Return a literal with its unit as written."""
    return f"{digits(number.value)}{HARD_SPACE}{number.unit}" if number.unit else digits(number.value)


def from_base(base_value: float, unit: str, spread: bool = False) -> str:
    """Return a base value in `unit` so that reading it gives the very same number.

    `spread`: a difference, which an offset of the unit does not touch.
    """
    found = UNITS.get(unit, PLAIN) if unit else PLAIN
    offset = 0.0 if spread else found.offset
    about = (base_value - offset) / found.factor
    for places in range(1, 18):
        text = digits(float(f"{about:.{places}g}"))
        if float(text) * found.factor + offset == base_value:
            return f"{text}{HARD_SPACE}{unit}" if unit else text
    raise cannot(f"{base_value!r} in {unit}")


def band(low: Number, high: Number) -> str:
    """Return a range; the unit is said once."""
    first = digits(low.value) if low.unit == high.unit else literal(low)
    return f"{first} to {literal(high)}"


def quoted(text: str) -> str:
    """Return a text in quotes; its spaces may be broken at, see `wrap_text`."""
    if '"' in text or "\n" in text or "\r" in text:
        raise cannot(f"a quote or a line break in the text {text!r}")
    return f'"{text}"'


def whole(text: str) -> str:
    """Return a text in quotes that stands alone and is never cut: a title, a name in a list."""
    return quoted(text).replace(" ", HARD_SPACE)


def source(given: Source) -> str:
    """Return a source clause without its first word."""
    dated = f" dated{HARD_SPACE}{given.dated}" if given.dated else ""
    return f"{quoted(given.text)} kind{HARD_SPACE}{given.grade.value}{dated}"


def template(text: Text) -> str:
    """Return a template with its holes, unquoted."""
    parts: list[str] = []
    for piece in text.pieces:
        if isinstance(piece, str):
            if "{" in piece or "}" in piece:
                raise cannot(f"a curly bracket in the text {piece!r}")
            parts.append(piece)
        else:
            parts.append("{" + expression(piece).replace(" ", HARD_SPACE) + "}")
    return "".join(parts)


def binder(of: Binder) -> str:
    """Return one bound variable."""
    if of.kind is Kind.TANK:
        return "tank"
    chain = f" {_chain(of.chain)}" if of.chain is not None else ""
    if of.neighbour_of:
        return f"neighbour {of.name} of {of.neighbour_of}{chain}"
    return f"{of.kind.value} {of.name}" + (f" of {of.weapon_of}" if of.weapon_of else "") + chain


def expression(node: Expr) -> str:
    """Return an expression as the formatter prints it, on one line."""
    return _print(node, _OR, last=True)


def _print(node: Expr, level: int, last: bool) -> str:
    """An expression where at least `level` binds; `last`: nothing follows that `where` would swallow."""
    own = _level(node)
    open_ended = isinstance(node, Aggregate) and not last
    if own < level or open_ended:
        return f"({_bare(node, last=True)})"
    return _bare(node, last)


def _level(node: Expr) -> int:
    """How tightly a node binds."""
    match node:
        case Or():
            return _OR
        case And():
            return _AND
        case Not(of=of):
            said_in_one = _infix(of) or isinstance(of, StepsAway)
            return _COMPARE if said_in_one and node.span == of.span else _NOT
        case Compare() | Between() | Is() | StepsAway():
            return _COMPARE
        case Arith(op=op):
            return _SUM if op in (ArithOp.ADD, ArithOp.SUBTRACT) else _PRODUCT
        case Negative():
            return _UNARY
        case Call():
            return _COMPARE if _infix(node) else _PRIMARY
        case Extreme():
            return _COMPARE  # its list would swallow what is multiplied, and a sum would look part of it
        case Number() | Name() | Aggregate() | Since():
            return _PRIMARY
        case _:
            assert_never(node)


def _infix(node: Expr) -> bool:
    """Whether a relation was written as ``b is down-flow of a``."""
    if not isinstance(node, Call) or node.dotted or len(node.args) != 2 or node.name_span is None:
        return False
    return (node.name_span.line, node.name_span.column) > (node.span.line, node.span.column)


def _bare(node: Expr, last: bool) -> str:
    """A node without brackets around it."""
    match node:
        case Number():
            return literal(node)
        case Name(name=name):
            return name
        case Call():
            return _call(node, negated=False)
        case Compare(op=op, left=left, right=right):
            return f"{_side(left, False)} {op.value} {_side(right, last)}"
        case Between(value=value, low=low, high=high):
            return f"{_side(value, False)} between {_side(low, False)} and {_side(high, last)}"
        case Is():
            return _is(node)
        case Not(of=of):
            return _not(node, of, last)
        case And(items=items):
            return " and ".join(_each(items, _NOT, last))
        case Or(items=items):
            return " or ".join(_each(items, _AND, last))
        case Arith():
            return _arithmetic(node, last)
        case Negative(of=of):
            return f"-{_print(of, _UNARY, last)}"
        case Extreme(largest=largest, items=items):
            return f"{'larger' if largest else 'smaller'} of {', '.join(_each(items, _PRODUCT, last))}"
        case Aggregate():
            return _aggregate(node)
        case Since(event=event, of=of):
            return since(event, of)
        case StepsAway():
            return _steps_away(node, negated=False)
        case _:
            assert_never(node)


def since(event: str, of: Expr) -> str:
    """Return ``days since fixed of c``."""
    return f"days since {event} of {_print(of, _PRIMARY, False)}"


def _chain(of: Chain) -> str:
    """``within 2 steps of a over touching``."""
    return f"within {of.steps} {'step' if of.steps == 1 else 'steps'} of {of.of} over {of.over}"


def _steps_away(node: StepsAway, negated: bool) -> str:
    """``b is within 2 steps of a over touching``."""
    return f"{_print(node.thing, _SUM, False)} is {'not ' if negated else ''}{_chain(node.chain)}"


def _side(node: Expr, last: bool) -> str:
    """One side of a comparison: a sum, or a list of which the larger counts."""
    return _bare(node, last) if isinstance(node, Extreme) else _print(node, _SUM, last)


def _each(items: tuple[Expr, ...], level: int, last: bool) -> list[str]:
    """Items of a chain; only the last may be open-ended."""
    end = len(items) - 1
    return [_print(item, level, last and index == end) for index, item in enumerate(items)]


def _not(node: Not, of: Expr, last: bool) -> str:
    """A denial; ``is not … of`` where it was written so."""
    if isinstance(of, Call) and _infix(of):
        return _call(of, negated=True) if node.span == of.span else f"not ({_call(of, negated=False)})"
    if isinstance(of, StepsAway) and node.span == of.span:
        return _steps_away(of, negated=True)
    if isinstance(of, Compare | Between | Is | StepsAway):
        return f"not ({_bare(of, last=True)})"
    return f"not {_print(of, _NOT, last)}"


def _call(node: Call, negated: bool) -> str:
    """A call, as it was written: ``gap(a, b)``, ``c.kind`` or ``b is down-flow of a``."""
    if _infix(node):
        first, second = node.args
        said = f"{node.name.removesuffix('-by')} by" if node.name.endswith("-by") else f"{node.name} of"
        no = "not " if negated else ""
        return f"{_print(first, _SUM, False)} is {no}{said} {_print(second, _PRIMARY, False)}"
    if node.dotted and len(node.args) == 1:
        inner = node.args[0]
        plain = isinstance(inner, Name | Call) and not _infix(inner)
        return f"{_bare(inner, False) if plain else f'({_bare(inner, True)})'}.{node.name}"
    event = event_of(node.name)
    if event and len(node.args) == 1:
        return since(event, node.args[0])
    return f"{node.name}({', '.join(_argument(arg) for arg in node.args)})"


def _argument(node: Expr) -> str:
    """One argument; whatever has commas of its own stands in brackets."""
    return _bare(node, True) if isinstance(node, Name | Call | Number | Arith) else f"({_bare(node, True)})"


def _is(node: Is) -> str:
    """A comparison of words."""
    left, no = _side(node.left, False), "not " if node.negated else ""
    right = ", ".join(_print(item, _PRIMARY, False) for item in node.right)
    if node.op is IsOp.HAS:
        return f"{left} has {no}{right}"
    return f"{left} is {no}{'one of ' if node.op is IsOp.ONE_OF else ''}{right}"


def _arithmetic(node: Arith, last: bool) -> str:
    """A chain from the left; a chain on the right stands in brackets."""
    level = _level(node)
    left = _print(node.left, level, False)
    return f"{left} {node.op.value} {_print(node.right, level + 1, last)}"


def _aggregate(node: Aggregate) -> str:
    """What is made of many."""
    text = f"{node.op.value} "
    if node.value is not None:
        nested = isinstance(node.value, Aggregate | Extreme)
        text += f"({_bare(node.value, True)}) for " if nested else f"{_print(node.value, _OR, True)} for "
    elif node.op in (AggregateOp.SUM, AggregateOp.LEAST, AggregateOp.MOST):
        raise cannot(f"{node.op.value} nothing")
    text += binder(node.binder)
    return text if node.where is None else f"{text} where {_print(node.where, _OR, True)}"


def wrap(first: str, text: str, indent: int, most: int = WIDTH) -> list[str]:
    """Return a clause as lines of at most so many letters; a quoted text is cut into adjacent ones."""
    lines: list[str] = []
    current, gap = first, ""
    for match in _ATOM.finditer(text):
        blank, quote, rest = match.group("blank"), match.group("quote"), match.group("rest") or ""
        if not match.group():
            continue
        if blank is not None:
            gap = blank
            continue
        words = _SINGLE_SPACE.split(quote[1:-1]) if quote is not None else [rest]
        if quote is not None:
            words[0] = f'"{words[0]}'
            words[-1] = f'{words[-1]}"{rest}'
        for index, word in enumerate(words):
            closing = 1 if quote is not None and index < len(words) - 1 else 0
            if (
                len(current) + len(gap) + len(word) + closing <= most
                or not current.strip()
                or current == first
            ):
                current += gap + word
            else:
                lines.append(current + ('"' if index else ""))
                current = " " * indent + ('"' if index else "") + word
            gap = " "
        gap = ""
    lines.append(current)
    return [line.replace(HARD_SPACE, " ") for line in lines]
