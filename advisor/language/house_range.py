"""Between which ends a named number makes sense: those of the measures that it is compared with."""

from __future__ import annotations

import math
from collections.abc import Iterator

from advisor.language.dimensions import number_type, shown, shown_base
from advisor.language.house_state import House, base
from advisor.language.library import Library
from advisor.language.nodes import Between, Call, Compare, Expr, Let, Name, Number, Prefer, Rule
from advisor.language.walk import bodies, children, conditions, walk
from advisor.model.vocabulary import Measure, NumberType
from advisor.units import DIMENSIONLESS, Dimension


def compared_with(name: str, library: Library) -> tuple[Measure, ...]:
    """Return the measures that a named number is held against, by name.

    Where none is, all that are of its kind: no length is longer than the longest
    that can be told. A ratio, a count and a rank have nothing in common with others.
    """
    dimension = number_type(library.lets[name].value.unit).dimension
    kinds = DIMENSIONLESS if dimension in DIMENSIONLESS else frozenset({dimension})
    every = library.vocabulary.measures.values()
    alike = {each.name: each for each in every if _dimension(each) in kinds}
    against = {found for node in _comparisons(library) if _holds(node, name) for found in _measures(node)}
    named = sorted(against & alike.keys())
    if not named and dimension not in DIMENSIONLESS:
        named = sorted(alike)
    return tuple(alike[each] for each in named)


def _dimension(measure: Measure) -> Dimension | None:
    """What kind of number a measure is; None if it is none."""
    return measure.type.dimension if isinstance(measure.type, NumberType) else None


def _comparisons(library: Library) -> Iterator[Compare | Between]:
    """Every comparison of the rules, preferences and definitions."""
    speaking: tuple[Rule | Prefer, ...] = (*library.rules.values(), *library.prefers.values())
    spoken = [part for rule in speaking for part in conditions(rule)]
    spoken += [part for define in library.defines.values() for part in bodies(define)]
    for part in spoken:
        yield from (node for node in walk(part) if isinstance(node, Compare | Between))


def _holds(node: Expr, name: str) -> bool:
    """Whether a comparison has a named number in it."""
    return any(isinstance(each, Name) and each.name == name for each in walk(node))


def _measures(node: Expr) -> set[str]:
    """What stands as a whole side of a comparison."""
    return {side.name for side in children(node) if isinstance(side, Call)}


def impossible(house: House, let: Let, new: Number) -> bool:
    """Return whether a new value lies where nothing it is held against can be; recorded if so.

    A number whose shipped value lies outside already is not bound by them.
    """
    measures = compared_with(let.name, house.before)
    unit = number_type(let.value.unit).unit
    low = min((each.low for each in measures), default=-math.inf)
    high = max((each.high for each in measures), default=math.inf)
    if unit.dimension is not Dimension.TEMPERATURE:
        low = 0.0
    if not low <= base(let.value) <= high or low <= base(new) <= high:
        return False
    ends = f"between {shown_base(low, unit)} and {shown_base(high, unit)}"
    if not math.isfinite(high):
        ends = f"at least {shown_base(low, unit)}"
    house.refuse(
        "house-508",
        f"{shown(new.value, new.unit)} is not possible for '{let.name}'",
        new.span,
        ends + (f", as {measures[0].name} is" if len(measures) == 1 else ""),
        "is it the right unit?",
    )
    return True
