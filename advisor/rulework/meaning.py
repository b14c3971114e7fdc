"""What a rule means, apart from how it is put: two that mean the same can never come out differently."""

from __future__ import annotations

from collections.abc import Hashable

from advisor.language.nodes import ArithOp, CompareOp
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.logic_ops import Every, Exact, Negation, NumberAggregate, Some, TruthAggregate
from advisor.reasoning.ops import (
    Arithmetic,
    Cases,
    Constant,
    Defined,
    DefinedQuantity,
    Extreme,
    Op,
    TruthConstant,
)
from advisor.reasoning.word_ops import WordIs

Meaning = Hashable

_DENIED = {
    CompareOp.AT_LEAST: CompareOp.LESS,
    CompareOp.LESS: CompareOp.AT_LEAST,
    CompareOp.AT_MOST: CompareOp.MORE,
    CompareOp.MORE: CompareOp.AT_MOST,
}


def meaning_of(compiled: CompiledRule) -> Meaning:
    """Return what decides a rule's verdicts, equal for rules that say the same in other words.

    Equal means the same for certain; what differs here may still mean the same.
    """
    parts = (compiled.when, compiled.expect, compiled.unless)
    return tuple(None if part is None else _of(part) for part in parts)


def _of(op: Op) -> Meaning:
    """The meaning of one operation."""
    match op:
        case Exact(formula=inner) | Defined(body=inner) | DefinedQuantity(body=inner):
            return _of(inner)
        case Negation(of=of):
            return _denied(of)
        case Every(items=items) | Some(items=items):
            return _joined("and" if isinstance(op, Every) else "or", items)
        case Constant(value=value):
            return ("number", value)
        case TruthConstant(value=plain):
            return ("truth", plain)
        case Compare():
            return _compared(op.op, _of(op.left), _of(op.right))
        case Within():
            return ("within", _of(op.value), _of(op.low), _of(op.high))
        case WordIs():
            right = None if op.right is None else _of(op.right)
            return ("word", op.op, _of(op.left), right, frozenset(op.words), op.negated)
        case Arithmetic():
            return _reckoned(op)
        case Extreme(largest=largest, items=items):
            return ("extreme", largest, frozenset(_of(item) for item in items))
        case Cases():
            guards = tuple(None if guard is None else _of(guard) for guard in op.guards)
            return ("cases", tuple(_of(value) for value in op.values), guards)
        case TruthAggregate():
            return ("of many", op.op, op.binder, _of(op.condition))
        case NumberAggregate():
            condition = None if op.condition is None else _of(op.condition)
            return ("of many", op.op, op.binder, condition, None if op.of is None else _of(op.of))
        case _:
            return _cell(op)


def _cell(op: Op) -> Meaning:
    """What is read, or the operation itself where nothing is known of its meaning."""
    refs, name = getattr(op, "refs", None), getattr(op, "name", "")
    return op if refs is None else ("cell", name, refs)


def _denied(op: Op) -> Meaning:
    """The meaning of a denial, carried inwards as far as it goes."""
    match op:
        case Exact(formula=inner) | Defined(body=inner):
            return _denied(inner)
        case Negation(of=of):
            return _of(of)
        case Compare():
            return _compared(_DENIED[op.op], _of(op.left), _of(op.right))
        case WordIs():
            right = None if op.right is None else _of(op.right)
            return ("word", op.op, _of(op.left), right, frozenset(op.words), not op.negated)
        case _:
            return ("not", _of(op))


def _joined(word: str, items: tuple[Op, ...]) -> Meaning:
    """The meaning of a chain: order and repetition do not count."""
    found = frozenset(_of(item) for item in items)
    return next(iter(found)) if len(found) == 1 else (word, found)


def _compared(op: CompareOp, left: Meaning, right: Meaning) -> Meaning:
    """A comparison, always written with the larger side first."""
    if op in (CompareOp.AT_MOST, CompareOp.LESS):
        turned = CompareOp.AT_LEAST if op is CompareOp.AT_MOST else CompareOp.MORE
        return ("compare", turned, right, left)
    return ("compare", op, left, right)


def _reckoned(op: Arithmetic) -> Meaning:
    """A sum or product; plain numbers are worked out."""
    left, right = _of(op.left), _of(op.right)
    match left, right:
        case ("number", float(a)), ("number", float(b)):
            worked = {ArithOp.ADD: a + b, ArithOp.SUBTRACT: a - b, ArithOp.MULTIPLY: a * b}
            return ("number", worked[op.op]) if op.op in worked else (op.op, left, right)
    if op.op in (ArithOp.ADD, ArithOp.MULTIPLY):
        return (op.op, frozenset((left, right))) if left != right else (op.op, left, right)
    return (op.op, left, right)
