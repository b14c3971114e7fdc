"""What to try: words and numbers that would do where something else was written."""

from __future__ import annotations

import string
from collections.abc import Iterable, Mapping

from advisor.language.dimensions import shown
from advisor.language.nodes import Number
from advisor.model.vocabulary import Kind, Measure, NumberType, SetType, ValueType, WordType
from advisor.units import BASE_UNIT, UNITS, Unit, from_base

_MIDDLE = 0.5
_CARD_LINES = {
    "light": "min 50 PAR",
    "flow": "min 5 cm/s",
    "contact": "group acropora",
    "growth": "out 2 mm/month",
    "swells": "most 3 cm",
}
"""What may follow the first word of a card's line that can stand alone: how it is written, no advice."""


def in_unit(value: float, kind: NumberType) -> str:
    """Return a number with the unit of a kind of quantity, as it would be written."""
    return shown(value, kind.unit.name or BASE_UNIT[kind.dimension].name)


def as_written(base_value: float, unit: str) -> float:
    """Return a base-unit value as the number that stood before `unit`."""
    found = UNITS.get(unit)
    return from_base(base_value, found) if found is not None else base_value


def number_in(base_value: float, unit: Unit) -> str:
    """Return a base-unit value as the rule language writes it, not rounded for a reader: ``0.5 %``."""
    return shown(from_base(base_value, unit), unit.name)


def turned(low: Number, high: Number) -> str:
    """Return the two ends of a range the other way round: ``1 to 9 PAR``."""
    unit = low.unit or high.unit
    return f"{shown(high.value, '' if high.unit == unit else high.unit)} to {shown(low.value, unit)}"


def card_line(head: str) -> str:
    """Return a whole line of a card that begins with `head`."""
    return f"{head} {_CARD_LINES[head]}" if head in _CARD_LINES else ""


def free_name(taken: Iterable[str], first: str = "a") -> str:
    """Return a one-letter name that nothing has yet, from `first` on."""
    known = set(taken)
    letters = string.ascii_lowercase
    at = letters.find(first[:1])
    return next((letter for letter in letters[at:] + letters[:at] if letter not in known), f"{first}-2")


def some(kind: Kind, scope: Mapping[str, Kind], but: str = "") -> str:
    """Return a variable that stands for a thing of a kind, or nothing; `but` is another one's name."""
    return next((name for name, found in scope.items() if found.fits(kind) and name != but), "")


def thing_of(kind: Kind, scope: Mapping[str, Kind]) -> str:
    """Return how a thing of a kind may be named here; where none can be, any that has a name."""
    animal = some(Kind.ANIMAL, scope)
    if found := some(kind, scope):
        return found
    return f"{animal}.spot" if kind is Kind.PLACE and animal else next(iter(scope), "tank")


def value_of(kind: ValueType, measure: Measure | None = None) -> str:
    """Return a value as it may be given for a measure of a kind, within what is usual or possible."""
    if isinstance(kind, WordType):
        return kind.words[0] if kind.words else "a-name"
    if isinstance(kind, SetType):
        return ", ".join(kind.words[:2]) or "a-name"
    if not isinstance(kind, NumberType):
        return "yes"
    return in_unit(_some_number(kind, measure), kind)


def _some_number(kind: NumberType, measure: Measure | None) -> float:
    """The middle of what is usual, else some steps up from the least that is possible."""
    if measure is None:
        return 1.0
    if measure.usual is not None:
        middle = measure.usual[0] + _MIDDLE * (measure.usual[1] - measure.usual[0])
        return from_base(middle, kind.unit)
    half = _MIDDLE * (measure.high - measure.low) / measure.step
    steps = 10 if half > 10 else max(1, int(half))
    return from_base(min(measure.low + steps * measure.step, measure.high), kind.unit)
