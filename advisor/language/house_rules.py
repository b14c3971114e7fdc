"""House lines about whole rules: a level changed, a rule switched off, a finding accepted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from advisor.errors import Related, Severity
from advisor.language.format_house import FILL_IN, pasteable
from advisor.language.house_guess import rule_meant
from advisor.language.house_state import (
    BARE_ACCEPT,
    NEVER_LAPSES,
    House,
    Meant,
    caution_kept,
    is_caution,
    no_reason,
)
from advisor.language.library import Aside, AsideKind
from advisor.language.nodes import Between, Binder, Call, Compare, Expr, HouseEdit, Level, Number, Rule
from advisor.language.walk import bodies, walk
from advisor.model.vocabulary import Kind

_WORST = (Level.ADVICE, Level.WARNING, Level.DANGER)


def level_change(house: House, edit: HouseEdit) -> Meant | None:
    """Return what ``level flow-for-big-polyps from advice to warning`` comes to; None if it is refused."""
    rule = house.before.rules.get(edit.target)
    if rule is None or edit.new_level is None:
        _missing(house, edit)
        return None
    new = edit.new_level
    if rule.level is not edit.old_level:
        same = "now the shipped level itself" if rule.level is new else _compared(new, rule.level)
        again = replace(edit, old_level=rule.level)
        house.drifted(edit, edit.span, rule.span, rule.level.value, f"your {new.value} is {same}", again)
        return None
    if _WORST.index(new) < _WORST.index(rule.level) and is_caution(rule, house.before):
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
    stricter = _WORST.index(new) > _WORST.index(shipped)
    return f"now {'stricter' if stricter else 'looser'} than the shipped level"


def switched_off(house: House, edit: HouseEdit) -> Meant | None:
    """Return what ``switch off old-lamp-hours`` comes to; None if it is refused."""
    name = edit.target
    rule = house.before.rules.get(name) or house.before.prefers.get(name)
    if rule is None:
        _missing(house, edit)
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


def _missing(house: House, edit: HouseEdit) -> None:
    """Record that no rule has that name."""
    rules = house.before.rules
    known = {**rules, **house.before.prefers} if edit.old_level is None and not edit.entities else rules
    house.refuse(
        "house-502",
        f"there is no rule '{edit.target}'",
        edit.span,
        "this line changes nothing",
        rule_meant(house.before, edit, known) or "remove the line",
    )


def accepted(house: House, edit: HouseEdit) -> Meant | None:
    """Return what an ``accept`` comes to, kept for the judge; None if it is refused."""
    rule = house.before.rules.get(edit.target)
    if rule is None:
        _missing(house, edit)
        return None
    if is_caution(rule, house.before):
        caution_kept(house, edit, rule, "accepted")
        return None
    if not _names_all(house, edit, rule):
        return None
    danger = rule.name in house.dangers
    if danger and not edit.because:
        house.refuse(
            "house-504",
            f"accepting '{rule.name}' touches a danger and gives no reason",
            edit.span,
            "a reason is needed",
            _complete(house, edit, rule),
        )
        return None
    lacking = _lacking(house, edit, rule)
    if lacking:
        _report(house, edit, rule, lacking, danger=danger)
    if lacking and danger:
        return None
    short = None if edit.short is None else (edit.short.value, edit.short.unit)
    things = (("accept", rule.name, *sorted(edit.entities)),)
    stood = tuple(sorted(zip(edit.entities, edit.stood or edit.entities, strict=True)))
    return Meant(edit, things, (short, stood), lambda target: None)


def asked_of(rule: Rule) -> tuple[Binder, ...]:
    """Return those things of a rule that an accept names: all but the tank itself."""
    return tuple(binder for binder in rule.binders if binder.kind is not Kind.TANK)


def asks_amount(house: House, rule: Rule) -> bool:
    """Return whether a rule compares amounts, so that something can fall short of it."""
    todo: list[Expr] = [] if rule.expect is None else [rule.expect]
    seen: set[str] = set()
    while todo:
        for node in walk(todo.pop()):
            if isinstance(node, Compare | Between):
                return True
            define = house.before.defines.get(node.name) if isinstance(node, Call) else None
            if define is not None and define.name not in seen:
                seen.add(define.name)
                todo.extend(bodies(define))
    return False


def _names_all(house: House, edit: HouseEdit, rule: Rule) -> bool:
    """Whether an accept names as many different things as the rule is about; recorded if not."""
    binders = asked_of(rule)
    if len(edit.entities) == len(binders) == len(set(edit.entities)):
        return True
    names = ", ".join(binder.name for binder in binders)
    house.refuse(
        "house-507",
        f"'{rule.name}' is about {len(binders)} things, {len(set(edit.entities))} are named",
        edit.span,
        f"in the order of the rule: {names}" if names else "it is about the tank itself",
        f"accept {rule.name}" + (f" for {names}" if names else ""),
    )
    return False


def _lacking(house: House, edit: HouseEdit, rule: Rule) -> dict[str, str]:
    """What an accept does not say, with what it does not lapse by for that."""
    out: dict[str, str] = {}
    if edit.short is None and asks_amount(house, rule):
        out["how far short it was (short by …)"] = "when it gets worse"
    if not edit.on and asked_of(rule):
        out["on which day (on …)"] = "when one of them is moved"
    if not edit.until:
        out["until when (until …)"] = "with time"
    return out


def _report(house: House, edit: HouseEdit, rule: Rule, lacking: dict[str, str], *, danger: bool) -> None:
    """Record what an accept does not say."""
    when = _joined(list(lacking.values()), "or")
    parts = _joined(list(lacking), "and")
    whole = "'advisor audit --level 2' prints the whole line"
    if danger:
        house.aside.append(Aside(edit, AsideKind.BARE, edit.span, f"it must say {parts}"))
    house.refuse(
        BARE_ACCEPT if danger else NEVER_LAPSES,
        f"an accepted danger must say {parts}" if danger else f"this accept does not lapse {when}",
        edit.span,
        f"it would not lapse {when}; {whole}" if danger else f"it does not say {parts}",
        _complete(house, edit, rule),
        (Related(rule.span, "the rule"),),
        Severity.ERROR if danger else Severity.NOTE,
    )


def _joined(parts: Sequence[str], last: str) -> str:
    """Parts of a sentence in a row."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def _complete(house: House, edit: HouseEdit, rule: Rule) -> str:
    """An accept with room for everything it should say."""
    short = edit.short
    if short is None and asks_amount(house, rule):
        short = Number(edit.span, math.nan, "")
    on = edit.on or (FILL_IN if asked_of(rule) else "")
    return pasteable(replace(edit, short=short, on=on, until=edit.until or FILL_IN))
