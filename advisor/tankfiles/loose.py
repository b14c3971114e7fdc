"""Loose words where a number belongs: those that mean nothing to anybody are told, with what is like them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from advisor.errors import Severity
from advisor.model.tank import Fact
from advisor.model.vocabulary import NumberType
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.ledger import closest
from advisor.units import UNITS

UNKNOWN_WORD = "value-138"
_SPOKEN = {
    "a": "1",
    "an": "1",
    "one": "1",
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "six": "6",
    "seven": "7",
    "eight": "8",
    "nine": "9",
    "ten": "10",
    "twelve": "12",
}
_AMOUNT = re.compile(rf"^(?:about\s+)?(half an?|{'|'.join(_SPOKEN)})\s+([a-z]+)\b")


def note_unknown_words(facts: Iterable[Fact], reading: Reading) -> None:
    """Warn of every word told of a number measure that stands for no range.

    Without a list of words in `reading` only what is surely no word is told: a number
    spelled out, or a word with a stray mark before or after it.
    """
    known = None if reading.words is None else {word.lower() for word in reading.words}
    told: set[tuple[object, str]] = set()
    for fact in facts:
        measure = reading.vocabulary.measures.get(fact.measure)
        if measure is None or not isinstance(measure.type, NumberType):
            continue
        for word in fact.said.words:
            mend = _mend(word.lower(), known, measure.type)
            if not mend or (fact.said.span, word) in told:
                continue
            told.add((fact.said.span, word))
            reading.ledger.note(
                UNKNOWN_WORD,
                f"'{word}' tells me nothing about {measure.name}",
                fact.said.span,
                label="taken as unknown",
                mend=mend,
                severity=Severity.WARNING,
            )


def _mend(word: str, known: set[str] | None, kind: NumberType) -> str:
    """What to write instead; empty where the word is known, or nobody can tell."""
    spoken = spelled_out(word, kind)
    if spoken:
        return spoken
    plain = re.sub(r"^\W+|\W+$", "", word)
    if known is None:
        return f"did you mean {plain}?" if plain and plain != word else ""
    if word in known:
        return ""
    near = plain if plain in known else closest(plain, known)
    return f"did you mean {near}?" if near else f"a number, such as 12 {kind.unit.name}".strip()


def spelled_out(word: str, kind: NumberType) -> str:
    """Return an amount spelled out in words as a number with its unit: ``one year old`` is ``1 year``."""
    found = _AMOUNT.match(word)
    unit = UNITS.get(found.group(2)) if found is not None else None
    if found is None or unit is None or unit.dimension is not kind.dimension:
        return ""
    return f"{_SPOKEN.get(found.group(1), '0.5')} {found.group(2)}"
