"""How the lines of a card read: which values one line joins, and in what words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from advisor.language.nodes import CardValue
from advisor.units import PLAIN, format_number, format_quantity, from_base, unit_named

_KIN = {
    "touch-ok": "may touch",
    "touch-usually": "may usually touch",
    "gap-only": "near, not touching",
    "same-clone-only": "only pieces of one clone",
}

Statement = tuple[CardValue, ...]
"""Values written on one line of a card."""


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of line of a note card: which values it joins and how they read."""

    label: str
    topic: str
    """The part of a note card it stands in."""
    keys: tuple[str, ...]
    text: Callable[[Statement], str]
    ends: tuple[str, str] | None = None
    """Keys of the two numbers that can be drawn: lower and upper."""


def words_of(value: CardValue) -> tuple[str, ...]:
    """Return the words of one value, whichever way it holds them."""
    return value.words or ((value.word,) if value.word else ())


def _find(statement: Statement, key: str) -> CardValue | None:
    return next((value for value in statement if value.key == key), None)


def _number(statement: Statement, key: str) -> str:
    """Return one number with its unit, or nothing."""
    value = _find(statement, key)
    if value is None or value.number is None:
        return ""
    return format_quantity(value.number, unit_named(value.unit) if value.unit else PLAIN)


def in_words(word: str) -> str:
    """Return a word of the vocabulary as it is spoken."""
    return word.replace("-", " ")


def _listed(statement: Statement, key: str) -> str:
    return ", ".join(in_words(word) for value in statement if value.key == key for word in words_of(value))


def _text(statement: Statement, key: str) -> str:
    return " ".join(value.text for value in statement if value.key == key and value.text)


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _prefixed(prefix: str, text: str) -> str:
    return f"{prefix} {text}" if text else ""


def _band(low: str, high: str) -> Callable[[Statement], str]:
    """Return a reader of two ends of a band: ``80 to 150 PAR``."""

    def read(statement: Statement) -> str:
        first, last = _find(statement, low), _find(statement, high)
        if first is None or last is None or first.number is None or last.number is None:
            return _joined(
                _prefixed("at least", _number(statement, low)), _prefixed("at most", _number(statement, high))
            )
        unit = unit_named(last.unit) if last.unit else PLAIN
        return f"{format_number(from_base(first.number, unit))} to {_number(statement, high)}"

    return read


def _ranked(key: str, top: int) -> Callable[[Statement], str]:
    """Return a reader of a rank: ``3 of 5``."""
    return lambda statement: f"{_number(statement, key)} of {top}" if _number(statement, key) else ""


def _worded(key: str) -> Callable[[Statement], str]:
    """Return a reader of words and the text that goes with them."""
    return lambda statement: ": ".join(
        part for part in (_listed(statement, key), _text(statement, f"{key}-text")) if part
    )


def _weapon(statement: Statement) -> str:
    strength = _number(statement, "weapon-potency")
    name = _listed(statement, "weapon")
    reach_only = not strength and any(value.key != "weapon" for value in statement)
    return (
        ""
        if reach_only
        else _joined(name or in_words(statement[0].of), strength and f"sting {strength} of 5")
    )


def _reach(statement: Statement) -> str:
    usual, most = _number(statement, "weapon-reach"), _number(statement, "weapon-at-most")
    return _joined(usual, _prefixed("at most", most))


def _growth(statement: Statement) -> str:
    return _joined(
        _listed(statement, "growth-form"),
        _prefixed("up", _number(statement, "growth-up")),
        _prefixed("out", _number(statement, "growth-out")),
    )


def _size(statement: Statement) -> str:
    wide, high = _number(statement, "growth-mature-width"), _number(statement, "growth-mature-height")
    return _joined(wide and f"{wide} wide", high and f"{high} high")


def _footing(statement: Statement) -> str:
    return "; ".join(
        part
        for part in (
            _listed(statement, "footing"),
            _prefixed("faces", _listed(statement, "footing-faces")),
            _prefixed("shelter", _listed(statement, "footing-shelter")),
        )
        if part
    )


