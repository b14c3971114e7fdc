"""The few functions the command line uses, and nothing else: open a tank, ask, change.

Only here do the layers meet. The date is always given; nothing reads a clock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity, unusable
from advisor.rulework.checking import check_rules as check_rules
from advisor.rulework.checking import house_in_tank as house_in_tank
from advisor.rulework.checking import rule_reaches as rule_reaches
from advisor.rulework.comparing import diff_rules as diff_rules
from advisor.rulework.comparing import tanks_asked as tanks_asked
from advisor.rulework.formatting import format_files as format_files
from advisor.rulework.formatting import format_text as format_text
from advisor.rulework.linting import lint_rules as lint_rules
from advisor.rulework.measuring import cover_rules as cover_rules
from advisor.rulework.measuring import mutate_rules as mutate_rules
from advisor.rulework.mending import fix_files as fix_files
from advisor.rulework.proving import run_examples as run_examples
from advisor.rulework.scaffold import new_card as new_card
from advisor.rulework.scaffold import new_rule as new_rule
from advisor.rulework.scaffold import own_rules as own_rules
from advisor.session.cards import card as card
from advisor.session.handling import handle as handle
from advisor.session.opening import house_rules as house_rules
from advisor.session.opening import library_in_force, loose_words, shipped, usable, warnings_of
from advisor.session.opening import open_tank as open_tank
from advisor.session.session import Session as Session

if TYPE_CHECKING:
    from advisor.model.statistics import StatsAnswer
    from advisor.model.tank import Event
    from advisor.model.vocabulary import Vocabulary


def rule_statistics(
    tanks: Sequence[Path] = (),
    *,
    rules: Path | None = None,
    house: Sequence[Path] = (),
    on: date,
) -> StatsAnswer:
    """Return what the cards and rules in force rest on, and which values to trust least.

    Raises
    ------
    UnusableInput
        If a rule file or a tank has an error.
    """
    from advisor.rulework.statistics import rule_statistics as counted

    return counted(tanks, rules=rules, house=house, on=on)


def house_warnings(
    *, rules: Path | None = None, house: Sequence[Path] = (), on: date | None = None
) -> tuple[Problem, ...]:
    """Return what is to be said of house files before a question is answered; nothing without any.

    Raises
    ------
    UnusableInput
        If a rule file has an error.
    """
    return warnings_of(*library_in_force(rules, house, on)) if house else ()


def schema(name: str) -> Mapping[str, object]:
    """Return a published JSON Schema: ``tank``, ``event`` or ``answer``.

    Raises
    ------
    UnusableInput
        If there is no schema of that name.
    """
    match name:
        case "tank":
            from advisor.tankfiles.schema import tank_schema

            return tank_schema(shipped().vocabulary)
        case "event":
            from advisor.tankfiles.schema_events import event_schema

            return event_schema()
        case "answer":
            from advisor.model.published import answer_schema

            return answer_schema()
        case _:
            raise unusable(
                (Problem("ask-401", f"there is no schema called '{name}'", mend="tank, event or answer"),)
            )


def tank_questions() -> Sequence[tuple[str, str]]:
    """Return the plain questions a new tank is made from, key and text, in the order to ask them."""
    from advisor.tankfiles.starter import tank_questions

    return tank_questions()


def new_tank(folder: Path, answers: Mapping[str, str], corals: str) -> Path:
    """Make a tank folder from answers and a pasted list of corals, and return its tank.yaml.

    Raises
    ------
    UnusableInput
        If there is a tank already or the folder cannot be written. An answer
        that cannot be read stands in the file as a comment: ``# not understood``.
    """
    from advisor.tankfiles.starter import new_tank

    return new_tank(folder, shipped().vocabulary, answers, corals)


def list_remarks(corals: str) -> tuple[str, ...]:
    """Return what of a pasted list of corals was read otherwise than written, or put into a note."""
    from advisor.tankfiles.starter import list_remarks

    return list_remarks(corals)


def _in_force(folder: Path) -> tuple[Vocabulary, frozenset[str]]:
    """The vocabulary and the loose words in force, with what a tank's own house files declare."""
    library = usable(*library_in_force(None, house_rules(folder)))
    return library.vocabulary, loose_words(library)


