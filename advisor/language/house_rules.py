"""House lines about whole rules: a level changed, a rule switched off."""

from __future__ import annotations

from dataclasses import replace

from advisor.language.house_guess import rule_meant
from advisor.language.house_state import House, Meant, caution_kept, is_caution, no_reason
from advisor.language.nodes import Binder, HouseEdit, Level, Rule
from advisor.model.vocabulary import Kind

WORST = (Level.ADVICE, Level.WARNING, Level.DANGER)
"""The levels, the worst last."""


def level_change(house: House, edit: HouseEdit) -> Meant | None:
    """Return what ``level flow-for-big-polyps from advice to warning`` comes to; None if it is refused."""
    rule = house.before.rules.get(edit.target)
    if rule is None or edit.new_level is None:
        no_such_rule(house, edit)
        return None
    new = edit.new_level
    if rule.level is not edit.old_level:
        same = "now the shipped level itself" if rule.level is new else _compared(new, rule.level)
        again = replace(edit, old_level=rule.level)
        house.drifted(edit, edit.span, rule.span, rule.level.value, f"your {new.value} is {same}", again)
        return None
    if WORST.index(new) < WORST.index(rule.level) and is_caution(rule, house.before):
        caution_kept(house, edit, rule, "lowered")
        return None
    if Level.DANGER in (rule.level, new) and not edit.because:
        no_reason(house, edit, f"changing '{rule.name}'", "a reason is needed")
        return None

    def apply(target: House) -> None:
        target.rules[rule.name] = replace(rule, level=new)

    return Meant(edit, (("rule", rule.name),), (new,), apply)


def _compared(new: Level, shipped: Level) -> str:
    """How a house's level compares with the shipped one."""
    stricter = WORST.index(new) > WORST.index(shipped)
    return f"now {'stricter' if stricter else 'looser'} than the shipped level"


def switched_off(house: House, edit: HouseEdit) -> Meant | None:
    """Return what ``switch off old-lamp-hours`` comes to; None if it is refused."""
    name = edit.target
    rule = house.before.rules.get(name) or house.before.prefers.get(name)
    if rule is None:
        no_such_rule(house, edit)
        return None
    if is_caution(rule, house.before):
        caution_kept(house, edit, rule, "switched off")
        return None
    if isinstance(rule, Rule) and rule.level is Level.DANGER and not edit.because:
        no_reason(house, edit, f"switching off '{name}'", "a reason is needed")
        return None

    def apply(target: House) -> None:
        target.rules.pop(name, None)
        target.prefers.pop(name, None)

    return Meant(edit, (("rule", name),), ("off",), apply)


def no_such_rule(house: House, edit: HouseEdit) -> None:
    """Record that no rule has the name a line gives."""
    rules = house.before.rules
    known = {**rules, **house.before.prefers} if edit.old_level is None and not edit.entities else rules
    house.refuse(
        "house-502",
        f"there is no rule '{edit.target}'",
        edit.span,
        "this line changes nothing",
        rule_meant(house.before, edit, known) or "remove the line",
    )


def asked_of(rule: Rule) -> tuple[Binder, ...]:
    """Return those things of a rule that an accept names: not the tank, and no weapon beside its animal."""
    return tuple(binder for binder in rule.binders if binder.kind not in (Kind.TANK, Kind.WEAPON))
