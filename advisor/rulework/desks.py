"""A tank laid on the desk under any set of rules, so that two of them can be compared."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from advisor.errors import Problem, Severity, unusable
from advisor.knowledge.names import choose_cards
from advisor.language.library import Library
from advisor.model.tank import Tank
from advisor.model.vocabulary import Vocabulary
from advisor.planning.accepts import still_standing
from advisor.planning.bench import bench_of
from advisor.planning.desk import Desk
from advisor.session.opening import loose_words
from advisor.tankfiles.folder import read_tank


def tank_read(folder: Path, library: Library, *others: Library) -> Tank:
    """Return the tank of a folder, its readings in the words of a library, or of any of several.

    A reading that only one of two sets of rules has a name for is no fault of the tank.

    Raises
    ------
    UnusableInput
        If there is no tank, or it has an error.
    """
    if not (folder / "tank.yaml").is_file():
        raise unusable(
            (Problem("tank-601", f"there is no tank.yaml in {folder}", mend=f"advisor tank new {folder}"),)
        )
    words = loose_words(library).union(*(loose_words(each) for each in others))
    tank, problems = read_tank(folder, _joint(library, others), words=words)
    if tank is None or any(problem.severity is Severity.ERROR for problem in problems):
        raise unusable(problems)
    return tank


def _joint(library: Library, others: Sequence[Library]) -> Vocabulary:
    """Every reading of several libraries; where they tell one otherwise, as the first has it."""
    every = [each.vocabulary for each in (*reversed(others), library)]
    return Vocabulary(
        {name: measure for each in every for name, measure in each.measures.items()},
        {name: relation for each in every for name, relation in each.relations.items()},
    )


def desk_with(tank: Tank, library: Library, on: date) -> Desk:
    """Return the desk of a tank with some rules in force on a day."""
    cards = choose_cards(tank.animals, library)
    return Desk(tank, bench_of(still_standing(library, tank)), cards, on, tank.horizon_months)