def add_coral(
    folder: Path,
    called: str,
    *,
    on: date,
    id: str = "",
    spot: str = "",
    facts: Mapping[str, str] | None = None,
) -> Event:
    """Add a coral to a tank, waiting or on a spot, and return the event; `understood_as` tells its card.

    Raises
    ------
    UnusableInput
        If what is told cannot be used; nothing is written then.
    """
    from advisor.tankfiles.changes import add_coral

    vocabulary, words = _in_force(folder)
    return add_coral(folder, vocabulary, called, on=on, id=id, spot=spot, told=facts, words=words)


def understood_as(folder: Path, called: str) -> tuple[str, tuple[Problem, ...]]:
    """Return how the name of a coral led to its card, empty where that is plain, and a warning if to none."""
    from advisor.knowledge.names import find_card
    from advisor.tankfiles.pasted import parse_coral_line

    name = parse_coral_line(called).called or called
    match = find_card(name, usable(*library_in_force(None, house_rules(folder))))
    if match.cards:
        return match.how, ()
    near = f"did you mean {', '.join(match.candidates[:4])}? " if match.candidates else ""
    mend = f"{near}Its scientific name will do, or its group: soft coral, mushroom, clam …"
    what = f"I have no card called '{name}', so it counts as a zoanthid for your hands until you know"
    return "", (Problem("name-301", what, mend=mend, severity=Severity.WARNING),)


def add_spot(
    folder: Path, name: str, *, on: date, at: str = "", facts: Mapping[str, str] | None = None
) -> Event:
    """Add a spot to a tank, and return the event.

    Raises
    ------
    UnusableInput
        If what is told cannot be used; nothing is written then.
    """
    from advisor.tankfiles.changes import add_spot

    vocabulary, words = _in_force(folder)
    return add_spot(folder, vocabulary, name, on=on, at=at, told=facts, words=words)


def add_reading(
    folder: Path, subjects: Sequence[str], measure: str, value: str, *, on: date, how: str = ""
) -> Event:
    """Add a dated reading of a spot, an animal, a pair or the tank, and return the event.

    Raises
    ------
    UnusableInput
        If what is told cannot be used; nothing is written then.
    """
    from advisor.tankfiles.changes import add_reading

    vocabulary, words = _in_force(folder)
    return add_reading(folder, vocabulary, subjects, measure, value, on=on, how=how, words=words)


def move(folder: Path, animal: str, spot: str, *, on: date, note: str = "") -> Event:
    """Move an animal to a spot, and return the event.

    Raises
    ------
    UnusableInput
        If the animal or the spot is not there, or it is full; nothing is written then.
    """
    from advisor.tankfiles.changes import move

    return move(folder, _in_force(folder)[0], animal, spot, on=on, note=note)


def hardly_possible(folder: Path, event: Event) -> tuple[Problem, ...]:
    """Return a warning for each number that an event told of a tank and that is hardly possible."""
    from advisor.tankfiles.folder import read_tank
    from advisor.tankfiles.unusual import unusual_of

    vocabulary, words = _in_force(folder)
    tank, _ = read_tank(folder, vocabulary, words=words)
    return () if tank is None else unusual_of(event, tank, vocabulary)


def lapsed_accepts(folder: Path, animal: str, *, on: date) -> tuple[str, ...]:
    """Return what the house files accept of an animal and counts no longer, by a move of it or another.

    House files that cannot be used accept nothing; whoever asks a question is told what is wrong with them.
    """
    from advisor.errors import UnusableInput

    if not house_rules(folder):
        return ()
    try:
        return open_tank(folder, on=on).lapsed_accepts(animal)
    except UnusableInput:
        return ()
