"""One line of a house block as text: what the formatter prints, and what a message gives to be pasted."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from advisor.language.format_expr import HARD_SPACE, band, digits, literal, quoted, whole, wrap
from advisor.language.nodes import HouseEdit, HouseVerb, Number

FILL_IN = "…"
"""What stands in a suggested line where a number, a day or a place belongs."""
YOUR_REASON = "your reason"
"""What stands in a suggested line where the keeper's own words belong; it is no reason."""
PASTE_WIDTH = 64
"""Longest line of a suggestion: a report prints it whole beside its label. [letters]"""
STEPS = "steps"
"""Unit of a shortfall that is told in steps, where a rule mixes units."""
UNKNOWN = "unknown"
"""Unit of a shortfall that nobody knows, for want of a reading."""
_INDENT = "  "
"""Before each further line of one that is broken."""
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_WORD = re.compile(r"[^\W\d]\w*(?:-\w+)*")


def edit_text(item: HouseEdit) -> str:
    """Return one line of a house block; hard spaces stand where it must not be broken."""
    return " ".join(_parts(item))


def pasteable(item: HouseEdit) -> str:
    """Return a whole line to paste into a house block; a reason that is lacking is left to be filled in.

    A long one is broken into lines, between its parts where that is enough and
    never within a quoted text: what is printed can be copied as it stands.
    """
    filled = item if is_reason(item.because) else replace(item, because=YOUR_REASON)
    lines = [""]
    for part in _parts(filled):
        longer = f"{lines[-1]} {part}".lstrip()
        if not lines[-1] or len(_INDENT) + len(longer) <= PASTE_WIDTH:
            lines[-1] = longer
        else:
            lines.append(part)
    broken = [wrap("" if index == 0 else _INDENT, line, 4, PASTE_WIDTH) for index, line in enumerate(lines)]
    return "\n".join(line for group in broken for line in group)


def _parts(item: HouseEdit) -> list[str]:
    """What a line is made of, in its order."""
    parts = _body(item)
    if item.short is not None:
        parts.append(f"short{HARD_SPACE}by{HARD_SPACE}{_short(item.short)}")
    if item.on:
        parts.append(f"on{HARD_SPACE}{item.on}")
    if item.because:
        parts.append(f"because {quoted(item.because)}")
    if item.until:
        parts.append(f"until{HARD_SPACE}{item.until}")
    return parts


def is_reason(text: str) -> bool:
    """Return whether a text says something: no mere signs, nor what a suggestion left to be filled in."""
    return any(letter.isalnum() for letter in text) and " ".join(text.lower().split()) != YOUR_REASON


def card_line(key: str, of: str = "") -> str:
    """Return the name of a card's value as a house file writes it: ``weapon at-most``."""
    head, _, rest = key.partition("-")
    if head not in _TWO_PARTS or key in _KEPT_WHOLE:
        return key
    return " ".join(part for part in (head, of if rest else "", rest) if part)


_TWO_PARTS = frozenset({"light", "flow", "weapon", "contact", "growth", "footing", "swells"})
"""Heads of card lines that say several things; any other key is one word, such as ``lives-on``."""
_KEPT_WHOLE = frozenset({"contact-rule"})
"""Lines whose second word starts something else in the language, so that it cannot stand alone."""


def _body(item: HouseEdit) -> list[str]:
    """A line without its reason and its days."""
    match item.verb:
        case HouseVerb.CHANGE_LET:
            return [f"change {item.target} {_values(item)}"]
        case HouseVerb.CHANGE_CARD:
            alone = [f"for {_id(item.animal)}"] if item.animal else []
            return [f"change {item.target} {card_line(item.key, item.of)} {_values(item)}", *alone]
        case HouseVerb.LEVEL:
            assert item.old_level is not None
            assert item.new_level is not None
            return [f"level {item.target} from {item.old_level.value} to {item.new_level.value}"]
        case HouseVerb.ACCEPT:
            return [f"accept {item.target}", *([f"for {_things(item)}"] if item.entities else [])]
        case _:
            return [f"switch off {item.target}"]


def _values(item: HouseEdit) -> str:
    """What is changed into what."""
    if item.old is None or item.new is None:
        return f"from {_words(item.old_words)} to {_words(item.new_words)}"
    if item.old_high is None or item.new_high is None:
        return f"from {literal(item.old)} to {literal(item.new)}"
    return f"from {band(item.old, item.old_high)} to {band(item.new, item.new_high)}"


def _words(listed: tuple[str, ...]) -> str:
    """Words in a row; what is no name stands in quotes."""
    from advisor.language.reader import RESERVED  # only here: the reader brings the whole parser with it

    if not listed:
        return FILL_IN
    return ", ".join(
        word if _NAME.fullmatch(word) and word not in RESERVED else whole(word) for word in listed
    )


def _things(item: HouseEdit) -> str:
    """Those a line is about, each with where it stood."""
    stood = item.stood or ("",) * len(item.entities)
    return ", ".join(
        f"{_id(name)} at {_id(place)}" if place else _id(name)
        for name, place in zip(item.entities, stood, strict=True)
    )


def _id(text: str) -> str:
    """An id, or a place in the keeper's own words; one to be filled in stands as it is."""
    return text if text == FILL_IN or _WORD.fullmatch(text) else whole(text)


def _short(number: Number) -> str:
    """A shortfall; one that is no number is left to be filled in."""
    if math.isnan(number.value):
        return FILL_IN
    if number.unit == UNKNOWN:
        return UNKNOWN
    return f"{digits(number.value)} {STEPS}" if number.unit == STEPS else literal(number)


__all__ = [
    "FILL_IN",
    "PASTE_WIDTH",
    "STEPS",
    "YOUR_REASON",
    "card_line",
    "edit_text",
    "is_reason",
    "pasteable",
]
