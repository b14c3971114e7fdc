"""Open a tank folder with the rules in force; the date is always given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity, unusable
from advisor.session.session import Session

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.model.tank import Animal, Tank

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
    from advisor.planning.accepts import still_standing
    from advisor.planning.bench import bench_of
    from advisor.planning.desk import Desk
    from advisor.tankfiles.folder import read_tank
    from advisor.tankfiles.sources import house_files

    place = _folder(folder)
    own, near = house_files(place), as_typed(place)
    library, found = library_in_force(rules, (*(near / name for name in own), *house), on)
    found = for_questions(found, library)
    if any(problem.severity is Severity.ERROR for problem in found):
        raise unusable(found)
    if on.year > LAST_YEAR:
        raise unusable((Problem("ask-403", f"{on} is too far ahead", mend=f"a day before {LAST_YEAR}"),))
    tank, tank_problems = read_tank(place, library.vocabulary, words=loose_words(library))
    if tank is None:
        raise unusable((*found, *tank_problems))
    if tank.house_files != own:
        library, found = library_in_force(rules, (*(near / name for name in tank.house_files), *house), on)
        found = for_questions(found, library)
    cards = choose_cards(tank.animals, library)
    unknown = tuple(
        _no_card(animal, cards[animal.id].note) for animal in tank.animals if not cards[animal.id].cards
    )
    problems = (*found, *tank_problems, *_not_yet(tank, on), *unknown)
    if any(problem.severity is Severity.ERROR for problem in problems):
        raise unusable(problems)
    horizon = tank.horizon_months if horizon_months is None else horizon_months
    bench = bench_of(still_standing(library, tank))
    return Session(tank, problems, Desk(tank, bench, cards, on, horizon))


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


def _no_card(animal: Animal, note: str) -> Problem:
    """The warning about an animal no card speaks of."""
    return Problem(
        "name-301",
        f"I have no card for {animal.id} ('{animal.taxon}'); every answer about it stays open",
        animal.span,
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


def library_in_force(
    rules: Path | None, house: Sequence[Path], on: date | None = None
) -> tuple[Library, tuple[Problem, ...]]:
    """Return the rules with house files laid over, and every problem of either.

    Parameters
    ----------
    on
        The day asked about: house lines that have run out, or do not count
        yet, are left out with a warning, and lines that contradict each other
        only before that day are no error. None to look at no day.
    """
    from advisor.knowledge.load import load_library, read_house
    from advisor.reasoning.survey import COMPUTED

    texts, unread = read_house(house)
    library, problems = load_library(rules, texts, cache_folder(), computed=COMPUTED)
    if on is not None:
        from advisor.language.house_dates import as_of

        library, problems = as_of(library, on, problems)
    return library, (*unread, *problems)


def for_questions(problems: tuple[Problem, ...], library: Library) -> tuple[Problem, ...]:
    """Return the problems of rule files as they weigh on who asks about a tank, not about the files.

    A house line that could only have let something pass is left out where it
    has an error, and so is one that no longer fits what ships. That is an error
    of the file, but the tank can be asked about all the same: it is said before
    every answer that the line does not count. Without any other line an answer
    might hide a danger, so that an error of one stays an error. Lines that
    contradict each other only after the day asked about do not weigh on it.
    """
    from advisor.language.house_state import NEVER_LAPSES

    return tuple(
        _weighed(problem, library)
        for problem in problems
        if problem.code != NEVER_LAPSES and problem.severity is not Severity.NOTE
    )


def _weighed(problem: Problem, library: Library) -> Problem:
    """A problem of a rule file as it weighs on who asks about a tank on the day of the library."""
    from advisor.language.house_state import CONTRADICTED

    label = ""
    if problem.severity is Severity.ERROR and problem.code.startswith("house-"):
        if problem.code == CONTRADICTED and problem.span not in {edit.span for edit in library.contested}:
            label = f"{problem.label} once both count, which is after {library.on}"
        elif any(aside.holds(problem.span) for aside in library.aside):
            label = f"{problem.label}; this line is left out"
    return replace(problem, severity=Severity.WARNING, label=label) if label else problem


def usable(library: Library, problems: tuple[Problem, ...]) -> Library:
    """Return the library.

    Raises
    ------
    UnusableInput
        If a file of it has an error.
    """
    found = for_questions(problems, library)
    if any(problem.severity is Severity.ERROR for problem in found):
        raise unusable(found)
    return library


def warnings_of(library: Library, problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Return what is to be said of rule files to somebody who asks a question.

    Raises
    ------
    UnusableInput
        If a file of them has an error.
    """
    usable(library, problems)
    return for_questions(problems, library)


def house_rules(folder: Path | None) -> tuple[Path, ...]:
    """Return the rule files that lie in a tank folder: the one given, or the nearest; none outside one."""
    from advisor.tankfiles.sources import find_tank_folder, house_files

    place = folder if folder is not None else find_tank_folder(Path.cwd())
    return () if place is None else tuple(as_typed(place) / name for name in house_files(place))


def as_typed(folder: Path) -> Path:
    """Return a folder as somebody would type it from here, if it is this one or below it."""
    here = Path.cwd()
    return folder.relative_to(here) if folder.is_absolute() and folder.is_relative_to(here) else folder


def loose_words(library: Library) -> frozenset[str]:
    """Return the words that stand for a range: ``medium``."""
    return frozenset(meaning.word for meaning in library.words)


def shipped() -> Library:
    """Return the shipped rules alone."""
    return usable(*library_in_force(None, ()))
