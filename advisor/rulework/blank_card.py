"""The lines a card may have, as comments to fill in: each with its unit or words, and what to ask."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.model.vocabulary import Measure, NumberType, SetType, Vocabulary, WordType
from advisor.units import Dimension, from_base

_TOGETHER = ("light", "flow", "weapon", "contact", "growth", "footing", "swells")
"""Heads of lines that say several things; any other line says one."""
_TOLD = ("taxon", "genus", "group")
"""Lines that a draft has already."""
_FIRST = ("hazard", "lives-on")
_GAP = "…"
_WIDEST = 96


def card_comments(vocabulary: Vocabulary) -> list[str]:
    """Return every line a card may have as comments, what can hurt a person first."""
    heads: dict[str, list[Measure]] = {}
    for measure in vocabulary.measures.values():
        head, _, _ = measure.card_line.partition("-")
        head = head if head in _TOGETHER else measure.card_line
        of_animal = len(measure.params) == 1 and measure.params[0].kind.lives
        if head and head not in _TOLD and of_animal:
            heads.setdefault(head, []).append(measure)
    ordered = sorted(heads, key=lambda head: _FIRST.index(head) if head in _FIRST else len(_FIRST))
    out = ['# also        "what the shop calls it", "what it was called before"']
    for head in ordered:
        out += _line(head, heads[head])
    return [*out, f'# note        "{_GAP}"']


def _line(head: str, measures: list[Measure]) -> Iterator[str]:
    """One line of a card, the words it may have, and the questions that lead to it."""
    parts, words = [], []
    for measure in measures:
        key = measure.card_line.removeprefix(head).strip("-")
        if key.endswith("-high"):
            continue
        key = key.removesuffix("-low")
        ranged = measure.card_line.endswith("-low")
        parts.append(f"{key} {_value(measure, ranged)}".strip())
        words += _words(key or head, measure)
    yield f"# {head.ljust(11)} {'  '.join(sorted(parts, key=lambda part: part != _GAP))}"
    for text in (*words, f"ask: {' '.join(_asked(measures))}"):
        yield from _wrapped(text)


def _value(measure: Measure, ranged: bool) -> str:
    """The gap for a value, with its unit."""
    if not isinstance(measure.type, NumberType):
        return _GAP
    unit = measure.type.unit
    if measure.type.dimension is Dimension.RANK:
        return f"{_GAP} (from {from_base(measure.low, unit):g} to {from_base(measure.high, unit):g})"
    return f"{_GAP} to {_GAP} {unit.name}" if ranged else f"{_GAP} {unit.name}"


def _words(key: str, measure: Measure) -> list[str]:
    """Which words a value may have."""
    match measure.type:
        case WordType(words=words) if words:
            return [f"{key}: one of {', '.join(words)}"]
        case SetType(words=words):
            return [f"{key}: any of {', '.join(words)}"]
        case _:
            return []


def _asked(measures: Iterable[Measure]) -> list[str]:
    """The questions, each once, about ``it``."""
    return list(dict.fromkeys(measure.ask.replace("{a}", "it") for measure in measures if measure.ask))


def _wrapped(text: str) -> Iterator[str]:
    """A remark below a line, broken where it is long."""
    line = "#  "
    for word in text.split():
        if len(line) + 1 + len(word) > _WIDEST:
            yield line
            line = "#    "
        line += f" {word}"
    yield line
