"""A difference collected by cell: what stands on both sides is one reading with one error.

Sums are added up term by term. Where a reading stands outside and inside a
``larger of`` or the cases of a definition, the rest of the sum is taken into
each of its parts first, so that it meets itself there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from advisor.language.nodes import ArithOp
from advisor.reasoning import ops
from advisor.reasoning.compare_ops import Collected, CollectedCases, CollectedExtreme, Difference
from advisor.reasoning.ops import Op

MOST_PARTS = 24
"""Parts that a difference is taken apart into; beyond it a part is one term, whose ranges are then wider."""


def collected(left: Op, right: Op) -> Difference | None:
    """Return left minus right with like cells added up, if some cell stands in it twice; else None."""
    terms: dict[Op, float] = {}
    seen: dict[Op, int] = {}
    offset = _add_terms(left, 1.0, terms, seen) + _add_terms(right, -1.0, terms, seen)
    found = _taken_apart(terms, offset, MOST_PARTS)
    if isinstance(found, Collected) and all(count == 1 for count in seen.values()):
        return None
    return found


def terms_of(left: Op, right: Op) -> dict[Op, float]:
    """Return the factor of each cell, or part that is no sum, in left minus right."""
    terms: dict[Op, float] = {}
    _add_terms(left, 1.0, terms, {})
    _add_terms(right, -1.0, terms, {})
    return terms


def constant_of(left: Op, right: Op) -> float:
    """Return the part of left minus right that no cell has a share in. [base unit]"""
    return _add_terms(left, 1.0, {}, {}) + _add_terms(right, -1.0, {}, {})


def _taken_apart(terms: dict[Op, float], offset: float, room: int) -> Difference:
    """A sum whose extremes and cases share cells with the rest, taken into their parts."""
    for op, factor in terms.items():
        parts = _parts(op)
        if not factor or not 1 < len(parts) <= room or not _meets_itself(op, parts, terms):
            continue
        rest = {other: share for other, share in terms.items() if other is not op}
        items = tuple(_with(part, factor, rest, offset, room // len(parts)) for part in parts)
        if isinstance(op, ops.Cases):
            return CollectedCases(op.guards, items)
        return CollectedExtreme(isinstance(op, ops.Extreme) and op.largest is (factor > 0), items)
    return Collected(tuple((factor, op) for op, factor in terms.items()), offset)


def _with(part: Op, factor: float, rest: dict[Op, float], offset: float, room: int) -> Difference:
    """One part of an extreme or of cases, with the rest of the sum."""
    terms = dict(rest)
    return _taken_apart(terms, offset + _add_terms(part, factor, terms, {}), room)


def _parts(op: Op) -> tuple[Op, ...]:
    """The quantities one of which an operation gives; none for anything else."""
    match op:
        case ops.Extreme(items=items):
            return items
        case ops.Cases(values=values):
            return values
        case _:
            return ()


def _meets_itself(op: Op, parts: Sequence[Op], terms: dict[Op, float]) -> bool:
    """Whether a cell in some part stands elsewhere in the sum too, or twice in the part."""
    others = {cell for other, factor in terms.items() if other is not op and factor for cell in _cells(other)}
    return any(count > 1 or cell in others for part in parts for cell, count in Counter(_cells(part)).items())


def _cells(op: Op) -> list[Op]:
    """Every cell a quantity is made of, as often as it stands there; what guards cases has no share."""
    match op:
        case ops.Constant():
            return []
        case ops.Cases(values=values):
            return [cell for value in values for cell in _cells(value)]
        case _:
            return [cell for child in op.inputs for cell in _cells(child)] if op.inputs else [op]


def _add_terms(op: Op, factor: float, terms: dict[Op, float], seen: dict[Op, int]) -> float:
    """Add an expression's linear terms; returns its constant part. [base unit]"""
    match op:
        case ops.Constant(value=value):
            return factor * value
        case ops.Minus(of=of):
            return _add_terms(of, -factor, terms, seen)
        case ops.DefinedQuantity(body=body):
            return _add_terms(body, factor, terms, seen)
        case ops.Arithmetic(op=ArithOp.ADD, left=a, right=b):
            return _add_terms(a, factor, terms, seen) + _add_terms(b, factor, terms, seen)
        case ops.Arithmetic(op=ArithOp.SUBTRACT, left=a, right=b):
            return _add_terms(a, factor, terms, seen) + _add_terms(b, -factor, terms, seen)
        case ops.Arithmetic(op=ArithOp.MULTIPLY, left=a, right=ops.Constant(value=value)):
            return _add_terms(a, factor * value, terms, seen)
        case ops.Arithmetic(op=ArithOp.MULTIPLY, left=ops.Constant(value=value), right=b):
            return _add_terms(b, factor * value, terms, seen)
        case ops.Arithmetic(op=ArithOp.DIVIDE, left=a, right=ops.Constant(value=value)) if value:
            return _add_terms(a, factor / value, terms, seen)
        case _:
            terms[op] = terms.get(op, 0.0) + factor
            seen[op] = seen.get(op, 0) + 1
            return 0.0
