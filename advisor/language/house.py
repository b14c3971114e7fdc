"""House edits laid over what is shipped: order makes no difference, and nothing is changed by guess."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.dimensions import PHRASE, number_type, shown, shown_base
from advisor.language.guess import nearest, several
from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue, HouseEdit, HouseVerb, Let, Level, Number, Rule
from advisor.language.strictness import stricter_way
from advisor.language.walk import conditions, names_used
from advisor.model.vocabulary import Grade, Measure, NumberType, Source, Supplier
from advisor.units import UNITS

_CAUTION = "hazards"
"""A rule that looks at this measure is a caution for people."""
_WORST = (Level.ADVICE, Level.WARNING, Level.DANGER)
_SAME = 1e-9


@dataclass(slots=True)
class _House:
    """The library as it is being changed."""

    before: Library
    lets: dict[str, Let]
    rules: dict[str, Rule]
    cards: dict[str, Card]
    applied: list[HouseEdit] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def refuse(self, code: str, what: str, span: Span, label: str = "", mend: str = "",
               related: tuple[Related, ...] = ()) -> bool:
        """Record why an edit is not applied; always False."""
        self.problems.append(Problem(code, what, span, label, mend, Severity.ERROR, related))
        return False


def lay_over(library: Library, edits: Sequence[HouseEdit]) -> tuple[Library, list[Problem]]:
    """Return the library with the house's edits applied, and what is wrong with them.

    An edit is checked against what is shipped, never against another edit, so
    their order makes no difference; two that disagree are both left out.
    """
    house = _House(library, dict(library.lets), dict(library.rules), dict(library.cards))
    for edit in _agreed(house, edits):
        if _apply(house, edit):
            house.applied.append(edit)
    examples = tuple(example for example in library.examples
                     if example.rule in house.rules or example.rule in library.prefers)
    changed = replace(library, lets=house.lets, rules=house.rules, cards=house.cards, examples=examples,
                      house=tuple(house.applied))
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
    numbers = tuple(None if number is None else _base(number) for number in (edit.old, edit.new))
    return (edit.verb, *numbers, edit.old_level, edit.new_level, edit.until)


def _agreed(house: _House, edits: Sequence[HouseEdit]) -> list[HouseEdit]:
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
        house.refuse("house-503", f"'{group[0].target}' is changed in two ways", group[0].span,
                     "so here; neither is applied", "keep one of them", others)
    return sorted(kept, key=_place)


def _apply(house: _House, edit: HouseEdit) -> bool:
    """Apply one edit; False if it is refused, with the reason recorded."""
    match edit.verb:
        case HouseVerb.CHANGE_LET:
            return _change_let(house, edit)
        case HouseVerb.CHANGE_CARD:
            return _change_card(house, edit)
        case HouseVerb.LEVEL:
            return _change_level(house, edit)
        case HouseVerb.ACCEPT:
            return _accept(house, edit)
        case _:
            return _switch_off(house, edit)


def _base(number: Number) -> float:
    """A literal in base units."""
    unit = UNITS.get(number.unit)
    return number.value if unit is None else number.value * unit.factor + unit.offset


def _same(a: float, b: float) -> bool:
    """Whether two base values are the same number, written in whatever units."""
    return abs(a - b) <= _SAME * max(1.0, abs(a), abs(b))


def _missing(house: _House, edit: HouseEdit, what: str, known: Mapping[str, object]) -> bool:
    """An edit of something that does not exist."""
    return house.refuse("house-502", f"there is no {what} '{edit.target}'", edit.span, "this line changes nothing",
                        nearest(edit.target, known, 55.0) or "remove the line")


def _reason_due(house: _House, edit: HouseEdit, names: frozenset[str], what: str) -> bool:
    """Whether a reason is lacking though a danger rests on one of `names`; recorded if so."""
    if edit.because:
        return False
    for rule in house.before.rules.values():
        if rule.level is Level.DANGER and (rule.name in names
                                           or names & names_used(conditions(rule), house.before.defines)):
            house.refuse("house-504", f"{what} touches a danger and gives no reason", edit.span,
                         f"the danger '{rule.name}' rests on it", 'because "…"',
                         (Related(rule.span, "the danger"),))
            return True
    return False


# --- numbers -------------------------------------------------------------------


def _change_let(house: _House, edit: HouseEdit) -> bool:
    """``change sweeper-allowance from 5 cm to 8 cm``."""
    let = house.before.lets.get(edit.target)
    if let is None:
        return _missing(house, edit, "named number", house.before.lets)
    if edit.old is None or edit.new is None or not _same_kind(house, edit, let.value.unit):
        return False
    if not _same(_base(edit.old), _base(let.value)):
        way = stricter_way(edit.target, {**house.before.rules, **house.before.prefers}, house.before.defines)
        return _drifted(house, edit, let.value, let.span, way)
    if _reason_due(house, edit, frozenset({edit.target}), f"changing '{edit.target}'"):
        return False
    house.lets[edit.target] = Let(let.span, let.name, edit.new, edit.because or let.because, _ground(edit))
    return True


def _ground(edit: HouseEdit) -> Source:
    """The source of a value the house has set: its own reason."""
    old = shown(edit.old.value, edit.old.unit) if edit.old is not None else "nothing"
    reason = f": {edit.because}" if edit.because else ""
    return Source(f"the house's own, instead of {old}{reason}", Grade.EXPERIENCE if edit.because else Grade.GUESS)


def _same_kind(house: _House, edit: HouseEdit, unit: str) -> bool:
    """Whether both numbers of an edit are of the kind that is changed."""
    wanted = number_type(unit)
    for number in (edit.old, edit.new):
        if number is None:
            continue
        found = number_type(number.unit)
        if found.dimension is not wanted.dimension:
            name = wanted.unit.name or "plain numbers"
            return house.refuse("house-508", f"{PHRASE[found.dimension]} cannot take the place of "
                                f"{PHRASE[wanted.dimension]}", number.span, f"'{edit.target}' is in {name}",
                                f"{number.value:g} {wanted.unit.name}".rstrip())
    return True


def _drifted(house: _House, edit: HouseEdit, now: Number, where: Span, way: int) -> bool:
    """The shipped value is no longer what the house changed it from."""
    assert edit.new is not None
    new, shipped = _base(edit.new), _base(now)
    told = f"your {shown(edit.new.value, edit.new.unit)} is "
    if _same(new, shipped):
        told += "now the shipped value itself"
    elif way == 0:
        told += f"{'more' if new > shipped else 'less'} than the shipped value"
    else:
        told += f"now {'stricter' if (new > shipped) == (way > 0) else 'looser'} than the shipped value"
    value = shown(now.value, now.unit)
    span = edit.old.span if edit.old is not None else edit.span
    return house.refuse("house-501", f"the shipped value has changed since you overrode it; {told}", span,
                        f"now {value} ({where.file}:{where.line})",
                        f"remove the line, or change it from {value} to {shown(edit.new.value, edit.new.unit)}",
                        (Related(where, "the shipped value"),))


# --- cards ---------------------------------------------------------------------


def _change_card(house: _House, edit: HouseEdit) -> bool:
    """``change torch light max from 150 PAR to 200 PAR``, perhaps for one animal."""
    card = house.before.cards.get(edit.target)
    if card is None:
        return _missing(house, edit, "card", house.before.cards)
    measure = next((found for found in house.before.vocabulary.measures.values()
                    if found.card_line == edit.key and Supplier.CARD in found.suppliers), None)
    if measure is None or not isinstance(measure.type, NumberType):
        keys = [found.card_line for found in house.before.vocabulary.measures.values()
                if found.card_line and isinstance(found.type, NumberType)]
        return house.refuse("house-502", f"a card has no number '{edit.key.replace('-', ' ')}'", edit.span,
                            f"numbers are: {several(sorted(key.replace('-', ' ') for key in keys), 20)}",
                            nearest(edit.key, keys, 55.0).replace("-", " "))
    found = [value for value in card.values if value.key == edit.key and value.number is not None
             and edit.of in ("", value.of)]
    if not found:
        said = f"{edit.of} " if edit.of else ""
        return house.refuse("house-502", f"card '{card.name}' says no {said}{edit.key.replace('-', ' ')}", edit.span,
                            "this line changes nothing", "remove the line", (Related(card.span, "the card"),))
    return _change_value(house, edit, card, measure, found)


def _change_value(house: _House, edit: HouseEdit, card: Card, measure: Measure, found: list[CardValue]) -> bool:
    """Change the one value of a card that the edit means."""
    assert edit.old is not None
    assert edit.new is not None
    if not _same_kind(house, edit, found[0].unit):
        return False
    old, new = _base(edit.old), _base(edit.new)
    matching = [value for value in found if _same(value.number or 0.0, old)]
    if not matching:
        value = found[0]
        unit = number_type(value.unit).unit
        shipped = Number(value.span, (value.number or 0.0) / unit.factor - unit.offset / unit.factor, value.unit)
        way = {"higher": 1, "lower": -1}.get(measure.stricter, 0)
        return _drifted(house, edit, shipped, value.span, way)
    if len({value.of for value in matching}) > 1:
        return house.refuse("house-505", f"card '{card.name}' says this of several weapons", edit.span,
                            several(value.of for value in matching),
                            f"change {card.name} weapon {matching[0].of} … from …")
    if not measure.low <= new <= measure.high:
        unit = number_type(found[0].unit).unit
        return house.refuse("house-508", f"{shown(edit.new.value, edit.new.unit)} is not possible for {measure.name}",
                            edit.new.span, f"between {shown_base(measure.low, unit)} and "
                            f"{shown_base(measure.high, unit)}", "is it the right unit?")
    if _reason_due(house, edit, frozenset({measure.name}), f"changing {edit.key.replace('-', ' ')}"):
        return False
    if not edit.animal:
        now = house.cards[card.name]
        values = tuple(replace(value, number=new, unit=edit.new.unit, source=_ground(edit))
                       if value in matching else value for value in now.values)
        house.cards[card.name] = replace(now, values=values)
    return True


# --- rules ---------------------------------------------------------------------


def _caution(house: _House, rule: Rule) -> bool:
    """Whether a rule looks after people."""
    return _CAUTION in names_used(conditions(rule), house.before.defines)


def _change_level(house: _House, edit: HouseEdit) -> bool:
    """``level flow-for-big-polyps from advice to warning``."""
    rule = house.before.rules.get(edit.target)
    if rule is None or edit.new_level is None:
        return _missing(house, edit, "rule", house.before.rules)
    if rule.level is not edit.old_level:
        return house.refuse("house-501", f"the shipped level of '{rule.name}' has changed since you overrode it",
                            edit.span, f"now {rule.level.value} ({rule.span.file}:{rule.span.line})",
                            f"remove the line, or level {rule.name} from {rule.level.value} to "
                            f"{edit.new_level.value}", (Related(rule.span, "the rule"),))
    lower = _WORST.index(edit.new_level) < _WORST.index(rule.level)
    if lower and _caution(house, rule):
        return house.refuse("house-506", f"'{rule.name}' is a caution for people and cannot be lowered", edit.span,
                            "it stays as it is", "remove the line", (Related(rule.span, "the caution"),))
    if Level.DANGER in (rule.level, edit.new_level) and not edit.because:
        return house.refuse("house-504", f"changing '{rule.name}' touches a danger and gives no reason", edit.span,
                            "a reason is needed", 'because "…"')
    house.rules[rule.name] = replace(rule, level=edit.new_level)
    return True


def _switch_off(house: _House, edit: HouseEdit) -> bool:
    """``switch off old-lamp-hours``."""
    rule = house.before.rules.get(edit.target)
    if rule is None:
        return _missing(house, edit, "rule", house.before.rules)
    if _caution(house, rule):
        return house.refuse("house-506", f"'{rule.name}' is a caution for people and cannot be switched off",
                            edit.span, "it stays", "remove the line", (Related(rule.span, "the caution"),))
    if rule.level is Level.DANGER and not edit.because:
        return house.refuse("house-504", f"switching off '{rule.name}' touches a danger and gives no reason",
                            edit.span, "a reason is needed", 'because "…"')
    del house.rules[rule.name]
    return True


def _accept(house: _House, edit: HouseEdit) -> bool:
    """``accept keep-clear-of-sweepers for torch-1, zoa-2 because "…" until 2027-06-01``; kept for the judge."""
    rule = house.before.rules.get(edit.target)
    if rule is None:
        return _missing(house, edit, "rule", house.before.rules)
    if len(edit.entities) != len(rule.binders):
        names = ", ".join(binder.name for binder in rule.binders)
        return house.refuse("house-507", f"'{rule.name}' is about {len(rule.binders)} things, "
                            f"{len(edit.entities)} are named", edit.span, f"in the order of the rule: {names}",
                            f"accept {rule.name} for {names}")
    if rule.level is Level.DANGER and not edit.because:
        return house.refuse("house-504", f"accepting '{rule.name}' touches a danger and gives no reason", edit.span,
                            "a reason is needed", 'because "…"')
    if edit.until:
        try:
            date.fromisoformat(edit.until)
        except ValueError:
            return house.refuse("house-509", f"there is no day {edit.until}", edit.span, "year-month-day",
                                "2027-06-01")
    return True
