"""A tank laid on the desk under any set of rules, so that two of them can be compared."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from advisor.errors import Problem, Severity, unusable
from advisor.knowledge.names import choose_cards
from advisor.language.library import Library
from advisor.model.tank import Tank
from advisor.planning.accepts import still_standing
from advisor.planning.bench import bench_of
from advisor.planning.desk import Desk
from advisor.session.opening import loose_words
from advisor.tankfiles.folder import read_tank


def tank_read(folder: Path, library: Library) -> Tank:
    """Return the tank of a folder, its readings in the words of a library.

    Raises
    ------
    UnusableInput
        If there is no tank, or it has an error.
    """
    if not (folder / "tank.yaml").is_file():
        raise unusable(
            (Problem("tank-601", f"there is no tank.yaml in {folder}", mend=f"advisor tank new {folder}"),)
        )
    tank, problems = read_tank(folder, library.vocabulary, words=loose_words(library))
    if tank is None or any(problem.severity is Severity.ERROR for problem in problems):
        raise unusable(problems)
    return tank


def desk_with(tank: Tank, library: Library, on: date) -> Desk:
    """Return the desk of a tank with some rules in force on a day."""
    cards = choose_cards(tank.animals, library)
    return Desk(tank, bench_of(still_standing(library, tank)), cards, on, tank.horizon_months)
