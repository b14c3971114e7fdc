"""House edits of numbers: a let, or a value of a card."""

from __future__ import annotations

from dataclasses import replace

from advisor.errors import Related, Span
from advisor.language.dimensions import PHRASE, number_type, shown, shown_base
from advisor.language.guess import nearest, several
from advisor.language.house_state import House, base, missing, reason_due, same
from advisor.language.nodes import Card, CardValue, HouseEdit, Let, Number
from advisor.language.strictness import stricter_way
from advisor.model.vocabulary import Grade, Measure, NumberType, Source, Supplier


def as_typed(key: str) -> str:
    """Return the name of a card's number as a house file writes it: ``weapon at-most``."""
    head, _, rest = key.partition("-")
    return f"{head} {rest}".strip()


def change_let(house: House, edit: HouseEdit) -> bool:
    """Apply ``change sweeper-allowance from 5 cm to 8 cm``."""
    let = house.before.lets.get(edit.target)
    if let is None:
        return missing(house, edit, "named number", house.before.lets)
    if edit.old is None or edit.new is None or not _same_kind(house, edit, let.value.unit):
        return False
    if not same(base(edit.old), base(let.value)):
        way = stricter_way(edit.target, {**house.before.rules, **house.before.prefers}, house.before.defines)
        return _drifted(house, edit, let.value, let.span, way)
    if reason_due(house, edit, frozenset({edit.target}), f"changing '{edit.target}'"):
        return False
    house.lets[edit.target] = Let(let.span, let.name, edit.new, edit.because or let.because, _ground(edit))
    return True


def _ground(edit: HouseEdit) -> Source:
    """The source of a value the house has set: its own reason."""
    old = shown(edit.old.value, edit.old.unit) if edit.old is not None else "nothing"
    reason = f": {edit.because}" if edit.because else ""
    return Source(
        f"the house's own, instead of {old}{reason}", Grade.EXPERIENCE if edit.because else Grade.GUESS
    )


def _same_kind(house: House, edit: HouseEdit, unit: str) -> bool:
    """Whether both numbers of an edit are of the kind that is changed."""
    wanted = number_type(unit)
    for number in (edit.old, edit.new):
        if number is None:
            continue
        found = number_type(number.unit)
        if found.dimension is not wanted.dimension:
            name = wanted.unit.name or "plain numbers"
            return house.refuse(
                "house-508",
                f"{PHRASE[found.dimension]} cannot take the place of {PHRASE[wanted.dimension]}",
                number.span,
                f"'{edit.target}' is in {name}",
                f"{number.value:g} {wanted.unit.name}".rstrip(),
            )
    return True


def _drifted(house: House, edit: HouseEdit, now: Number, where: Span, way: int) -> bool:
    """The shipped value is no longer what the house changed it from."""
    assert edit.new is not None
    new, shipped = base(edit.new), base(now)
    told = f"your {shown(edit.new.value, edit.new.unit)} is "
    if same(new, shipped):
        told += "now the shipped value itself"
    elif way == 0:
        told += f"{'more' if new > shipped else 'less'} than the shipped value"
    else:
        told += f"now {'stricter' if (new > shipped) == (way > 0) else 'looser'} than the shipped value"
    value = shown(now.value, now.unit)
    span = edit.old.span if edit.old is not None else edit.span
    return house.refuse(
        "house-501",
        f"the shipped value has changed since you overrode it; {told}",
        span,
        f"now {value} ({where.file}:{where.line})",
        f"remove the line, or change it from {value} to {shown(edit.new.value, edit.new.unit)}",
        (Related(where, "the shipped value"),),
    )


def change_card(house: House, edit: HouseEdit) -> bool:
    """Apply ``change torch light max from 150 PAR to 200 PAR``, perhaps for one animal."""
    card = house.before.cards.get(edit.target)
    if card is None:
        return missing(house, edit, "card", house.before.cards)
    measure = next(
        (
            found
            for found in house.before.vocabulary.measures.values()
            if found.card_line == edit.key and Supplier.CARD in found.suppliers
        ),
        None,
    )
    if measure is None or not isinstance(measure.type, NumberType):
        keys = [
            found.card_line
            for found in house.before.vocabulary.measures.values()
            if found.card_line and isinstance(found.type, NumberType)
        ]
        return house.refuse(
            "house-502",
            f"a card has no number '{as_typed(edit.key)}'",
            edit.span,
            f"numbers are: {several(sorted(map(as_typed, keys)), 20)}",
            f"change {card.name} {as_typed(near)} from …" if (near := nearest(edit.key, keys, 55.0)) else "",
        )
    found = [
        value
        for value in card.values
        if value.key == edit.key and value.number is not None and edit.of in ("", value.of)
    ]
    if not found:
        said = f"{edit.of} " if edit.of else ""
        return house.refuse(
            "house-502",
            f"card '{card.name}' says no {said}{as_typed(edit.key)}",
            edit.span,
            "this line changes nothing",
            "remove the line",
            (Related(card.span, "the card"),),
        )
    return _change_value(house, edit, card, measure, found)


def _change_value(
    house: House, edit: HouseEdit, card: Card, measure: Measure, found: list[CardValue]
) -> bool:
    """Change the one value of a card that the edit means."""
    assert edit.old is not None
    assert edit.new is not None
    if not _same_kind(house, edit, found[0].unit):
        return False
    old, new = base(edit.old), base(edit.new)
    matching = [value for value in found if same(value.number or 0.0, old)]
    if not matching:
        value = found[0]
        unit = number_type(value.unit).unit
        shipped = Number(
            value.span, (value.number or 0.0) / unit.factor - unit.offset / unit.factor, value.unit
        )
        way = {"higher": 1, "lower": -1}.get(measure.stricter, 0)
        return _drifted(house, edit, shipped, value.span, way)
    if len({value.of for value in matching}) > 1:
        return house.refuse(
            "house-505",
            f"card '{card.name}' says this of several weapons",
            edit.span,
            several(value.of for value in matching),
            f"change {card.name} weapon {matching[0].of} … from …",
        )
    if not measure.low <= new <= measure.high:
        unit = number_type(found[0].unit).unit
        return house.refuse(
            "house-508",
            f"{shown(edit.new.value, edit.new.unit)} is not possible for {measure.name}",
            edit.new.span,
            f"between {shown_base(measure.low, unit)} and {shown_base(measure.high, unit)}",
            "is it the right unit?",
        )
    if reason_due(house, edit, frozenset({measure.name}), f"changing {as_typed(edit.key)}"):
        return False
    if not edit.animal:
        now = house.cards[card.name]
        values = tuple(
            replace(value, number=new, unit=edit.new.unit, source=_ground(edit))
            if value in matching
            else value
            for value in now.values
        )
        house.cards[card.name] = replace(now, values=values)
    return True
