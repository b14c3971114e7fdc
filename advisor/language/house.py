"""House edits laid over what is shipped: order makes no difference, and nothing is changed by guess."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from advisor.errors import Problem, Related
from advisor.language.house_numbers import change_card, change_let
from advisor.language.house_state import House, base, missing
from advisor.language.library import Library
from advisor.language.nodes import HouseEdit, HouseVerb, Level, Rule
from advisor.language.walk import conditions, names_used

_CAUTION = "hazards"
"""A rule that looks at this measure is a caution for people."""
_WORST = (Level.ADVICE, Level.WARNING, Level.DANGER)


def lay_over(library: Library, edits: Sequence[HouseEdit]) -> tuple[Library, list[Problem]]:
    """Return the library with the house's edits applied, and what is wrong with them.

    An edit is checked against what is shipped, never against another edit, so
    their order makes no difference; two that disagree are both left out.
    """
    house = House(library, dict(library.lets), dict(library.rules), dict(library.cards))
    for edit in _agreed(house, edits):
        if _apply(house, edit):
            house.applied.append(edit)
    examples = tuple(
        example
        for example in library.examples
        if example.rule in house.rules or example.rule in library.prefers
    )
    changed = replace(
        library,
        lets=house.lets,
        rules=house.rules,
        cards=house.cards,
        examples=examples,
        house=tuple(house.applied),
    )
    return changed, house.problems


def _place(edit: HouseEdit) -> tuple[str, int, int]:
    """Where an edit stands, for an order of its own."""
    return edit.span.file, edit.span.line, edit.span.column


def _thing(edit: HouseEdit) -> tuple[str, ...]:
    """What an edit is about: two edits of one thing must agree."""
    match edit.verb:
        case HouseVerb.CHANGE_LET:
            return ("let", edit.target)
        case HouseVerb.CHANGE_CARD:
            return ("card", edit.target, edit.key, edit.of, edit.animal)
        case HouseVerb.ACCEPT:
            return ("accept", edit.target, *sorted(edit.entities))
        case _:
            return ("rule", edit.target)


def _meaning(edit: HouseEdit) -> tuple[object, ...]:
    """What an edit does, apart from its words."""
    numbers = tuple(None if number is None else base(number) for number in (edit.old, edit.new))
    return (edit.verb, *numbers, edit.old_level, edit.new_level, edit.until)


def _agreed(house: House, edits: Sequence[HouseEdit]) -> list[HouseEdit]:
    """The edits without repetitions and without those that contradict each other."""
    about: dict[tuple[str, ...], list[HouseEdit]] = {}
    for edit in sorted(edits, key=_place):
        about.setdefault(_thing(edit), []).append(edit)
    kept: list[HouseEdit] = []
    for group in about.values():
        if len({_meaning(edit) for edit in group}) == 1:
            kept.append(group[0])
            continue
        others = tuple(Related(edit.span, "and otherwise here") for edit in group[1:])
        house.refuse(
            "house-503",
            f"'{group[0].target}' is changed in two ways",
            group[0].span,
            "so here; neither is applied",
            "keep one of them",
            others,
        )
    return sorted(kept, key=_place)


def _apply(house: House, edit: HouseEdit) -> bool:
    """Apply one edit; False if it is refused, with the reason recorded."""
    match edit.verb:
        case HouseVerb.CHANGE_LET:
            return change_let(house, edit)
        case HouseVerb.CHANGE_CARD:
            return change_card(house, edit)
        case HouseVerb.LEVEL:
            return _change_level(house, edit)
        case HouseVerb.ACCEPT:
            return _accept(house, edit)
        case _:
            return _switch_off(house, edit)


def _caution(house: House, rule: Rule) -> bool:
    """Whether a rule looks after people."""
    return _CAUTION in names_used(conditions(rule), house.before.defines)


def _change_level(house: House, edit: HouseEdit) -> bool:
    """``level flow-for-big-polyps from advice to warning``."""
    rule = house.before.rules.get(edit.target)
    if rule is None or edit.new_level is None:
        return missing(house, edit, "rule", house.before.rules)
    if rule.level is not edit.old_level:
        return house.refuse(
            "house-501",
            f"the shipped level of '{rule.name}' has changed since you overrode it",
            edit.span,
            f"now {rule.level.value} ({rule.span.file}:{rule.span.line})",
            f"remove the line, or level {rule.name} from {rule.level.value} to {edit.new_level.value}",
            (Related(rule.span, "the rule"),),
        )
    lower = _WORST.index(edit.new_level) < _WORST.index(rule.level)
    if lower and _caution(house, rule):
        return house.refuse(
            "house-506",
            f"'{rule.name}' is a caution for people and cannot be lowered",
            edit.span,
            "it stays as it is",
            "remove the line",
            (Related(rule.span, "the caution"),),
        )
    if Level.DANGER in (rule.level, edit.new_level) and not edit.because:
        return house.refuse(
            "house-504",
            f"changing '{rule.name}' touches a danger and gives no reason",
            edit.span,
            "a reason is needed",
            'because "…"',
        )
    house.rules[rule.name] = replace(rule, level=edit.new_level)
    return True


def _switch_off(house: House, edit: HouseEdit) -> bool:
    """``switch off old-lamp-hours``."""
    rule = house.before.rules.get(edit.target)
    if rule is None:
        return missing(house, edit, "rule", house.before.rules)
    if _caution(house, rule):
        return house.refuse(
            "house-506",
            f"'{rule.name}' is a caution for people and cannot be switched off",
            edit.span,
            "it stays",
            "remove the line",
            (Related(rule.span, "the caution"),),
        )
    if rule.level is Level.DANGER and not edit.because:
        return house.refuse(
            "house-504",
            f"switching off '{rule.name}' touches a danger and gives no reason",
            edit.span,
            "a reason is needed",
            'because "…"',
        )
    del house.rules[rule.name]
    return True


def _accept(house: House, edit: HouseEdit) -> bool:
    """``accept keep-clear for torch-1, zoa-2 because "…" until 2027-06-01``; kept for the judge."""
    rule = house.before.rules.get(edit.target)
    if rule is None:
        return missing(house, edit, "rule", house.before.rules)
    if len(edit.entities) != len(rule.binders):
        names = ", ".join(binder.name for binder in rule.binders)
        return house.refuse(
            "house-507",
            f"'{rule.name}' is about {len(rule.binders)} things, {len(edit.entities)} are named",
            edit.span,
            f"in the order of the rule: {names}",
            f"accept {rule.name} for {names}",
        )
    if rule.level is Level.DANGER and not edit.because:
        return house.refuse(
            "house-504",
            f"accepting '{rule.name}' touches a danger and gives no reason",
            edit.span,
            "a reason is needed",
            'because "…"',
        )
    if edit.until:
        try:
            date.fromisoformat(edit.until)
        except ValueError:
            return house.refuse(
                "house-509", f"there is no day {edit.until}", edit.span, "year-month-day", "2027-06-01"
            )
    return True
