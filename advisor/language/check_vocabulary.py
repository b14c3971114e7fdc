"""Measures, relations and word meanings: complete, consistent, and supplied by something that exists."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from advisor.errors import Problem, Severity, Span
from advisor.language.dimensions import PHRASE, number_type
from advisor.language.guess import nearest, several
from advisor.language.mends import as_written, in_unit, number_in
from advisor.language.nodes import WordMeaning
from advisor.model.vocabulary import (
    Kind,
    Measure,
    NumberType,
    Relation,
    SetType,
    Supplier,
    Vocabulary,
    WordType,
)
from advisor.units import BASE_UNIT, DIMENSIONLESS, Unit, from_base

SAID_BY = ("seller", "keeper", "shop", "anyone")
_HOLE = re.compile(r"\{([^{}]*)\}")
_GROUP = "group"


def check_measure(
    measure: Measure, vocabulary: Vocabulary, computed: frozenset[str] | None
) -> Iterable[Problem]:
    """Yield what is wrong with one measure."""
    yield from _supply(measure, computed)
    yield from _texts(measure)
    span = measure.span or Span("")
    if isinstance(measure.type, NumberType) and measure.high == float("inf"):
        yield Problem(
            "measure-601",
            f"measure '{measure.name}' has no range",
            span,
            "what is not known is exactly this range",
            "between … and …",
        )
    yield from _usual(measure)
    yield from _on_card(measure)
    if isinstance(measure.type, WordType | SetType):
        double = sorted({word for word in measure.type.words if measure.type.words.count(word) > 1})
        if double:
            yield Problem(
                "measure-603",
                f"measure '{measure.name}' lists a word twice",
                span,
                several(double),
                "remove one",
                Severity.WARNING,
            )
    groups = vocabulary.measures.get(_GROUP)
    known = groups.type.words if groups is not None and isinstance(groups.type, WordType) else ()
    for assumption in measure.assumptions:
        for word in assumption.groups:
            if known and word not in known:
                yield Problem(
                    "word-119",
                    f"'{word}' is not a word of {_GROUP}",
                    span,
                    f"{_GROUP} is one of: {several(known, 12)}",
                    nearest(word, known, 50.0),
                )


def _usual(measure: Measure) -> Iterable[Problem]:
    """What is usual lies within what is possible."""
    if measure.usual is None or not isinstance(measure.type, NumberType):
        return
    unit, (low, high) = measure.type.unit, measure.usual
    if low < measure.low or high > measure.high:
        ends = [f"{from_base(end, unit):g}" for end in (measure.low, measure.high)]
        yield Problem(
            "measure-607",
            f"the usual range of '{measure.name}' reaches outside what is possible",
            measure.span or Span(""),
            f"possible is {' to '.join(ends)} {unit.name}".rstrip(),
            "a usual range within 'between'",
        )


def _on_card(measure: Measure) -> Iterable[Problem]:
    """What a card cannot tell: it knows an animal, and of a weapon the weapon's own line."""
    if Supplier.CARD not in measure.suppliers or not measure.params:
        return
    kind, span = measure.params[0].kind, measure.span or Span("")
    if kind is Kind.WEAPON and not measure.card_line.startswith(Kind.WEAPON.value):
        yield Problem(
            "measure-602",
            "of a weapon a card knows only the weapon's own line",
            span,
            f"{measure.name} is taken from {measure.card_line}",
            "from card weapon-reach",
        )
    elif kind is not Kind.WEAPON and not kind.fits(Kind.ANIMAL):
        yield Problem(
            "measure-602",
            "a card knows an animal, nothing else",
            span,
            f"{measure.name} is asked of {kind.value}",
            "from keeper",
        )


def check_relation(relation: Relation, computed: frozenset[str] | None) -> Iterable[Problem]:
    """Yield what is wrong with one relation."""
    yield from _supply(relation, computed)
    yield from _texts(relation)
    if Supplier.CARD in relation.suppliers:
        yield Problem(
            "measure-602",
            "a card holds values, no relations",
            relation.span or Span(""),
            "from keeper or computed",
            "from keeper",
        )


