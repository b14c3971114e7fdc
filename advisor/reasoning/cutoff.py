"""How far a rule can see: the gap beyond which it surely holds or does not apply.

A pair is left out of a rule's bindings only if its gap is surely larger than
that, at every month asked about; a pair of unknown gap always stays in.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.language.nodes import CompareOp
from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import Bindings, Population
from advisor.reasoning.compare_ops import Compare
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.logic_ops import Every, Exact, Negation, Some
from advisor.reasoning.ops import Defined, NumberCell, Op, numbers
from advisor.reasoning.tables import Tables

_AT_LEAST = (CompareOp.AT_LEAST, CompareOp.MORE)


@dataclass(frozen=True, slots=True)
class Reach:
    """What pairs a rule must be asked about.

    `within_cm` is None for a rule that must see all pairs; `kind` says so in
    words: ``within``, ``all pairs``, ``each animal``, ``each pump`` and the like, or ``once per tank``.
    """

    kind: str
    within_cm: float | None = None
    horizon_months: float = 0.0


def reach_of(
    compiled: CompiledRule, tables: Tables, population: Population, horizon_months: float = 0.0
) -> Reach:
    """Return how far a rule can see in these tables, from its own comparisons of a gap."""
    animals = [binder for binder in compiled.binders if binder.kind.lives]
    if not animals:
        things = [binder.kind.value for binder in compiled.binders if binder.kind is not Kind.TANK]
        return Reach(f"each {' and '.join(things)}" if things else "once per tank")
    if len(animals) == 1:
        return Reach("each animal")
    if len(animals) > 2 or compiled.expect is None:
        return Reach("all pairs")
    clauses = ((compiled.expect, True), (compiled.when, False), (compiled.unless, True))
    bounds = [limit for part, wanted in clauses if part is not None for limit in _limits(part, wanted=wanted)]
    # what is only assumed may be anything: a danger is judged without assumptions
    hull = Frame(tables, population, np.zeros(1, np.int64), {}, np.zeros(1), assume=False, hull=True)
    found = [float(numbers(hull, limit).high[0]) for limit in bounds]
    finite = [value for value in found if np.isfinite(value)]
    return Reach("within", min(finite), horizon_months) if finite else Reach("all pairs")


def _limits(op: Op, *, wanted: bool) -> list[Op]:
    """Quantities such that a larger gap makes `op` surely true (`wanted`) or surely false."""
    match op:
        case Exact(formula=formula):
            return _limits(formula, wanted=wanted)
        case Defined(body=body):
            return _limits(body, wanted=wanted)
        case Some(items=items) if wanted:
            return [limit for item in items for limit in _limits(item, wanted=True)]
        case Every(items=items) if not wanted:
            return [limit for item in items for limit in _limits(item, wanted=False)]
        case Negation(of=of):
            return _limits(of, wanted=not wanted)
        case Compare(op=kind, left=NumberCell(measure=measure), right=limit) if measure.name == "gap":
            return [limit] if (kind in _AT_LEAST) is wanted else []
        case Compare(op=kind, left=limit, right=NumberCell(measure=measure)) if measure.name == "gap":
            return [limit] if (kind not in _AT_LEAST) is wanted else []
        case _:
            return []


def near_enough(bindings: Bindings, compiled: CompiledRule, tables: Tables, reach: Reach) -> Bindings:
    """Return the bindings whose gap is not surely beyond a rule's reach at the horizon."""
    if reach.within_cm is None or not len(bindings):
        return bindings
    first, second = (
        bindings.rows[binder.name] for binder in compiled.binders if binder.kind in (Kind.ANIMAL, Kind.CORAL)
    )
    months = np.full(len(bindings), reach.horizon_months)
    gaps = tables.numbers("gap", (first, second), months, assume=False)
    return bindings.take(gaps.low <= reach.within_cm)
