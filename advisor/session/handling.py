"""A coral in hand: found in the tank or by its name, and its handling sheet, whatever else cannot be read."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity, UnusableInput
from advisor.session.opening import house_rules, library_in_force, loose_words, shipped, usable

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.language.nodes import Card
    from advisor.model.handling import HandlingAnswer
    from advisor.planning.handling import Held, Sheets

_SPOILT = "Your own rule files have faults, so only what ships is told here: advisor rules check"
_TOLD_AS_SAFE = "handling-954"
"""Code of the problem that a line tells as safe what another forbids."""
_NO_TANK = "The tank folder cannot be read, so the coral was looked up by its name: advisor tank check"


def handle(
    coral: str,
    doing: str = "",
    *,
    on: date,
    folder: Path | None = None,
    house: Sequence[Path] = (),
    rules: Path | None = None,
) -> HandlingAnswer:
    """Return how to handle a coral of the tank, or one by name, without harm to a person.

    Parameters
    ----------
    coral
        An id in the tank, a card, or any name of a coral; one nobody knows gets the strictest sheet.
    doing
        What somebody is about to do, in their words; empty for the whole sheet.
    on
        The day house lines are looked at for.
    folder
        The tank folder; None for this one or the nearest above, if there is any.
    house
        Further house files. They may add sheets; what ships counts in any case.
    rules
        A folder of rules to use beside the shipped sheets.
    """
    from advisor.planning.handling import handling_answer

    base = shipped()
    library, notes = _library(base, (*house_rules(folder), *house), rules, on)
    name, id_note = _taxon(coral, folder, library)
    answer = handling_answer(_held(coral, name, library, base), _sheets(library, base), doing)
    return answer.model_copy(update={"notes": (*notes, *id_note)})


def _library(
    base: Library, house: Sequence[Path], rules: Path | None, on: date
) -> tuple[Library, tuple[str, ...]]:
    """The rules in force; what ships alone where a file of the keeper's own is spoilt."""
    if not house and rules is None:
        return base, ()
    try:
        library, problems = library_in_force(rules, house, on)
        usable(library, problems)
    except (UnusableInput, OSError):
        return base, (_SPOILT,)
    shipped_files = {sheet.span.file for sheet in base.handlings.values()}
    left_out = (each for each in problems if each.code == _TOLD_AS_SAFE or each.severity is Severity.ERROR)
    own = (each for each in left_out if each.span is None or each.span.file not in shipped_files)
    return library, tuple(_in_words(problem) for problem in own)


def _in_words(problem: Problem) -> str:
    """What is to be said of a line of a sheet that does not count."""
    span = problem.span
    return f"{problem.what} ({span.file}, line {span.line})" if span is not None else problem.what


def _taxon(coral: str, folder: Path | None, library: Library) -> tuple[str, tuple[str, ...]]:
    """What an animal of the tank is said to be; any other name as it stands."""
    from advisor.tankfiles.folder import read_tank
    from advisor.tankfiles.sources import find_tank_folder

    place = folder if folder is not None else find_tank_folder(Path.cwd())
    if place is None:
        return coral, ()
    try:
        tank, _ = read_tank(place, library.vocabulary, words=loose_words(library))
    except (UnusableInput, OSError):
        tank = None
    if tank is None:
        return coral, (_NO_TANK,)
    for animal in tank.animals:
        if coral in (animal.id, animal.name):
            return animal.taxon or animal.id, ()
    return coral, ()


def _held(coral: str, name: str, library: Library, base: Library) -> Held:
    """The cards an animal may have, and those that parts of its names speak of, as ships and as in force."""
    from advisor.knowledge.doubts import all_named
    from advisor.knowledge.names import find_card
    from advisor.planning.handling import Held

    match = find_card(name, library)
    named = {card for text in (coral, name) for each in (library, base) for card in all_named(text, each)}
    doubts = named - set(match.cards)
    in_tank = "" if name == coral else f"{coral} is '{name}' in the tank"
    known_as = "; ".join(filter(None, (in_tank, match.how)))
    return Held(coral, _cards(match.cards, library, base), known_as, _cards(sorted(doubts), library, base))


def _cards(names: Sequence[str], library: Library, base: Library) -> tuple[Card, ...]:
    """Cards by name; a hazard that only the shipped card names is not forgotten."""
    from dataclasses import replace

    found = []
    for name in names:
        card = library.cards.get(name) or base.cards[name]
        old = base.cards.get(name, card)
        lost = tuple(value for value in old.values if value.key in ("hazard", "group", "hazard-text"))
        more = tuple(value for value in lost if value not in card.values)
        found.append(replace(card, values=(*card.values, *more)))
    return tuple(found)


def _sheets(library: Library, base: Library) -> Sheets:
    """The sheets in force; one of the shipped ones cannot be replaced by another of its name."""
    from advisor.planning.handling import Sheets

    return Sheets(
        {**library.handlings, **base.handlings},
        {**base.actions, **library.actions, **base.actions},
        frozenset(library.handlings) - frozenset(base.handlings),
    )
