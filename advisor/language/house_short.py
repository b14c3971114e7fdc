"""How far short an accept says a rule was: in the unit of what the rule compares, or in steps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from advisor.language.dimensions import PHRASE, number_type, of_dimension, shown
from advisor.language.format_house import STEPS, UNKNOWN, pasteable
from advisor.language.house_state import House
from advisor.language.library import Library
from advisor.language.nodes import (
    Aggregate,
    And,
    Between,
    Call,
    Compare,
    Expr,
    HouseEdit,
    Not,
    Number,
    Or,
    Rule,
    StepsAway,
)
from advisor.language.things import Scope
from advisor.language.valuetypes import scope_of, typed
from advisor.language.walk import bodies
from advisor.model.vocabulary import NumberType
from advisor.units import DIMENSIONLESS, Dimension

WRONG_SHORT = "house-514"
"""Code of a shortfall that its rule cannot have; the accept is left out, and what it accepts is told."""


def amounts_compared(rule: Rule, library: Library) -> tuple[NumberType, ...]:
    """Return each kind of amount that can fall short in a rule, by name of its dimension."""
    found = () if rule.expect is None else _compared(rule.expect, scope_of(rule.binders), library, set())
    kinds = {kind.dimension: kind for kind in found}
    return tuple(kinds[dimension] for dimension in sorted(kinds))


def _compared(node: Expr, scope: Scope, library: Library, seen: set[str]) -> Iterator[NumberType]:
    """What a truth compares, through definitions."""
    match node:
        case Compare(left=left, right=right):
            yield _kind((left, right), scope, library)
        case Between(value=value, low=low, high=high):
            yield _kind((value, low, high), scope, library)
        case And(items=items) | Or(items=items):
            for item in items:
                yield from _compared(item, scope, library, seen)
        case Not(of=of):
            yield from _compared(of, scope, library, seen)
        case Aggregate(binder=binder, where=where):
            if binder.chain is not None:
                yield from _defined(binder.chain.over, library, seen)
            if where is not None:
                yield from _compared(where, {**scope, binder.name: binder.kind}, library, seen)
        case Call(name=name):
            yield from _defined(name, library, seen)
        case StepsAway(chain=chain):
            yield from _defined(chain.over, library, seen)
        case _:
            return


def _defined(name: str, library: Library, seen: set[str]) -> Iterator[NumberType]:
    """What a truth of that name compares, if it is a definition that was not looked at yet."""
    define = library.defines.get(name)
    if define is None or name in seen:
        return
    seen.add(name)
    own = {param.name: param.kind for param in define.params}
    for body in bodies(define):
        yield from _compared(body, own, library, seen)


def _kind(parts: tuple[Expr, ...], scope: Scope, library: Library) -> NumberType:
    """What the sides of a comparison differ by; a plain number takes after the other side."""
    named = [part for part in parts if not (isinstance(part, Number) and not part.unit)]
    kind = typed((named or parts)[0], scope, library)
    assert isinstance(kind, NumberType)
    warm = kind.dimension is Dimension.TEMPERATURE
    return of_dimension(Dimension.TEMPERATURE_STEP) if warm else kind


def wrong_short(house: House, edit: HouseEdit, rule: Rule) -> bool:
    """Return whether an accept tells a shortfall that its rule cannot have; recorded if so."""
    if edit.short is None:
        return False
    found = _fault(edit, edit.short, rule, amounts_compared(rule, house.before))
    if found is not None:
        what, label, mend = found
        house.refuse(WRONG_SHORT, what, edit.short.span, label, mend)
    return found is not None


def _fault(
    edit: HouseEdit, short: Number, rule: Rule, kinds: tuple[NumberType, ...]
) -> tuple[str, str, str] | None:
    """What is wrong with a shortfall, what was expected, and what to try; None if nothing is."""
    told = short.unit if short.unit == UNKNOWN else shown(short.value, short.unit)
    if not kinds:
        what = f"'{rule.name}' compares no amounts; nothing of it is short"
        return what, "this says nothing here", pasteable(replace(edit, short=None))
    if short.value < 0:
        return (
            f"a shortfall of {told} is less than nothing",
            "by how much it was short",
            f"short by {shown(-short.value, short.unit)}",
        )
    if short.unit in (STEPS, UNKNOWN):
        return None
    if len(kinds) > 1:
        listed = " and ".join(PHRASE[kind.dimension] for kind in kinds)
        return f"'{rule.name}' compares {listed}", "a shortfall of both is told in steps", "short by 3 steps"
    (kind,) = kinds
    given, wanted = number_type(short.unit).dimension, kind.dimension
    if given is wanted or (not short.unit and wanted in DIMENSIONLESS):
        return None
    label = f"'{rule.name}' compares {PHRASE[wanted]}"
    if not short.unit:
        return f"a shortfall of {told} has no unit", label, f"short by {shown(short.value, kind.unit.name)}"
    what = f"{PHRASE[given]} is no shortfall of '{rule.name}'"
    return what, label, f"short by {shown(short.value, kind.unit.name)}"
