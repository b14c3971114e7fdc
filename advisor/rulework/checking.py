"""Whether rule files can be used, and what each rule must be asked about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from advisor.errors import Problem, UnusableInput
from advisor.knowledge.load import without_rules
from advisor.rulework.mending import not_in_force, rule_files
from advisor.session.opening import library_in_force, open_tank, usable


def check_rules(
    files: Sequence[Path] | None = None,
    *,
    rules: Path | None = None,
    house: Sequence[Path] = (),
    on: date | None = None,
) -> tuple[tuple[Problem, ...], Mapping[str, int]]:
    """Return every problem of the rule files, and how many of each thing they hold.

    `files` are the keeper's own, or folders of them, checked together with the
    shipped ones. One that is among the rules in force already is read once.
    House lines that do not count on the day `on` are told; None looks at no day.
    """
    given = (*house, *(files or ()))
    library, problems = library_in_force(rules, not_in_force(given, rules), on)
    bare = tuple(without_rules(path) for path in given if path.is_dir() and not rule_files([path]))
    counts = {
        "rule": len(library.rules),
        "preference": len(library.prefers),
        "card": len(library.cards),
        "measure": len(library.vocabulary.measures),
        "example": len(library.examples),
    }
    return (*bare, *problems), counts


def house_in_tank(
    folder: Path | None, *, on: date, rules: Path | None = None, house: Sequence[Path] = ()
) -> tuple[Problem, ...]:
    """Return a warning for each house line that comes to nothing in a tank: the one given, or the nearest.

    Nothing where there is no tank, or where it cannot be read: `tank check` tells of that.
    """
    try:
        return open_tank(folder, on=on, house=house, rules=rules).idle_house_lines()
    except UnusableInput:
        return ()


def rule_reaches(
    *, rules: Path | None = None, house: Sequence[Path] = (), on: date | None = None
) -> tuple[tuple[str, str], ...]:
    """Return for each rule what it must be asked about: ``within 60 cm``, ``all pairs``, ``each animal`` …

    Raises
    ------
    UnusableInput
        If a rule file has an error.
    """
    from advisor.planning.bench import reaches

    return reaches(usable(*library_in_force(rules, house, on)))
