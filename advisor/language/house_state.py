"""A library as a house changes it, and what every house line is held against."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.format_house import pasteable
from advisor.language.library import Aside, AsideKind, Library
from advisor.language.nodes import Aggregate, CardValue, HouseEdit, Let, Level, Number, Prefer, Rule
from advisor.language.strictness import stricter_way
from advisor.language.walk import bodies, conditions, names_used, walk
from advisor.model.computed import behind
from advisor.model.vocabulary import Kind
from advisor.units import UNITS

CONTRADICTED = "house-503"
"""Code of lines that say different things of one thing on a day on which both count."""
DRIFTED = "house-501"
"""Code of a line whose shipped value has changed; the line is left out and the tank stays usable."""
BARE_ACCEPT = "house-510"
"""Code of an accepted danger that would never lapse; left out, and the tank stays usable."""
NEVER_LAPSES = "house-511"
"""Code of an accept of something lesser that does not lapse; it counts."""
CAUTION = "hazards"
"""A rule that looks at this measure is a caution for people, and so is this line of a card."""
_SAME = 1e-9
_TELLS = {Kind.CORAL: "group", Kind.WEAPON: "weapons"}
"""What tells whom a rule asks: which animals are corals, and which weapons there are."""

Place = tuple[str, int]
"""One value of a shipped card: its card and its index there."""


@dataclass(slots=True)
class House:
    """The library as it is being changed."""

    before: Library
    lets: dict[str, Let] = field(default_factory=dict)
    rules: dict[str, Rule] = field(default_factory=dict)
    prefers: dict[str, Prefer] = field(default_factory=dict)
    values: dict[str, dict[Place, tuple[CardValue, ...]]] = field(default_factory=dict)
    """By animal (empty: any), what stands in the place of a value of a card."""
    dangers: frozenset[str] = frozenset()
    """Rules that are dangers as shipped, or that a line makes one."""
    aside: list[Aside] = field(default_factory=list)
    contested: list[HouseEdit] = field(default_factory=list)
    """Lines that contradict each other."""
    problems: list[Problem] = field(default_factory=list)

    @classmethod
    def of(cls, library: Library, levels: Mapping[str, Level] | None = None) -> House:
        """Return a library before any change; `levels` are those that lines give to rules."""
        made = {name for name, level in (levels or {}).items() if level is Level.DANGER}
        own = {name for name, rule in library.rules.items() if rule.level is Level.DANGER}
        return cls(
            library,
            dict(library.lets),
            dict(library.rules),
            dict(library.prefers),
            dangers=frozenset(own | (made & set(library.rules))),
        )

    def refuse(
        self,
        code: str,
        what: str,
        span: Span,
        label: str = "",
        mend: str = "",
        related: tuple[Related, ...] = (),
        severity: Severity = Severity.ERROR,
    ) -> None:
        """Record why a line is not applied."""
        self.problems.append(Problem(code, what, span, label, mend, severity, related))

    def drifted(
        self, edit: HouseEdit, span: Span, where: Span, now: str, told: str, again: HouseEdit
    ) -> None:
        """Record that what is shipped is no longer what a line was written against.

        Parameters
        ----------
        span
            The part of the line that no longer fits.
        where, now
            Place and text of what is shipped.
        told
            How the house's value compares with it now.
        again
            The line as it would have to be written now.
        """
        self.aside.append(Aside(edit, AsideKind.DRIFTED, where, f"the shipped value is now {now}; {told}"))
        self.refuse(
            DRIFTED,
            f"the shipped value has changed since you overrode it; {told}",
            span,
            f"now {now} ({where.file}:{where.line})",
            "remove the line" if _idle(again) else f"remove the line, or\n{pasteable(again)}",
            (Related(where, "the shipped value"),),
        )


@dataclass(frozen=True, slots=True)
class Meant:
    """What one line comes to: the things it is about, what it makes of them, and how that is done."""

    edit: HouseEdit
    things: tuple[tuple[str, ...], ...]
    meaning: tuple[object, ...]
    apply: Callable[[House], None]


def base(number: Number) -> float:
    """Return a literal in base units."""
    unit = UNITS.get(number.unit)
    return number.value if unit is None else number.value * unit.factor + unit.offset


def same(a: float, b: float) -> bool:
    """Return whether two base values are the same number, written in whatever units."""
    return abs(a - b) <= _SAME * max(1.0, abs(a), abs(b))


def _idle(edit: HouseEdit) -> bool:
    """Whether a line would change a value into itself."""
    if edit.old is None or edit.new is None:
        return set(edit.old_words) == set(edit.new_words) and edit.old_level is edit.new_level
    ends = ((edit.old, edit.new), (edit.old_high, edit.new_high))
    return all(old is None or new is None or same(base(old), base(new)) for old, new in ends)


def is_caution(rule: Rule | Prefer, library: Library) -> bool:
    """Return whether a rule looks after people."""
    return CAUTION in names_used(conditions(rule), library.defines)


def names_behind(rule: Rule | Prefer, library: Library) -> frozenset[str]:
    """Return every name a rule's verdict rests on: what it asks, what that is worked out of, whom it asks."""
    parts = conditions(rule)
    names = names_used(parts, library.defines)
    bodied = [body for name in names if name in library.defines for body in bodies(library.defines[name])]
    inner = [node.binder for part in (*parts, *bodied) for node in walk(part) if isinstance(node, Aggregate)]
    kinds = {binder.kind for binder in (*rule.binders, *inner)}
    asked = names | {_TELLS[kind] for kind in kinds & _TELLS.keys()}
    ahead = isinstance(rule, Rule) and rule.until_horizon
    return behind(asked, library.vocabulary, ahead=ahead)


