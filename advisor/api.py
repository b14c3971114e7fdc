"""The few functions the command line uses, and nothing else: open a tank, ask, change.

Only here do the layers meet. The date is always given; nothing reads a clock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity, unusable
from advisor.session import Session as Session

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.model.results import CardAnswer, ExampleResult
    from advisor.model.tank import Event, Tank
    from advisor.model.vocabulary import Vocabulary


LAST_YEAR = 2500
"""Last year a question may be asked about."""


def cache_folder() -> Path:
    """Return the folder that read rule files are kept in between runs."""
    import platformdirs

    return Path(platformdirs.user_cache_dir("coral-advisor", appauthor=False))


def open_tank(
    folder: Path | None,
    *,
    on: date,
    house: Sequence[Path] = (),
    rules: Path | None = None,
    horizon_months: int | None = None,
) -> Session:
    """Read a tank folder and the rules, and return a session for questions.

    Parameters
    ----------
    folder
        The tank folder, or None for this folder or the nearest parent with a ``tank.yaml``.
    on
        The date every question is asked about.
    house
        Further house files, laid over the tank's own.
    rules
        A folder of rules to use instead of the shipped ones.
    horizon_months
        How far to look ahead; None for the tank's own horizon. [months]

    Raises
    ------
    UnusableInput
        If there is no tank, or a file has an error; carries every problem found.
    """
    from advisor.knowledge.names import choose_cards
    from advisor.planning.bench import bench_of
    from advisor.planning.desk import Desk
    from advisor.tankfiles.folder import read_tank
    from advisor.tankfiles.sources import house_files

    place = _folder(folder)
    own = house_files(place)
    library, found = _library(rules, (*(place / name for name in own), *house))
    if any(problem.severity is Severity.ERROR for problem in found):
        raise unusable(found)
    if on.year > LAST_YEAR:
        raise unusable((Problem("ask-403", f"{on} is too far ahead", mend=f"a day before {LAST_YEAR}"),))
    tank, tank_problems = read_tank(place, library.vocabulary, words=_loose_words(library))
    if tank is None:
        raise unusable((*found, *tank_problems))
    if tank.house_files != own:
        library, found = _library(rules, (*(place / name for name in tank.house_files), *house))
    problems = (*found, *tank_problems)
    if any(problem.severity is Severity.ERROR for problem in problems):
        raise unusable(problems)
    problems = (*problems, *_not_yet(tank, on))
    cards = choose_cards(tank.animals, library)
    unknown = tuple(
        _no_card(animal.id, animal.taxon, cards[animal.id].note)
        for animal in tank.animals
        if not cards[animal.id].cards
    )
    horizon = tank.horizon_months if horizon_months is None else horizon_months
    return Session(tank, (*problems, *unknown), Desk(tank, bench_of(library), cards, on, horizon))


def _not_yet(tank: Tank, on: date) -> tuple[Problem, ...]:
    """Warnings about what is dated after the day asked about."""
    return tuple(
        Problem(
            "reading-170",
            f"{fact.measure} of {' and '.join(fact.subjects)} is dated {fact.said.on}, after the day asked",
            fact.said.span,
            label=f"left out of every answer for {on}",
            mend="correct the date, or ask with --on that day or later",
            severity=Severity.WARNING,
        )
        for fact in tank.facts
        if fact.said.on is not None and fact.said.on > on
    )


def _no_card(animal: str, taxon: str, note: str) -> Problem:
    """The warning about an animal no card speaks of."""
    return Problem(
        "name-301",
        f"I have no card for {animal} ('{taxon}'); every answer about it stays open",
        mend=note or "give its scientific name, or its group",
        severity=Severity.WARNING,
    )


def _folder(folder: Path | None) -> Path:
    """The tank folder asked for, or the nearest one."""
    from advisor.tankfiles.sources import find_tank_folder

    if folder is not None:
        if (folder / "tank.yaml").is_file():
            return folder
        raise unusable(
            (Problem("tank-601", f"there is no tank.yaml in {folder}", mend=f"advisor tank new {folder}"),)
        )
    found = find_tank_folder(Path.cwd())
    if found is None:
        raise unusable(
            (
                Problem(
                    "tank-602",
                    "this folder is not a tank folder, and none of its parents is",
                    mend="advisor tank new my-tank",
                ),
            )
        )
    return found


def _library(rules: Path | None, house: Sequence[Path]) -> tuple[Library, tuple[Problem, ...]]:
    """The rules with house files laid over, and every problem of either."""
    from advisor.knowledge.load import load_library, read_house
    from advisor.reasoning.survey import COMPUTED

    texts, unread = read_house(house)
    library, problems = load_library(rules, texts, cache_folder(), computed=COMPUTED)
    return library, (*unread, *problems)


def card(names: Sequence[str], *, rules: Path | None = None, house: Sequence[Path] = ()) -> list[CardAnswer]:
    """Return the card (or cards) that each name may mean.

    Raises
    ------
    UnusableInput
        If a name means nothing, or a rule file has an error.
    """
    from advisor.knowledge.cards import card_answer
    from advisor.knowledge.names import find_card

    library = _usable(*_library(rules, house))
    out: list[CardAnswer] = []
    problems: list[Problem] = []
    for name in names:
        match = find_card(name, library)
        if not match.cards:
            near = ", ".join(match.candidates[:4])
            problems.append(
                Problem(
                    "name-304",
                    f"I have no card called '{name}'",
                    mend=f"did you mean {near}?" if near else "try its scientific name",
                )
            )
        out += [card_answer(found, library, match.how) for found in match.cards]
    if problems:
        raise unusable(tuple(problems))
    return out


def _usable(library: Library, problems: tuple[Problem, ...]) -> Library:
    """The library, unless a file of it has an error."""
    if any(problem.severity is Severity.ERROR for problem in problems):
        raise unusable(problems)
    return library


def check_rules(
    files: Sequence[Path] | None = None, *, rules: Path | None = None, house: Sequence[Path] = ()
) -> tuple[tuple[Problem, ...], Mapping[str, int]]:
    """Return every problem of the rule files, and how many of each thing they hold.

    `files` are the keeper's own, checked together with the shipped ones.
    """
    library, problems = _library(rules, (*house, *(files or ())))
    counts = {
        "rule": len(library.rules),
        "preference": len(library.prefers),
        "card": len(library.cards),
        "measure": len(library.vocabulary.measures),
        "example": len(library.examples),
    }
    return problems, counts


def rule_reaches(*, rules: Path | None = None, house: Sequence[Path] = ()) -> tuple[tuple[str, str], ...]:
    """Return for each rule what it must be asked about: ``within 60 cm``, ``all pairs``, ``each animal`` …

    Raises
    ------
    UnusableInput
        If a rule file has an error.
    """
    from advisor.planning.bench import reaches

    return reaches(_usable(*_library(rules, house)))


def run_examples(*, rules: Path | None = None, house: Sequence[Path] = ()) -> list[ExampleResult]:
    """Run every example of the rule files and return what came out.

    Raises
    ------
    UnusableInput
        If a rule file has an error.
    """
    from advisor.model.results import ExampleResult
    from advisor.reasoning import examples

    library = _usable(*_library(rules, house))
    return [
        ExampleResult(
            title=item.example.title,
            rule=item.example.rule,
            ok=item.ok,
            expected=item.expected,
            got=item.got,
            file=item.then.span.file,
            line=item.then.span.line,
            reason=item.reason,
        )
        for item in examples.run_examples(library)
    ]


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

            return tank_schema(_shipped().vocabulary)
        case "event":
            from advisor.tankfiles.schema import event_schema

            return event_schema()
        case "answer":
            from advisor.model.results import answer_schema

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

    return new_tank(folder, _shipped().vocabulary, answers, corals)


def house_rules(folder: Path | None) -> tuple[Path, ...]:
    """Return the rule files that lie in a tank folder: the one given, or the nearest; none outside one."""
    from advisor.tankfiles.sources import find_tank_folder, house_files

    place = folder if folder is not None else find_tank_folder(Path.cwd())
    return () if place is None else tuple(place / name for name in house_files(place))


def _in_force(folder: Path) -> tuple[Vocabulary, frozenset[str]]:
    """The vocabulary and the loose words in force, with what a tank's own house files declare."""
    library = _usable(*_library(None, house_rules(folder)))
    return library.vocabulary, _loose_words(library)


def _loose_words(library: Library) -> frozenset[str]:
    """The words that stand for a range: ``medium``."""
    return frozenset(meaning.word for meaning in library.words)


def _shipped() -> Library:
    """The shipped rules alone."""
    return _usable(*_library(None, ()))


def add_coral(
    folder: Path,
    called: str,
    *,
    on: date,
    id: str = "",
    spot: str = "",
    facts: Mapping[str, str] | None = None,
) -> Event:
    """Add a coral to a tank, waiting or on a spot, and return the event.

    Raises
    ------
    UnusableInput
        If what is told cannot be used; nothing is written then.
    """
    from advisor.knowledge.names import find_card
    from advisor.tankfiles.changes import add_coral

    match = find_card(called, _shipped())
    if not match.cards:
        near = f"did you mean {', '.join(match.candidates[:4])}? " if match.candidates else ""
        raise unusable(
            (
                Problem(
                    "name-304",
                    f"I have no card called '{called}'",
                    mend=f"{near}Its scientific name will do, or its group: soft coral, mushroom, clam …",
                ),
            )
        )
    vocabulary, words = _in_force(folder)
    return add_coral(folder, vocabulary, called, on=on, id=id, spot=spot, told=facts, words=words)


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
