"""The one comparison that decides a formula, and the two numbers a keeper compares in it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from advisor.language.nodes import AggregateOp, CompareOp
from advisor.model.results import Value
from advisor.model.vocabulary import Kind, Supplier, WordType
from advisor.reasoning.columns import Truths
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.logic_ops import Every, Exact, Negation, Some, TruthAggregate
from advisor.reasoning.ops import Defined, NumberCell, Op, WordCell
from advisor.reasoning.record import Key, Row, deciding_members, every_cell, keys_below, members_of, value_of
from advisor.reasoning.step_ops import StepsAway
from advisor.reasoning.word_ops import WordIs

_OPPOSITE = {
    CompareOp.AT_LEAST: CompareOp.LESS,
    CompareOp.LESS: CompareOp.AT_LEAST,
    CompareOp.AT_MOST: CompareOp.MORE,
    CompareOp.MORE: CompareOp.AT_MOST,
}


def weighed(op: Op, row: Row, about: str) -> tuple[str, Value | None, Value | None, Value | None]:
    """Return what a formula is about: a short label, what was found here, and both ends of what is wanted."""
    core, spot = decided_by(op, row)
    return (quantity_of(core, spot, about), *both_numbers(core, spot))


def decided_by(op: Op, row: Row, kept: frozenset[Key] = frozenset()) -> tuple[Op, Row]:
    """Return the comparison that decides, and its row: the worst of an ``and``, the best of an ``or``.

    Parameters
    ----------
    kept
        The cells a decided formula is known to rest on; the comparison is one of theirs.
    """
    match op:
        case Exact(formula=formula):
            return decided_by(formula, row, kept)
        case Defined(body=body):
            return decided_by(body, row, kept)
        case Negation(of=of):
            found, where = decided_by(of, row, kept)
            return _opposite(found), where
        case Every(items=items) | Some(items=items):
            pick = min if isinstance(op, Every) else max
            told = _telling(op, row, [(item, row) for item in items], kept)
            return decided_by(*pick(told, key=lambda each: _standing(*each)), kept)
        case StepsAway(condition=link):
            # a chain is as good as its weakest link; one that is not there lacks the one that is nearest
            links = [(link, member) for member in deciding_members(op, row)]
            pick = min if _standing(op, row)[0] > 0 else max
            return decided_by(*pick(links, key=lambda each: _standing(*each)), kept) if links else (op, row)
        case TruthAggregate(op=kind, condition=condition):
            members = [(condition, member) for member in members_of(op, row)]
            if not members:
                return op, row
            pick = min if kind is AggregateOp.EVERY else max
            return decided_by(
                *pick(_telling(op, row, members, kept), key=lambda each: _standing(*each)), kept
            )
        case _:
            return op, row


def _telling(op: Op, row: Row, parts: list[tuple[Op, Row]], kept: frozenset[Key]) -> list[tuple[Op, Row]]:
    """The parts of a decided formula that read what it rests on; of an open one all."""
    if not kept or not _standing(op, row)[0]:
        return parts
    return [part for part in parts if any(key in kept for key in keys_below(*part))] or parts


def _opposite(op: Op) -> Op:
    """What is asked for where a comparison must not hold; of a band only what was found."""
    match op:
        case Compare(op=kind):
            return replace(op, op=_OPPOSITE[kind])
        case WordIs(negated=negated):
            return replace(op, negated=not negated)
        case Within(value=value):
            return value
        case _:
            return op


def _standing(op: Op, row: Row) -> tuple[int, float]:
    """How well a truth stands: no, open, yes; then its margin in steps."""
    column = row.frame.value(op)
    if not isinstance(column, Truths):
        return 0, 0.0
    order = 1 if column.yes[row.at] else -1 if column.no[row.at] else 0
    best = float(column.best[row.at])
    return order, 0.0 if np.isnan(best) else best


def is_asked(op: Op) -> bool:
    """Return whether an operation holds something read or computed in the tank, not only card numbers."""
    return any(
        not isinstance(cell, NumberCell | WordCell) or Supplier.CARD not in cell.measure.suppliers
        for cell in every_cell(op)
    )


def both_numbers(op: Op | None, row: Row) -> tuple[Value | None, Value | None, Value | None]:
    """Return what was found here, and the low and high end of what is wanted."""
    match op:
        case Compare(op=kind, left=left, right=right):
            turned = not is_asked(left) and is_asked(right)
            here, wanted = (right, left) if turned else (left, right)
            at_least = kind in (CompareOp.AT_LEAST, CompareOp.MORE)
            value = value_of(wanted, row)
            low, high = (value, None) if at_least is not turned else (None, value)
            return _found(here, row), low, high
        case Within(value=value_op, low=low_op, high=high_op):
            return _found(value_op, row), value_of(low_op, row), value_of(high_op, row)
        case WordIs(left=left):
            return _found(left, row), _wanted_words(op, row), None
        case None:
            return None, None, None
        case _:
            return value_of(op, row), None, None


def _wanted_words(op: WordIs, row: Row) -> Value | None:
    """The words a comparison asks for; where some must not be, the others there are."""
    listed = value_of(op.right, row) if op.right is not None else Value(words=op.words)
    if not op.negated:
        return listed
    kind = op.left.measure.type if isinstance(op.left, WordCell) else None
    declared = kind.words if isinstance(kind, WordType) else ()
    others = tuple(word for word in declared if word not in listed.words)
    return Value(words=others) if others else None


def _found(op: Op, row: Row) -> Value:
    """A value with the kind of its ground, where it is a single cell."""
    cells = list(every_cell(op))
    kind = row.cell(cells[0]).kind.value if len(cells) == 1 else "computed" if cells else ""
    return value_of(op, row, kind)


def quantity_of(op: Op | None, row: Row, about: str) -> str:
    """Return a short row label: the quantity found here and the other animal, if there is one."""
    if op is None:
        return ""
    cells = list(every_cell(op))
    cells.sort(
        key=lambda cell: isinstance(cell, NumberCell | WordCell) and Supplier.CARD in cell.measure.suppliers
    )
    if not cells:
        return ""
    first = cells[0]
    others = [
        row.label(ref)
        for ref in first.refs
        if ref.target is Kind.ANIMAL and row.label(ref) != about and len(first.refs) > 1
    ]
    word = first.name.replace("-", " ")
    if not others:
        return word
    return f"{word} to {others[-1]}" if first.name == "gap" else f"{word} {others[-1]}"
