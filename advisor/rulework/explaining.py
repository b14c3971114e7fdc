"""A name out of the rule files in one paragraph: what it says, and how to open its page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import UnusableInput
from advisor.language.format_expr import HARD_SPACE, literal
from advisor.model.vocabulary import Measure, NumberType, Relation
from advisor.reports.glossary import Entry, headings
from advisor.reports.wording import counted
from advisor.rulework.documents import Shelf, shelf_of
from advisor.rulework.reading_pages import unit_of
from advisor.rulework.sentences import Speaker
from advisor.session.opening import library_in_force, usable
from advisor.units import Unit, from_base

if TYPE_CHECKING:
    from advisor.language.library import Library

_WIDTH = 80
"""Columns of a line to type; one that is longer goes on below."""
_MOST_USERS = 4
"""How many of the rules that use something are named before the rest is counted."""


def names_in_force(*, rules: Path | None = None, house: Sequence[Path] = (), on: date | None = None) -> Shelf:
    """Return the rules in force, to look names up in; the shipped ones alone where a house file is faulty.

    Raises
    ------
    UnusableInput
        If a shipped rule file has an error.
    """
    try:
        return shelf_of(usable(*library_in_force(rules, house, on)))
    except UnusableInput:
        return shelf_of(usable(*library_in_force(rules, ())))


def explain_name(name: str, shelf: Shelf) -> Entry | None:
    """Return what a name of the rule files stands for; None where nothing is called so."""
    wanted = "-".join(name.strip().lower().split())
    found = list(_kinds(wanted, shelf))
    if not found:
        return None
    titles, texts = zip(*found, strict=True)
    return Entry((wanted,), "\n\n".join(texts), " and ".join(dict.fromkeys(titles)))


def nearest_names(name: str, shelf: Shelf) -> str:
    """Return the explained word or name most like one that nothing is called; empty where none is."""
    from advisor.language.guess import nearest

    library = shelf.library
    known = (
        *headings(),
        *library.rules,
        *library.prefers,
        *library.defines,
        *library.lets,
        *library.vocabulary.measures,
        *library.vocabulary.relations,
        *library.cards,
    )
    return nearest(name, known)


def _kinds(name: str, shelf: Shelf) -> Iterator[tuple[str, str]]:
    """What kind of thing a name is, and what it says: each that bears it."""
    library = shelf.library
    speaker = Speaker(library)
    if name in library.rules:
        yield f"a rule ({library.rules[name].level.value})", _rule(name, shelf, speaker)
    if name in library.prefers:
        yield "a preference", f"{speaker.preference(library.prefers[name])} {_page(name)}"
    if name in library.defines:
        define = library.defines[name]
        cases = "; ".join(speaker.definition(define))
        users = _users(shelf.rules_resting_on(name))
        yield "a definition", f"{speaker.name_of(define)}: {cases}. {users} {_page(name)}"
    if name in library.lets:
        yield "a number with a name", _number(name, shelf)
    thing = library.vocabulary.measures.get(name) or library.vocabulary.relations.get(name)
    if thing is not None:
        yield "a reading", _reading(thing, shelf)
    if name in library.cards:
        yield "a card", f"{_card(name, library)} All it says, and who says so:\n  advisor card {name}"


def _rule(name: str, shelf: Shelf, speaker: Speaker) -> str:
    """A rule as a sentence, and why it matters."""
    rule = shelf.library.rules[name]
    matters = f" Why it matters: {rule.matters}." if rule.matters else ""
    return f"{speaker.rule(rule)}{matters} {_page(name)}"


def _number(name: str, shelf: Shelf) -> str:
    """A named number, why it is so, who uses it, and how to change it."""
    let = shelf.library.lets[name]
    value = literal(let.value).replace(HARD_SPACE, " ")
    because = f", because {let.because}" if let.because else ""
    users = _users([rule for rule, numbers in shelf.numbers.items() if name in numbers])
    line = f"  change {name} from {value} to …"
    fitting = line if len(line) <= _WIDTH else f"  change {name}\n    from {value} to …"
    return f"It is {value}{because}. {users} To change it, in a house file:\n{fitting}"


def _reading(thing: Measure | Relation, shelf: Shelf) -> str:
    """A measure or relation: what it is about, in what, from where, and who looks at it."""
    about = " and ".join(param.kind.value for param in thing.params)
    told = ", ".join(supplier.value for supplier in thing.suppliers) or "nobody"
    span = ""
    if isinstance(thing, Measure) and isinstance(thing.type, NumberType):
        unit = thing.type.unit
        span = f", {_ends((thing.low, thing.high), unit)}"
        span += "" if thing.usual is None else f", usually {_ends(thing.usual, unit)}"
        span += "" if thing.stale_days is None else f", good for {thing.stale_days:g} days"
    ask = f" {thing.ask.rstrip('.?')}." if thing.ask and "{" not in thing.ask else ""
    users = _users(shelf.rules_reading(thing.name))
    return f"Of {about}; {unit_of(thing)}{span}; from {told}.{ask} {users} {_page(thing.name)}"


def _ends(ends: tuple[float, float], unit: Unit) -> str:
    """A range as text: ``2 to 1000 PAR``."""
    return f"{from_base(ends[0], unit):g} to {from_base(ends[1], unit):g} {unit.name}".rstrip()


def _card(name: str, library: Library) -> str:
    """What a card is called and belongs to."""
    card = library.cards[name]
    taxon = next((" ".join(value.words) for value in card.values if value.key == "taxon"), "")
    return f"{card.title or name}{f', {taxon}' if taxon else ''}."


def _users(rules: Sequence[str]) -> str:
    """Which rules use something."""
    if not rules:
        return "No rule looks at it."
    more = len(rules) - _MOST_USERS
    named = ", ".join(rules[:_MOST_USERS]) + (f" and {more} more" if more > 0 else "")
    return f"{counted(len(rules), 'rule')} {'look' if len(rules) > 1 else 'looks'} at it: {named}."


def _page(name: str) -> str:
    """How to open the page of a name."""
    line = f"  advisor rules doc {name}"
    parted = f"  advisor rules doc \\\n    {name}"
    return "Its page:\n" + (line if len(line) <= _WIDTH else parted)
