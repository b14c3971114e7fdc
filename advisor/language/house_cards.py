"""House lines about cards: ``change torch light max from 250 PAR to 230 PAR``, perhaps for one animal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from advisor.errors import Related
from advisor.language.check_cards import order_faults
from advisor.language.dimensions import number_type, shown, shown_base
from advisor.language.format_house import card_line
from advisor.language.guess import nearest, several
from advisor.language.house_guess import card_meant, line_meant, lines_of_number, measure_of, number_of
from advisor.language.house_lets import compared, ground, same_kind
from advisor.language.house_state import House, Meant, Place, base, reason_due, same
from advisor.language.nodes import Card, CardValue, HouseEdit, Number
from advisor.model.vocabulary import Measure, NumberType, SetType, WordType

_HAZARD = "hazard"
_WEAPON = "weapon"
_NONE = "none"
_Indexed = tuple[int, CardValue]


def card_change(house: House, edit: HouseEdit) -> list[Meant]:
    """Return what a change of a card comes to; nothing if it is refused, with the reason recorded."""
    card = house.before.cards.get(edit.target)
    if card is None:
        house.refuse(
            "house-502",
            f"there is no card '{edit.target}'",
            edit.span,
            "this line changes nothing",
            card_meant(house.before, edit) or "remove the line",
        )
        return []
    both_ends = measure_of(house.before, f"{edit.key}-low") is not None and edit.old_high is not None
    parts = _ends(edit) if both_ends else [edit]
    found = [_one_value(house, card, part, edit) for part in parts]
    return [meant for meant in found if meant is not None] if all(found) else []


def _ends(edit: HouseEdit) -> list[HouseEdit]:
    """The two ends of a band as changes of their own."""
    low = replace(edit, key=f"{edit.key}-low", old_high=None, new_high=None)
    high = replace(edit, key=f"{edit.key}-high", old=edit.old_high, new=edit.new_high)
    return [low, replace(high, old_high=None, new_high=None)]


def _one_value(house: House, card: Card, part: HouseEdit, edit: HouseEdit) -> Meant | None:
    """A change of one value, which may be an end of what the line `edit` says."""
    measure = measure_of(house.before, part.key)
    if measure is None or part.old_high is not None:
        _no_such_line(house, card, part)
        return None
    found = [
        (index, value)
        for index, value in enumerate(card.values)
        if value.key == part.key
        and part.of in ("", value.of)
        and (value.number is not None) == isinstance(measure.type, NumberType)
    ]
    if not found:
        said = f"{part.of} " if part.of else ""
        house.refuse(
            "house-502",
            f"card '{card.name}' says no {said}{card_line(part.key)}",
            edit.span,
            "this line changes nothing",
            line_meant(house.before, card, part) or "remove the line",
            (Related(card.span, "the card"),),
        )
        return None
    if isinstance(measure.type, NumberType):
        return _number(house, card, measure, (part, edit), found)
    return _words(house, card, measure, (part, edit), found)


def _no_such_line(house: House, card: Card, edit: HouseEdit) -> None:
    """Record that cards have no line of that name."""
    words = edit.new is None
    keys = {
        card_line(measure.card_line)
        for measure in house.before.vocabulary.measures.values()
        if measure.card_line and not isinstance(measure.type, NumberType)
    }
    listed = sorted(keys) if words else lines_of_number(house.before)
    house.refuse(
        "house-502",
        f"a card has no {'line' if words else 'number'} '{_typed(edit)}'",
        edit.span,
        f"{'these are words' if words else 'numbers are'}: {several(listed, 20)}",
        line_meant(house.before, card, edit) or "remove the line",
    )


def _typed(edit: HouseEdit) -> str:
    """A line of a card that there is not, as it was typed."""
    return card_line(edit.key, edit.of) if edit.of else edit.key.replace("-", " ")


def _number(
    house: House, card: Card, measure: Measure, said: tuple[HouseEdit, HouseEdit], found: Sequence[_Indexed]
) -> Meant | None:
    """A change of a number of a card."""
    part, edit = said
    unit = found[0][1].unit
    if part.old is None or part.new is None:
        _wrong_sort(house, card, edit, "a number", shown_of(found[0][1]))
        return None
    if not same_kind(house, part, unit or _plain_unit(measure)):
        return None
    matching = [(index, value) for index, value in found if same(value.number or 0.0, base(part.old))]
    if not matching:
        now = number_of(found[0][1])
        told = compared(part.new, now, {"higher": 1, "lower": -1}.get(measure.stricter, 0))
        again = _again(part, edit, now)
        house.drifted(edit, part.old.span, found[0][1].span, shown(now.value, now.unit), told, again)
        return None
    if _several_weapons(house, card, part, matching) or not _possible(house, measure, part.new, unit):
        return None
    if reason_due(house, edit, frozenset({measure.name}), f"changing {card_line(part.key)}"):
        return None
    source = ground(edit, shown(part.old.value, part.old.unit))
    changes = {
        index: (replace(value, number=base(part.new), unit=part.new.unit, source=source, span=edit.span),)
        for index, value in matching
    }
    return _meant(card, edit, changes, (base(part.new),))


def _again(part: HouseEdit, edit: HouseEdit, now: Number) -> HouseEdit:
    """A line with its old number brought up to date, both ends kept where it has two."""
    if part is edit:
        return replace(edit, old=now)
    return replace(edit, old=now) if part.key.endswith("-low") else replace(edit, old_high=now)


def _plain_unit(measure: Measure) -> str:
    """The unit of a number that has none: a rank or a count."""
    assert isinstance(measure.type, NumberType)
    dimension = measure.type.dimension.value
    return dimension if dimension in ("rank", "count") else measure.type.unit.name


def _several_weapons(house: House, card: Card, edit: HouseEdit, matching: Sequence[_Indexed]) -> bool:
    """Whether a line would change several weapons alike; recorded if so."""
    weapons = list(dict.fromkeys(value.of for _, value in matching))
    if len(weapons) < 2:
        return False
    house.refuse(
        "house-505",
        f"card '{card.name}' says this of several weapons",
        edit.span,
        several(weapons),
        line_meant(house.before, card, replace(edit, of=weapons[0])),
    )
    return True


def _possible(house: House, measure: Measure, new: Number, unit_name: str) -> bool:
    """Whether a number lies in the physical range of its measure; recorded if not."""
    if measure.low <= base(new) <= measure.high:
        return True
    unit = number_type(unit_name).unit
    house.refuse(
        "house-508",
        f"{shown(new.value, new.unit)} is not possible for {measure.name}",
        new.span,
        f"between {shown_base(measure.low, unit)} and {shown_base(measure.high, unit)}",
        "is it the right unit?",
    )
    return False


def _words(
    house: House, card: Card, measure: Measure, said: tuple[HouseEdit, HouseEdit], found: Sequence[_Indexed]
) -> Meant | None:
    """A change of the words of a card."""
    edit = said[1]
    if not edit.new_words or not edit.old_words:
        _wrong_sort(house, card, edit, "a word", shown_of(found[0][1]))
        return None
    matching = [(index, value) for index, value in found if set(words_of(value)) == set(edit.old_words)]
    every = tuple(dict.fromkeys(word for _, value in found for word in words_of(value)))
    if not matching and set(every) == set(edit.old_words):
        matching = list(found)
    if not matching:
        told = f"your {listed_words(edit.new_words)} is only different, neither stricter nor looser"
        if set(every) == set(edit.new_words):
            told = f"your {listed_words(edit.new_words)} is now the shipped value itself"
        house.drifted(
            edit, edit.span, found[0][1].span, listed_words(every), told, replace(edit, old_words=every)
        )
        return None
    if not _sayable(house, measure, edit) or _drops_a_caution(house, card, edit, every):
        return None
    if reason_due(house, edit, _moved_with(house, measure), f"changing {card_line(edit.key)}"):
        return None
    source = ground(edit, listed_words(edit.old_words))
    first, *rest = matching
    changed = replace(first[1], word="", words=edit.new_words, source=source, span=edit.span)
    changes: dict[int, tuple[CardValue, ...]] = {first[0]: (changed,), **{index: () for index, _ in rest}}
    return _meant(card, edit, changes, tuple(sorted(edit.new_words)))


def _moved_with(house: House, measure: Measure) -> frozenset[str]:
    """What changes with the words of a line: a weapon takes its numbers along."""
    names = {measure.name}
    if measure.card_line == _WEAPON:
        every = house.before.vocabulary.measures.values()
        names |= {other.name for other in every if other.card_line.startswith(f"{_WEAPON}-")}
    return frozenset(names)


def words_of(value: CardValue) -> tuple[str, ...]:
    """Return the words of a card value, however it holds them."""
    return value.words or ((value.word,) if value.word else ())


def listed_words(words: Sequence[str]) -> str:
    """Return words as a message prints them."""
    return ", ".join(words)


def shown_of(value: CardValue) -> str:
    """Return a value of a card as a message prints it."""
    if value.number is None:
        return listed_words(words_of(value))
    number = number_of(value)
    return shown(number.value, number.unit)


def _wrong_sort(house: House, card: Card, edit: HouseEdit, wanted: str, now: str) -> None:
    """Record that a number is given for a word, or a word for a number."""
    house.refuse(
        "house-508",
        f"{card_line(edit.key, edit.of)} of card '{card.name}' is {wanted}",
        edit.span,
        f"it is {now}",
        f"change {card.name} {card_line(edit.key, edit.of)} from {now} to …",
    )


def _sayable(house: House, measure: Measure, edit: HouseEdit) -> bool:
    """Whether the new words are words of the measure; recorded if not."""
    kind = measure.type
    known = kind.words if isinstance(kind, WordType | SetType) else ()
    strange = [word for word in edit.new_words if known and word not in known]
    if isinstance(kind, WordType) and len(edit.new_words) > 1:
        house.refuse(
            "house-508",
            f"{measure.name} is one word",
            edit.span,
            f"{len(edit.new_words)} are given",
            f"keep one of: {several(edit.new_words)}",
        )
        return False
    if not strange:
        return True
    house.refuse(
        "house-508",
        f"'{strange[0]}' is not a word of {measure.name}",
        edit.span,
        f"{measure.name} is one of: {several(known, 12)}",
        nearest(strange[0], known, 50.0),
    )
    return False


def _drops_a_caution(house: House, card: Card, edit: HouseEdit, every: Sequence[str]) -> bool:
    """Whether a change would take a caution for people off a card; recorded if so."""
    lost = set(every) - {_NONE} - set(edit.new_words)
    if edit.key != _HAZARD or not lost:
        return False
    house.refuse(
        "house-506",
        f"the hazard '{min(lost)}' of card '{card.name}' is a caution for people and cannot be taken off",
        edit.span,
        "it stays as it is; another may be added",
        f"change {card.name} hazard from {listed_words(every)} to "
        f"{listed_words(tuple(dict.fromkeys((*every, *edit.new_words))))}"
        if set(edit.new_words) - {_NONE} - set(every)
        else "remove the line",
        (Related(card.span, "the card"),),
    )
    return True


def _meant(
    card: Card, edit: HouseEdit, changes: Mapping[int, tuple[CardValue, ...]], meaning: tuple[object, ...]
) -> Meant:
    """A change of some values of a card, by their index there."""

    def apply(house: House) -> None:
        own = house.values.setdefault(edit.animal, {})
        own.update({(card.name, index): values for index, values in changes.items()})

    things = tuple(("card", card.name, str(index), edit.animal) for index in sorted(changes))
    return Meant(edit, things, meaning, apply)


def cards_after(house: House) -> tuple[dict[str, Card], dict[str, dict[str, Card]]]:
    """Return all cards with the house's values, and those that read differently for one animal."""
    general = house.values.get("", {})
    touched = {name for name, _ in general}
    cards = {
        name: _rewritten(card, general) if name in touched else card
        for name, card in house.before.cards.items()
    }
    alone: dict[str, dict[str, Card]] = {}
    for animal in sorted(house.values.keys() - {""}):
        own: dict[Place, tuple[CardValue, ...]] = {**general, **house.values[animal]}
        names = sorted({name for name, _ in house.values[animal]})
        alone[animal] = {name: _rewritten(house.before.cards[name], own) for name in names}
    for card in (*cards.values(), *(card for own_cards in alone.values() for card in own_cards.values())):
        before = house.before.cards[card.name]
        if card is not before:
            house.problems.extend(fault for fault in order_faults(card) if fault not in order_faults(before))
    return cards, alone


def _rewritten(card: Card, changes: Mapping[Place, tuple[CardValue, ...]]) -> Card:
    """A card with some of its values replaced; the numbers of a renamed weapon go with it."""
    values: list[CardValue] = []
    renamed: dict[str, str] = {}
    for index, value in enumerate(card.values):
        new = changes.get((card.name, index), (value,))
        values.extend(new)
        if value.key == _WEAPON and new != (value,):
            renamed[value.of] = new[0].words[0] if new else renamed.get(value.of, value.of)
    if renamed:
        values = [replace(value, of=renamed.get(value.of, value.of)) for value in values]
        values = [value for value in values if value.of != _NONE or value.key == _WEAPON]
    return replace(card, values=tuple(values))
