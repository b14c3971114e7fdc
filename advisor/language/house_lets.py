"""House lines about named numbers: ``change sweeper-allowance from 5 cm to 8 cm``."""

from __future__ import annotations

from dataclasses import replace

from advisor.errors import Related
from advisor.language.dimensions import PHRASE, number_type, shown
from advisor.language.house_guess import let_meant
from advisor.language.house_range import impossible
from advisor.language.house_state import House, Meant, base, is_caution, reason_due, same
from advisor.language.nodes import HouseEdit, Let, Number
from advisor.language.strictness import stricter_way
from advisor.model.vocabulary import Grade, Source


def let_change(house: House, edit: HouseEdit) -> Meant | None:
    """Return what a change of a named number comes to; None if it is refused, with the reason recorded."""
    let = house.before.lets.get(edit.target)
    if let is None:
        house.refuse(
            "house-502",
            f"there is no named number '{edit.target}'",
            edit.span,
            "this line changes nothing",
            let_meant(house.before, edit) or "remove the line",
        )
        return None
    old, new = edit.old, edit.new
    if old is None or new is None or edit.old_high is not None:
        house.refuse(
            "house-508",
            f"'{edit.target}' is one number",
            edit.span,
            f"it is {shown(let.value.value, let.value.unit)}",
            f"change {edit.target} from {shown(let.value.value, let.value.unit)} to …",
        )
        return None
    if not same_kind(house, edit, let.value.unit):
        return None
    way = stricter_way(edit.target, {**house.before.rules, **house.before.prefers}, house.before.defines)
    if not same(base(old), base(let.value)):
        told = compared(new, let.value, way)
        again = replace(edit, old=let.value)
        house.drifted(edit, old.span, let.span, shown(let.value.value, let.value.unit), told, again)
        return None
    refused = (
        impossible(house, let, new),
        _weakens_a_caution(house, edit, let),
        reason_due(house, edit, frozenset({edit.target}), f"changing '{edit.target}'"),
    )
    if any(refused):  # each of them is told
        return None
    changed = Let(
        let.span, let.name, new, edit.because or let.because, ground(edit, shown(old.value, old.unit))
    )

    def apply(target: House) -> None:
        target.lets[let.name] = changed

    return Meant(edit, (("let", let.name),), (base(new),), apply)


def ground(edit: HouseEdit, old: str) -> Source:
    """Return the source of a value the house has set: its own reason."""
    reason = f": {edit.because}" if edit.because else ""
    grade = Grade.EXPERIENCE if edit.because else Grade.GUESS
    return Source(f"the house's own, instead of {old}{reason}", grade)


def same_kind(house: House, edit: HouseEdit, unit: str) -> bool:
    """Return whether every number of an edit is of the kind that is changed; recorded if not."""
    wanted = number_type(unit)
    for number in (edit.old, edit.old_high, edit.new, edit.new_high):
        if number is None:
            continue
        found = number_type(number.unit)
        if found.dimension is not wanted.dimension and not (not number.unit and unit in ("rank", "count")):
            name = wanted.unit.name or "plain numbers"
            house.refuse(
                "house-508",
                f"{PHRASE[found.dimension]} cannot take the place of {PHRASE[wanted.dimension]}",
                number.span,
                f"'{edit.target}' is in {name}",
                f"{number.value:g} {wanted.unit.name}".rstrip(),
            )
            return False
    return True


def compared(new: Number, shipped: Number, way: int) -> str:
    """Return how the house's value compares with the shipped one; `way` is that of `stricter_way`."""
    told = f"your {shown(new.value, new.unit)} is "
    if same(base(new), base(shipped)):
        return told + "now the shipped value itself"
    more = base(new) > base(shipped)
    if way == 0:
        return told + f"{'more' if more else 'less'} than the shipped value"
    return told + f"now {'stricter' if more == (way > 0) else 'looser'} than the shipped value"


def _weakens_a_caution(house: House, edit: HouseEdit, let: Let) -> bool:
    """Whether a caution for people rests on a number and would be looser with the new one; recorded."""
    assert edit.new is not None
    cautions = {name: rule for name, rule in house.before.rules.items() if is_caution(rule, house.before)}
    way = stricter_way(edit.target, cautions, house.before.defines)
    resting = [rule for rule in cautions.values() if rests_on(house, rule.name, edit.target)]
    if not resting or way * (base(edit.new) - base(let.value)) > 0:
        return False
    house.refuse(
        "house-506",
        f"a caution for people rests on '{edit.target}' and cannot be lowered",
        edit.span,
        "it stays as it is",
        "remove the line",
        (Related(resting[0].span, "the caution"),),
    )
    return True


def rests_on(house: House, rule: str, name: str) -> bool:
    """Return whether a rule's verdict rests on a named number or measure."""
    from advisor.language.walk import conditions, names_used

    return name in names_used(conditions(house.before.rules[rule]), house.before.defines)