def _kin(statement: Statement) -> str:
    rules = [
        _KIN.get(word, in_words(word))
        for value in statement
        if value.key == "contact-rule"
        for word in words_of(value)
    ]
    return ": ".join(part for part in (_listed(statement, "contact-group"), _joined(*rules)) if part)


def _opens(statement: Statement) -> str:
    times = _number(statement, "swells-most")
    return times and f"{times} its resting width"


ROWS: tuple[Row, ...] = (
    Row("taxon", "name", ("taxon",), lambda statement: ", ".join(words_of(statement[0]))),
    Row(
        "good light",
        "light",
        ("light-best-low", "light-best-high"),
        _band("light-best-low", "light-best-high"),
        ("light-best-low", "light-best-high"),
    ),
    Row(
        "light it stands",
        "light",
        ("light-min", "light-max"),
        _band("light-min", "light-max"),
        ("light-min", "light-max"),
    ),
    Row(
        "good flow",
        "flow",
        ("flow-best-low", "flow-best-high"),
        _band("flow-best-low", "flow-best-high"),
        ("flow-best-low", "flow-best-high"),
    ),
    Row(
        "flow it stands",
        "flow",
        ("flow-min", "flow-max"),
        _band("flow-min", "flow-max"),
        ("flow-min", "flow-max"),
    ),
    Row("flow pattern", "flow", ("flow-pattern",), _worded("flow-pattern")),
    Row("keep out of", "flow", ("flow-avoid",), _worded("flow-avoid")),
    Row(
        "weapon",
        "aggression",
        ("weapon", "weapon-potency", "weapon-reach", "weapon-at-most"),
        _weapon,
        ("weapon-potency", "weapon-potency"),
    ),
    Row(
        "reach",
        "reach",
        ("weapon-reach", "weapon-at-most"),
        _reach,
        ("weapon-reach", "weapon-at-most"),
    ),
    Row("stands a sting", "aggression", ("defence",), _ranked("defence", 5), ("defence", "defence")),
    Row("kin it may touch", "aggression", ("contact-group", "contact-rule"), _kin),
    Row("poisons the water", "aggression", ("toxins",), _ranked("toxins", 3), ("toxins", "toxins")),
    Row(
        "grows",
        "growth",
        ("growth-form", "growth-up", "growth-out"),
        _growth,
        ("growth-up", "growth-out"),
    ),
    Row(
        "grown size",
        "growth",
        ("growth-mature-width", "growth-mature-height"),
        _size,
        ("growth-mature-height", "growth-mature-width"),
    ),
    Row("stands on", "footing", ("footing", "footing-faces", "footing-shelter"), _footing),
    Row("moves", "footing", ("moves", "moves-text"), _worded("moves")),
    Row("opens to", "growth", ("swells-most",), _opens, ("swells-most", "swells-most")),
    Row("lives on", "food", ("lives-on",), _worded("lives-on")),
    Row("food", "food", ("feeding", "feeding-text"), _worded("feeding")),
    Row("people", "hazard", ("hazard",), _worded("hazard")),
    Row("difficulty", "keeping", ("difficulty",), _ranked("difficulty", 5), ("difficulty", "difficulty")),
    Row("note", "keeping", ("note-text",), lambda statement: _text(statement, "note-text")),
)
"""Every kind of line in the order of a card."""


def ends_of(row: Row, statement: Statement) -> tuple[float | None, float | None, str]:
    """Return the two numbers of a line that can be drawn, and their unit as the card has it."""
    low, high = (_find(statement, key) for key in row.ends) if row.ends else (None, None)
    name = next((value.unit for value in (high, low) if value is not None and value.unit), "")
    unit = unit_named(name) if name else PLAIN
    found = [
        None if value is None or value.number is None else from_base(value.number, unit)
        for value in (low, high)
    ]
    return found[0], found[1], name
