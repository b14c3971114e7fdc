"""Linear terms of a comparison collected by cell: what stands on both sides is one reading with one error."""

from __future__ import annotations

from advisor.language.nodes import ArithOp
from advisor.reasoning import ops
from advisor.reasoning.compare_ops import Collected
from advisor.reasoning.ops import Op


def collected(left: Op, right: Op) -> Collected | None:
    """Return left minus right as a sum of cells, if some cell stands in it twice; else None."""
    terms: dict[Op, float] = {}
    seen: dict[Op, int] = {}
    offset = _add_terms(left, 1.0, terms, seen) + _add_terms(right, -1.0, terms, seen)
    if all(count == 1 for count in seen.values()):
        return None
    return Collected(tuple((factor, op) for op, factor in terms.items()), offset)


def terms_of(left: Op, right: Op) -> dict[Op, float]:
    """Return the factor of each cell, or part that is no sum, in left minus right."""
    terms: dict[Op, float] = {}
    _add_terms(left, 1.0, terms, {})
    _add_terms(right, -1.0, terms, {})
    return terms


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
