"""Numbers that can be and hardly are: outside what is usual, or longer than the glass. They count."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from advisor.errors import Problem, Severity
from advisor.model.tank import Event, EventKind, Fact, Glass, Tank
from advisor.model.vocabulary import Measure, NumberType, Vocabulary
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.ledger import Ledger, listed
from advisor.units import UNITS, Dimension, format_number, format_quantity, from_base, to_base

HARDLY_POSSIBLE = "value-136"

_TANK = "tank"
_GAP = "gap"
_MOVED = (0.1, 10.0, 0.01, 100.0)
"""What a point that stands in the wrong place does to a number."""
_TOO_MUCH = {Dimension.LIGHT: "does the meter show lux?"}
_TOO_LITTLE = {Dimension.LIGHT: "were the lamps at full?"}


@dataclass(frozen=True, slots=True)
class Odd:
    """A told number that is hardly possible, and what is wrong with it. [base unit]"""

    fact: Fact
    measure: Measure
    kind: NumberType
    value: float
    too_much: bool
    beside: str
    """What it is held against: ``5 to 800 PAR is usual``."""
    never: bool = False
    """Whether it cannot be at all: two things of one tank stand no farther apart than its corners."""


def note_unusual(facts: Sequence[Fact], glass: Glass | None, reading: Reading) -> None:
    """Warn of numbers that count and are hardly possible, one warning for each measure."""
    by_measure: dict[str, list[Odd]] = {}
    for odd in _odd_ones(_latest(facts), glass, reading):
        by_measure.setdefault(odd.measure.name, []).append(odd)
    for first, *others in by_measure.values():
        more = f"; and so is that of {listed(dict.fromkeys(map(_of, others)), 4)}" if others else ""
        reading.ledger.note(
            HARDLY_POSSIBLE,
            f"{first.measure.name}{' of ' if _of(first) else ''}{_of(first)}: "
            f"{format_quantity(first.value, first.kind.unit)} is "
            f"{'not' if first.never else 'hardly'} possible",
            first.fact.said.span,
            label=f"{first.beside}{more}",
            mend=_mend(first),
            severity=Severity.ERROR if first.never else Severity.WARNING,
        )


def unusual_of(event: Event, tank: Tank, vocabulary: Vocabulary) -> tuple[Problem, ...]:
    """Return a warning for each number told by one event that is hardly possible."""
    reading = Reading(vocabulary, Ledger())
    own = [fact for fact in tank.facts if event.subject in fact.subjects]
    if event.kind is not EventKind.ADDED:
        own = [f for f in own if f.said.on == event.on and event.note.startswith(f"{f.measure} ")]
    note_unusual(own, tank.glass, reading)
    return reading.ledger.problems


def _latest(facts: Sequence[Fact]) -> Iterator[Fact]:
    """What counts of each measure of each thing: the newest, and all without a day."""
    newest: dict[tuple[str, tuple[str, ...]], date] = {}
    for fact in facts:
        if fact.said.on is not None:
            key = (fact.measure, fact.subjects)
            newest[key] = max(fact.said.on, newest.get(key, fact.said.on))
    for fact in facts:
        if fact.said.on is None or fact.said.on == newest[fact.measure, fact.subjects]:
            yield fact


def _odd_ones(facts: Iterable[Fact], glass: Glass | None, reading: Reading) -> Iterator[Odd]:
    """Every told number outside what is usual, else longer than the glass."""
    longest = 0.0 if glass is None else math.hypot(glass.length_cm, glass.width_cm, glass.height_cm)
    for fact in facts:
        measure = reading.vocabulary.measures.get(fact.measure)
        ends = _ends(fact)
        if measure is None or not isinstance(measure.type, NumberType) or ends is None:
            continue
        kind, (low, high) = measure.type, ends
        usual = measure.usual
        longer = bool(longest) and kind.dimension is Dimension.LENGTH and low > longest
        beside = f"from corner to corner the tank measures {format_number(longest, 3)} cm"
        if longer and fact.measure == _GAP:
            yield Odd(fact, measure, kind, low, True, beside, never=True)
        elif usual is not None and measure.is_unusual(low, high):
            too_much = low > usual[1]
            yield Odd(
                fact,
                measure,
                kind,
                low if too_much else high,
                too_much,
                f"{_range(usual, kind)} is usual",
            )
        elif longer and _TANK not in fact.subjects:
            yield Odd(fact, measure, kind, low, True, beside)


def _ends(fact: Fact) -> tuple[float, float] | None:
    """The number told as both ends, or the range; None where no number is told."""
    said = fact.said
    if said.best is not None:
        return said.best, said.best
    return None if said.low is None or said.high is None else (said.low, said.high)


def _of(odd: Odd) -> str:
    """What the number is told of: ``ledge``, ``torch-1 and zoa-2``; of the tank nothing."""
    return " and ".join(each for each in odd.fact.subjects if each != _TANK)


def _range(ends: tuple[float, float], kind: NumberType) -> str:
    """A range as text in the unit of its measure."""
    low, high = (format_number(from_base(end, kind.unit)) for end in ends)
    return f"{low} to {high} {kind.unit.name}".rstrip()


def _mend(odd: Odd) -> str:
    """What may have been meant: another unit, a point elsewhere, a meter set otherwise."""
    unit = odd.kind.unit
    number = from_base(odd.value, unit)
    others = [each for each in UNITS.values() if each.dimension is odd.kind.dimension]
    meant = [
        f"{format_number(number)} {each.name}"
        for each in others
        if odd.too_much and _fits(to_base(number, each), odd)
    ]
    moved = [to_base(number * factor, unit) for factor in _MOVED]
    meant += [format_quantity(value, unit) for value in moved if _fits(value, odd)]
    asked = (_TOO_MUCH if odd.too_much else _TOO_LITTLE).get(odd.kind.dimension, "")
    guess = f"did you mean {meant[0]}?" if meant else ""
    return " ".join(filter(None, (guess, asked))) or "read it again, or write unknown"


def _fits(value: float, odd: Odd) -> bool:
    """Whether another value of the measure would be usual."""
    nearer = value < odd.value if odd.too_much else value > odd.value
    possible = odd.measure.low <= value <= odd.measure.high
    return nearer and possible and not odd.measure.is_unusual(value, value)
