"""House lines that accept a finding: what they must say, so that they lapse when things change."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from advisor.errors import Related, Severity
from advisor.language.format_house import FILL_IN, is_reason, pasteable
from advisor.language.house_rules import asked_of, no_such_rule
from advisor.language.house_short import amounts_compared, wrong_short
from advisor.language.house_state import BARE_ACCEPT, NEVER_LAPSES, House, Meant, caution_kept, is_caution
from advisor.language.library import Aside, AsideKind
from advisor.language.nodes import HouseEdit, Number, Rule

_MOVED = "when one of them is moved"


def accepted(house: House, edit: HouseEdit) -> Meant | None:
    """Return what an ``accept`` comes to, kept for the judge; None if it is refused.

    It is about the things of the rule in the order of the rule: that one coral
    harms another is accepted, and not what the other does to it.
    """
    rule = house.before.rules.get(edit.target)
    if rule is None:
        no_such_rule(house, edit)
        return None
    if is_caution(rule, house.before):
        caution_kept(house, edit, rule, "accepted")
        return None
    if not _names_all(house, edit, rule):
        return None
    danger = rule.name in house.dangers
    wrong = wrong_short(house, edit, rule)
    lacking = _lacking(house, edit, rule)
    if danger and not edit.because:
        house.refuse(
            "house-504",
            f"accepting '{rule.name}' touches a danger and gives no reason",
            edit.span,
            "a reason is needed",
            _complete(house, edit, rule),
        )
    elif lacking:
        _report(house, edit, rule, lacking, danger=danger)
    if wrong or (danger and (lacking or not edit.because)):
        return None
    short = None if edit.short is None else (edit.short.value, edit.short.unit)
    return Meant(edit, (("accept", rule.name, *edit.entities),), (short, edit.stood), lambda target: None)


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


def _places(edit: HouseEdit) -> tuple[str, ...]:
    """Where each thing of an accept stood, empty where that is not said."""
    return tuple(place if is_reason(place) else "" for place in edit.stood or ("",) * len(edit.entities))


def _placeless(edit: HouseEdit, rule: Rule) -> list[str]:
    """Those animals of an accept of which it does not say where they stood."""
    named = zip(asked_of(rule), edit.entities, _places(edit), strict=True)
    return [name for binder, name, place in named if binder.kind.lives and not place]


def _lacking(house: House, edit: HouseEdit, rule: Rule) -> dict[str, str]:
    """What an accept does not say, with what it does not lapse by for that."""
    out: dict[str, str] = {}
    placeless = _placeless(edit, rule)
    if placeless:
        out[f"where {_joined(placeless, 'and')} stood (at …)"] = _MOVED
    if edit.short is None and amounts_compared(rule, house.before):
        out["how far short it was (short by …)"] = "when it gets worse"
    if not edit.on and asked_of(rule):
        out["on which day (on …)"] = _MOVED
    if not edit.until:
        out["until when (until …)"] = "with time"
    return out


def _report(house: House, edit: HouseEdit, rule: Rule, lacking: dict[str, str], *, danger: bool) -> None:
    """Record what an accept does not say."""
    when = _joined(list(dict.fromkeys(lacking.values())), "or")
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
    placeless = _placeless(edit, rule)
    named = zip(edit.entities, _places(edit), strict=True)
    stood = tuple(FILL_IN if name in placeless else place for name, place in named)
    short = edit.short
    if short is None and amounts_compared(rule, house.before):
        short = Number(edit.span, math.nan, "")
    on = edit.on or (FILL_IN if asked_of(rule) else "")
    return pasteable(replace(edit, stood=stood, short=short, on=on, until=edit.until or FILL_IN))