def dangers_on(house: House, names: frozenset[str]) -> list[Rule]:
    """Return the dangers that rest on one of `names`, by name."""
    dangers = (house.before.rules[name] for name in sorted(house.dangers))
    return [rule for rule in dangers if names & names_behind(rule, house.before)]


def dangers_loosened(house: House, edit: HouseEdit, names: frozenset[str]) -> list[Rule]:
    """Return the dangers on one of `names` that a line makes looser; all of them where none is known to."""
    every = dangers_on(house, names)
    if edit.old is None or edit.new is None:
        return every
    change = base(edit.new) - base(edit.old)
    looser = [
        rule
        for rule in every
        if any(stricter_way(name, {rule.name: rule}, house.before.defines) * change < 0 for name in names)
    ]
    return looser or every


def reason_due(house: House, edit: HouseEdit, names: frozenset[str], what: str) -> bool:
    """Return whether a reason is lacking though a danger rests on one of `names`; recorded if so."""
    dangers = [] if edit.because else dangers_loosened(house, edit, names)
    if dangers:
        named = " and ".join(f"'{rule.name}'" for rule in dangers[:2])
        more = f" and {len(dangers) - 2} more" if len(dangers) > 2 else ""
        told = f"the danger {named} rests" if len(dangers) == 1 else f"the dangers {named}{more} rest"
        no_reason(house, edit, what, f"{told} on it", dangers[0].span)
    return bool(dangers)


def no_reason(house: House, edit: HouseEdit, what: str, why: str, danger: Span | None = None) -> None:
    """Record that a line that touches a danger gives no reason."""
    house.refuse(
        "house-504",
        f"{what} touches a danger and gives no reason",
        edit.span,
        why,
        pasteable(edit),
        (Related(danger, "the danger"),) if danger is not None else (),
    )


def caution_kept(house: House, edit: HouseEdit, rule: Rule | Prefer, done: str) -> None:
    """Record that a caution for people stays as it is."""
    house.refuse(
        "house-506",
        f"'{rule.name}' is a caution for people and cannot be {done}",
        edit.span,
        "it stays as it is",
        "remove the line",
        (Related(rule.span, "the caution"),),
    )
