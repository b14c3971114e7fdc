"""The line a keeper probably meant, whole and with the numbers in force, ready to be pasted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from advisor.language.dimensions import alike as same_numbers
from advisor.language.dimensions import number_type
from advisor.language.format_house import card_line, pasteable
from advisor.language.guess import nearest
from advisor.language.house_state import base, same
from advisor.language.library import Library
from advisor.language.nodes import Card, CardValue, HouseEdit, HouseVerb, Number
from advisor.model.vocabulary import Measure, NumberType, Supplier
from advisor.units import UNITS, Dimension, from_base, unit_named

_LIKE = 55.0
"""How like a name must be to be offered, of 100."""
_SAME_VALUE = 30.0
"""What it counts for that the old value is the shipped one."""
_SAME_WORDS = {
    "max": "most",
    "maximum": "most",
    "longest": "most",
    "highest": "most",
    "upper": "most",
    "min": "least",
    "minimum": "least",
    "lowest": "least",
    "lower": "least",
    "usually": "usual",
    "range": "reach",
}
"""Words that keepers use for one another in names of card lines."""


@dataclass(frozen=True, slots=True)
class _Line:
    """One value of a card a keeper may have meant."""

    key: str
    of: str
    value: CardValue
    measure: Measure


def let_meant(library: Library, edit: HouseEdit) -> str:
    """Return a change of the named number that is most like the one of `edit`; empty if none is.

    Only a number of the same kind counts: a time is never offered for a rank.
    """
    if edit.new is None:
        return ""
    kind = number_type(edit.new.unit)
    alike = [
        name
        for name, let in library.lets.items()
        if same_numbers(number_type(let.value.unit), kind, right_plain=not edit.new.unit)
    ]
    name = nearest(edit.target, alike)
    return pasteable(replace(edit, target=name, old=library.lets[name].value)) if name else ""


def rule_meant(library: Library, edit: HouseEdit, known: Mapping[str, object]) -> str:
    """Return the same line about the rule most like the one it names; empty if none is."""
    name = nearest(edit.target, known, _LIKE)
    if not name:
        return ""
    rule = library.rules.get(name)
    return pasteable(replace(edit, target=name, old_level=rule.level if rule is not None else edit.old_level))


def card_meant(library: Library, edit: HouseEdit) -> str:
    """Return the same line about the card most like the one it names, by any name; empty if none is."""
    names = {
        called.lower().replace(" ", "-"): card.name
        for card in library.cards.values()
        for called in (*card.also, card.name)
    }
    found = nearest(edit.target, names, _LIKE)
    if not found:
        return ""
    card = library.cards[names[found]]
    return line_meant(library, card, edit) or f"advisor card {card.name}"


def line_meant(library: Library, card: Card, edit: HouseEdit) -> str:
    """Return a change of the line of a card that is most like the one of `edit`; empty if none is.

    Only lines that hold what the edit would put there count: a length is never
    offered for an amount of light.
    """
    lines = [line for line in _lines(library, card) if _fits(line, edit)]
    line = max(lines, key=lambda line: (_likeness(line, edit), line.key, line.of), default=None)
    if line is None or _likeness(line, edit) < _LIKE:
        return ""
    several = len({value.of for value in card.values if value.key == line.key}) > 1
    made = replace(
        edit, verb=HouseVerb.CHANGE_CARD, target=card.name, key=line.key, of=line.of if several else ""
    )
    if line.value.number is None:
        return pasteable(replace(made, old_words=line.value.words))
    end = edit.new_high if line.key.endswith("-high") and edit.new_high is not None else edit.new
    return pasteable(replace(made, old=number_of(line.value), new=end, old_high=None, new_high=None))


def number_of(value: CardValue) -> Number:
    """Return the number of a card's value in the unit it is written in."""
    number = value.number or 0.0
    shown = from_base(number, unit_named(value.unit)) if value.unit in UNITS else number
    return Number(value.span, round(shown, 9), value.unit)


def lines_of_number(library: Library) -> list[str]:
    """Return every number of a card, as a house file writes it."""
    return sorted(
        {
            card_line(measure.card_line)
            for measure in library.vocabulary.measures.values()
            if measure.card_line and isinstance(measure.type, NumberType)
        }
    )


def measure_of(library: Library, key: str) -> Measure | None:
    """Return the measure that is read from a line of a card."""
    return next(
        (
            measure
            for measure in library.vocabulary.measures.values()
            if measure.card_line == key and Supplier.CARD in measure.suppliers
        ),
        None,
    )


def _lines(library: Library, card: Card) -> Iterator[_Line]:
    """The values of a card that a measure reads."""
    for value in card.values:
        measure = measure_of(library, value.key)
        if measure is not None and (value.number is not None or value.words):
            yield _Line(value.key, value.of, value, measure)


def _fits(line: _Line, edit: HouseEdit) -> bool:
    """Whether a line holds the kind of thing an edit would put there."""
    if edit.new is None:
        words = getattr(line.measure.type, "words", ())
        return line.value.number is None and (not words or bool(set(words) & set(edit.new_words)))
    if line.value.number is None:
        return False
    given = number_type(edit.new.unit).dimension
    held = number_type(line.value.unit).dimension
    return given is held or given is Dimension.COUNT


def _likeness(line: _Line, edit: HouseEdit) -> float:
    """How like a line is to what was typed, by the names of the line and of its measure."""
    from rapidfuzz import fuzz

    typed = _plain((edit.key, edit.of))
    names = ((line.key,), (line.measure.name,), (line.key, line.of), (line.measure.name, line.of))
    best = max(fuzz.token_sort_ratio(typed, _plain(name)) for name in names)
    return best + (_SAME_VALUE if _same_value(line.value, edit) else 0.0)


def _plain(parts: Iterable[str]) -> str:
    """Words of a name, those that keepers use for one another made the same."""
    words = "-".join(parts).split("-")
    return " ".join(_SAME_WORDS.get(word, word) for word in words if word and word != "at")


def _same_value(value: CardValue, edit: HouseEdit) -> bool:
    """Whether the old value of an edit is what the card says."""
    if value.number is not None and edit.old is not None:
        return same(value.number, base(edit.old))
    return bool(value.words) and set(value.words) == set(edit.old_words)
