"""The page of one measure or relation, and the list of loose words."""

from __future__ import annotations

from advisor.model.vocabulary import Measure, NumberType, Relation, SetType, WordType
from advisor.rulework.documents import Document, Shelf, link, page, plain, table
from advisor.units import BASE_UNIT, Unit, from_base


def unit_of(thing: Measure | Relation) -> str:
    """Return what a value of this looks like: its unit, or its words."""
    match thing.type if isinstance(thing, Measure) else None:
        case NumberType(unit=unit):
            return unit.name or "plain numbers"
        case WordType(words=words):
            return f"one of {', '.join(words)}" if words else "a name"
        case SetType(words=words):
            return f"several of {', '.join(words)}"
        case _:
            return "yes or no"


def reading_page(name: str, shelf: Shelf) -> Document:
    """Return the page of a measure or relation: unit, range, who supplies it, who uses it."""
    vocabulary = shelf.library.vocabulary
    thing = vocabulary.measures.get(name) or vocabulary.relations[name]
    at = shelf.where(name)
    about = ", ".join(f"{param.kind.value} {param.name}" for param in thing.params)
    rows = [("about", plain(about)), ("in", plain(unit_of(thing)))]
    if isinstance(thing, Measure):
        rows += _range(thing)
    rows += [("from", ", ".join(supplier.value for supplier in thing.suppliers) or "nobody")]
    rows += [("in an answer", plain(thing.say)), ("asked for with", plain(thing.ask))]
    users = ", ".join(link(rule, shelf.where(rule), at) for rule in shelf.rules_reading(name))
    parts = [
        table(("", ""), [row for row in rows if row[1]]),
        _assumed(thing),
        "## Rules that look at it",
        users or "None.",
    ]
    return Document(at, name, page(name, *parts))


def _range(measure: Measure) -> list[tuple[str, str]]:
    """Physical and usual range, step, error and how long a reading counts."""
    if not isinstance(measure.type, NumberType):
        return []
    unit = measure.type.unit
    error = (
        f"{measure.error:.0%}"
        if measure.error_is_fraction
        else f"{measure.error / unit.factor:g} {unit.name}"
    )
    days = "" if measure.stale_days is None else f"{measure.stale_days:g} days"
    return [
        ("possible", _ends((measure.low, measure.high), unit)),
        ("usual", _ends(measure.usual, unit) if measure.usual is not None else ""),
        ("step", f"{measure.step / unit.factor:g} {unit.name}".strip()),
        ("error of a reading", error.strip() if measure.error else ""),
        ("counts for", days),
    ]


def _ends(ends: tuple[float, float], unit: Unit) -> str:
    """A range as text."""
    low, high = (f"{from_base(end, unit):g}" for end in ends)
    return f"{low} to {high} {unit.name}".strip()


def _assumed(thing: Measure | Relation) -> str:
    """What is reckoned with while nobody has told it."""
    if not isinstance(thing, Measure) or not thing.assumptions or not isinstance(thing.type, NumberType):
        return ""
    unit = thing.type.unit
    rows = [
        (
            ", ".join(each.groups) or "any",
            f"{from_base(each.low, unit):g} to {from_base(each.high, unit):g} {unit.name}",
            plain(each.because),
            each.grade.value,
        )
        for each in thing.assumptions
    ]
    return "## While nobody has told it\n\n" + table(("for", "reckoned with", "because", "grade"), rows)


def words_page(shelf: Shelf) -> Document:
    """Return the list of loose words and what each stands for."""
    rows = []
    for meaning in sorted(
        shelf.library.words, key=lambda word: (word.measure, word.said_by, word.low, word.word)
    ):
        measure = shelf.library.vocabulary.measures.get(meaning.measure)
        kind = measure.type if measure is not None else None
        unit = kind.unit if isinstance(kind, NumberType) else Unit("", next(iter(BASE_UNIT)))
        span = f"{from_base(meaning.low, unit):g} to {from_base(meaning.high, unit):g} {unit.name}"
        source = meaning.source
        ground = "" if source is None else f"{plain(source.text)} ({source.grade.value})"
        rows.append((plain(meaning.word), plain(meaning.measure), meaning.said_by, span, ground))
    return Document(
        "words.md",
        "Loose words",
        page("Loose words", table(("word", "of", "said by", "means", "source"), rows)),
    )