def _supply(thing: Measure | Relation, computed: frozenset[str] | None) -> Iterable[Problem]:
    """Who supplies it, and whether that exists."""
    span = thing.span or Span("")
    if not thing.suppliers:
        yield Problem(
            "measure-604",
            f"'{thing.name}' comes from nowhere",
            span,
            "who knows it?",
            "from keeper",
            Severity.ERROR,
        )
    if thing.computed_by and computed is not None and thing.computed_by not in computed:
        yield Problem(
            "measure-605",
            f"nothing computes '{thing.computed_by}'",
            span,
            f"computed are: {several(sorted(computed), 12)}",
            nearest(thing.computed_by, computed, 50.0),
        )


def _texts(thing: Measure | Relation) -> Iterable[Problem]:
    """Every hole of `say` and `ask` names a parameter."""
    names = {param.name for param in thing.params}
    for text in (thing.say, thing.ask):
        for hole in _HOLE.findall(text):
            if hole.strip() not in names:
                yield Problem(
                    "text-401",
                    f"{{{hole}}} cannot be filled in: '{thing.name}' has no {hole.strip()}",
                    thing.span or Span(""),
                    f"it has: {several(sorted(names))}",
                    f"{{{nearest(hole, names, 0.0)}}}",
                )


def _numbers_like(measure: Measure, measures: Mapping[str, Measure], unit: str) -> list[str]:
    """The measures that have such a unit and are asked of the same things."""
    return [
        other.name
        for other in measures.values()
        if isinstance(other.type, NumberType)
        and other.type.dimension is number_type(unit).dimension
        and [param.kind for param in other.params] == [param.kind for param in measure.params]
    ]


def _within(meaning: WordMeaning, measure: Measure, unit: Unit) -> str:
    """As much of a word's range as is possible, all that is possible where none is."""
    low, high = max(meaning.low, measure.low), min(meaning.high, measure.high)
    if low >= high:
        low, high = measure.low, measure.high
    return f"{from_base(low, unit):g} to {number_in(high, unit)}"


def check_meaning(meaning: WordMeaning, measures: Mapping[str, Measure]) -> Iterable[Problem]:
    """Yield what is wrong with the meaning of one loose word."""
    measure = measures.get(meaning.measure)
    if measure is None:
        yield Problem(
            "word-104",
            f"I do not know '{meaning.measure}'",
            meaning.span,
            "a measure is expected",
            nearest(meaning.measure, measures, 55.0),
        )
        return
    if not isinstance(measure.type, NumberType):
        yield Problem(
            "units-206",
            f"'{meaning.measure}' is not a number",
            meaning.span,
            "a loose word stands for a range of numbers",
            nearest(meaning.measure, _numbers_like(measure, measures, meaning.unit), 0.0),
        )
        return
    given = number_type(meaning.unit).dimension
    if not meaning.unit and measure.type.dimension not in DIMENSIONLESS:
        unit = measure.type.unit.name or BASE_UNIT[measure.type.dimension].name
        yield Problem(
            "units-202",
            "these numbers need a unit",
            meaning.span,
            f"{meaning.measure} is measured in {unit}",
            f"means {meaning.low:g} to {meaning.high:g} {unit}",
        )
    elif meaning.unit and given is not measure.type.dimension:
        yield Problem(
            "units-201",
            f"{PHRASE[given]} is given where {PHRASE[measure.type.dimension]} is meant",
            meaning.span,
            f"{meaning.measure} is measured in {measure.type.unit.name or 'plain numbers'}",
            f"means {as_written(meaning.low, meaning.unit):g} to "
            f"{in_unit(as_written(meaning.high, meaning.unit), measure.type)}",
        )
    elif meaning.low < measure.low or meaning.high > measure.high:
        yield Problem(
            "card-908",
            f'"{meaning.word}" reaches outside the range of {meaning.measure}',
            meaning.span,
            "no reading can lie there",
            f"means {_within(meaning, measure, number_type(meaning.unit).unit)}",
        )
    if meaning.said_by not in SAID_BY:
        yield Problem(
            "word-125",
            f"nobody is called '{meaning.said_by}' here",
            meaning.span,
            f"from: {several(SAID_BY)}",
            nearest(meaning.said_by, SAID_BY, 50.0),
        )
