"""What a card says against the vocabulary: keys, words, units, ranges, order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from advisor.errors import Problem, Related, Severity
from advisor.language.dimensions import PHRASE, shown_base
from advisor.language.guess import nearest, several
from advisor.language.mends import as_written, in_unit
from advisor.language.nodes import Card, CardValue
from advisor.model.vocabulary import Measure, NumberType, SetType, Supplier, Vocabulary, WordType
from advisor.units import BASE_UNIT, DIMENSIONLESS, UNITS, Dimension

TEXT_ENDING = "-text"
"""Keys of quoted texts end so; they are shown, never reckoned with."""
_ORDERED = (
    ("-min", "-best-low"),
    ("-best-low", "-best-high"),
    ("-best-high", "-max"),
    ("-min", "-max"),
    ("-min", "-best-high"),
    ("-best-low", "-max"),
    ("-reach", "-at-most"),
)


@dataclass(frozen=True, slots=True)
class CardLines:
    """The measures that cards supply, by the key of their line."""

    by_key: Mapping[str, Measure]

    @classmethod
    def of(cls, vocabulary: Vocabulary) -> CardLines:
        """Return the card lines of a vocabulary."""
        return cls(
            {
                measure.card_line: measure
                for measure in vocabulary.measures.values()
                if Supplier.CARD in measure.suppliers
            }
        )


def check_card(card: Card, lines: CardLines) -> tuple[list[Problem], Card]:
    """Return what is wrong with one card, and the card without its faulty values."""
    problems: list[Problem] = []
    sound: list[CardValue] = []
    for value in card.values:
        found = list(_value(value, lines))
        problems.extend(found)
        if not found:
            sound.append(value)
    problems.extend(order_faults(card))
    if card.source is None:
        bare = [value for value in card.values if value.source is None and not value.text]
        if bare:
            problems.append(
                Problem(
                    "card-907",
                    f"{_count(bare)} of card '{card.name}' without a source",
                    bare[0].span,
                    "who says so?",
                    'source "…" kind experience',
                    Severity.WARNING,
                )
            )
    return problems, card if len(sound) == len(card.values) else replace(card, values=tuple(sound))


def _count(values: list[CardValue]) -> str:
    """So many values."""
    return "a value" if len(values) == 1 else f"{len(values)} values"


def _value(value: CardValue, lines: CardLines) -> Iterable[Problem]:
    """What is wrong with one value."""
    if value.text or value.key.endswith(TEXT_ENDING):
        return
    measure = lines.by_key.get(value.key)
    if measure is None:
        if value.key != "note":
            guess = nearest(value.key, lines.by_key, 60.0)
            yield Problem(
                "card-901",
                f"no measure is read from a card line '{value.key.replace('-', ' ')}'",
                value.span,
                f"card lines are: {several(sorted(lines.by_key), 12)}",
                guess.replace("-", " "),
            )
        return
    if isinstance(measure.type, NumberType):
        yield from _number(value, measure, measure.type)
    elif isinstance(measure.type, WordType | SetType):
        yield from _words(value, measure, measure.type)


def _number(value: CardValue, measure: Measure, kind: NumberType) -> Iterable[Problem]:
    """A number of a card: its unit and its range."""
    if value.number is None:
        yield Problem(
            "card-902",
            f"'{value.key.replace('-', ' ')}' is a number",
            value.span,
            "a word stands here",
            f"{shown_base(measure.low, kind.unit)} to {shown_base(measure.high, kind.unit)}",
        )
        return
    given = UNITS[value.unit].dimension if value.unit in UNITS else None
    if given is None and kind.dimension not in DIMENSIONLESS:
        unit = kind.unit.name or BASE_UNIT[kind.dimension].name
        yield Problem(
            "units-202",
            "this number needs a unit",
            value.span,
            f"{measure.name} is measured in {unit}",
            f"{value.number:g} {unit}",
        )
    elif given is not None and given is not kind.dimension:
        yield Problem(
            "units-201",
            f"{PHRASE[given]} is given where {PHRASE[kind.dimension]} is meant",
            value.span,
            f"{measure.name} is measured in {kind.unit.name or 'plain numbers'}",
            in_unit(as_written(value.number, value.unit), kind),
        )
    elif not measure.low <= value.number <= measure.high:
        yield Problem(
            "card-908",
            f"{shown_base(value.number, kind.unit)} is not possible for {measure.name}",
            value.span,
            f"between {shown_base(measure.low, kind.unit)} and {shown_base(measure.high, kind.unit)}",
            "is it the right unit?",
            related=_declared(measure),
        )


def _declared(measure: Measure) -> tuple[Related, ...]:
    """Where a measure is declared."""
    return (Related(measure.span, f"{measure.name} is declared here"),) if measure.span is not None else ()


def _words(value: CardValue, measure: Measure, kind: WordType | SetType) -> Iterable[Problem]:
    """The words of a card, against those of the measure."""
    found = value.words or ((value.word,) if value.word else ())
    if not found:
        yield Problem(
            "card-902",
            f"'{value.key.replace('-', ' ')}' is a word",
            value.span,
            "a number stands here",
            several(kind.words, 12),
        )
    if isinstance(kind, WordType) and len(found) > 1:
        yield Problem(
            "card-909",
            f"{measure.name} is one word",
            value.span,
            f"{len(found)} are given",
            f"keep one of: {several(found)}",
        )
    for word in found if kind.words else ():
        if word not in kind.words:
            yield Problem(
                "word-119",
                f"'{word}' is not a word of {measure.name}",
                value.span,
                f"{measure.name} is one of: {several(kind.words, 12)}",
                nearest(word, kind.words, 50.0),
            )


def order_faults(card: Card) -> list[Problem]:
    """Return which numbers fall that must not: least, good from, good to, most; usual and longest reach."""
    return list(_order(card))


def _order(card: Card) -> Iterable[Problem]:
    """Each pair of numbers that stands in the wrong order."""
    numbers: dict[tuple[str, str], list[CardValue]] = {}
    for value in card.values:
        if value.number is not None:
            numbers.setdefault((value.key, value.of), []).append(value)
    seen: set[int] = set()
    for (key, of), lower in sorted(numbers.items()):
        for ending, above in _ORDERED:
            upper = numbers.get((key.removesuffix(ending) + above, of), []) if key.endswith(ending) else []
            first = min(lower, key=lambda value: value.number or 0.0)
            last = max(upper, key=lambda value: value.number or 0.0, default=None)
            if last is None or (first.number or 0.0) <= (last.number or 0.0) or first.span.line in seen:
                continue
            seen.add(first.span.line)
            yield Problem(
                "card-910",
                f"'{key.replace('-', ' ')}' of card '{card.name}' is above '{last.key.replace('-', ' ')}'",
                first.span,
                f"{_shown(first)} here",
                "exchange the two, or correct one",
                related=(Related(last.span, f"{_shown(last)} here"),),
            )


def _shown(value: CardValue) -> str:
    """A value as a message prints it."""
    unit = UNITS.get(value.unit)
    return shown_base(value.number or 0.0, unit if unit is not None else BASE_UNIT[Dimension.COUNT])
