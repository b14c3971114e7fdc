"""Whether rule files can be used, and what each rule must be asked about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from advisor.errors import Problem
from advisor.session.opening import library_in_force, usable


def check_rules(
    files: Sequence[Path] | None = None, *, rules: Path | None = None, house: Sequence[Path] = ()
) -> tuple[tuple[Problem, ...], Mapping[str, int]]:
    """Return every problem of the rule files, and how many of each thing they hold.

    `files` are the keeper's own, checked together with the shipped ones.
    """
    library, problems = library_in_force(rules, (*house, *(files or ())))
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

    return reaches(usable(*library_in_force(rules, house)))
