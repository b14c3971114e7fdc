"""A library as a house changes it, and what every house edit is held against."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.guess import nearest
from advisor.language.library import Library
from advisor.language.nodes import Card, HouseEdit, Let, Level, Number, Rule
from advisor.language.walk import conditions, names_used
from advisor.units import UNITS

_SAME = 1e-9


@dataclass(slots=True)
class House:
    """The library as it is being changed."""

    before: Library
    lets: dict[str, Let]
    rules: dict[str, Rule]
    cards: dict[str, Card]
    applied: list[HouseEdit] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def refuse(
        self,
        code: str,
        what: str,
        span: Span,
        label: str = "",
        mend: str = "",
        related: tuple[Related, ...] = (),
    ) -> bool:
        """Record why an edit is not applied; always False."""
        self.problems.append(Problem(code, what, span, label, mend, Severity.ERROR, related))
        return False


def base(number: Number) -> float:
    """Return a literal in base units."""
    unit = UNITS.get(number.unit)
    return number.value if unit is None else number.value * unit.factor + unit.offset


def same(a: float, b: float) -> bool:
    """Return whether two base values are the same number, written in whatever units."""
    return abs(a - b) <= _SAME * max(1.0, abs(a), abs(b))


def missing(house: House, edit: HouseEdit, what: str, known: Mapping[str, object]) -> bool:
    """Refuse an edit of something that does not exist."""
    return house.refuse(
        "house-502",
        f"there is no {what} '{edit.target}'",
        edit.span,
        "this line changes nothing",
        nearest(edit.target, known, 55.0) or "remove the line",
    )


def reason_due(house: House, edit: HouseEdit, names: frozenset[str], what: str) -> bool:
    """Return whether a reason is lacking though a danger rests on one of `names`; recorded if so."""
    if edit.because:
        return False
    for rule in house.before.rules.values():
        if rule.level is Level.DANGER and (
            rule.name in names or names & names_used(conditions(rule), house.before.defines)
        ):
            house.refuse(
                "house-504",
                f"{what} touches a danger and gives no reason",
                edit.span,
                f"the danger '{rule.name}' rests on it",
                'because "…"',
                (Related(rule.span, "the danger"),),
            )
            return True
    return False
