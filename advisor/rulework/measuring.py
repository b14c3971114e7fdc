"""How good the examples beside the rules are: what they reach, and what they would notice."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, unusable
from advisor.language.guess import nearest
from advisor.language.nodes import Define, Prefer, Rule
from advisor.session.opening import library_in_force, usable

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.model.coverage import CoverAnswer
    from advisor.model.mutation import MutateAnswer


def cover_rules(
    names: Sequence[str] = (),
    *,
    rules: Path | None = None,
    house: Sequence[Path] = (),
    on: date | None = None,
) -> CoverAnswer:
    """Return what the examples of the rule files reach, with each gap explained for things asked by name.

    House lines that do not count on the day `on` are left out; None looks at no day.

    Raises
    ------
    UnusableInput
        If a rule file has an error, or nothing is called so.
    """
    from advisor.rulework.covering import cover

    library = usable(*library_in_force(rules, house, on))
    asked = _asked(names, library)
    return cover(library, asked, usable(*library_in_force(rules, ())) if library.house else None)


def mutate_rules(
    names: Sequence[str] = (),
    *,
    most: int | None = None,
    rules: Path | None = None,
    house: Sequence[Path] = (),
    on: date | None = None,
    told: Callable[[int, int], None] | None = None,
) -> MutateAnswer:
    """Return which small changes of the rules their examples notice.

    Parameters
    ----------
    names
        What to change; everything, if left out.
    most
        At most so many changes of each thing.
    on
        The day the house lines must count on; None to look at no day.
    told
        Is told how many changes have been tried, and of how many.

    Raises
    ------
    UnusableInput
        If a rule file has an error, or nothing is called so.
    """
    from advisor.rulework.mutation import mutate

    library = usable(*library_in_force(rules, house, on))
    asked = _asked(names, library)
    return mutate(library, asked, most=most, told=told)


def _asked(names: Sequence[str], library: Library) -> tuple[str, ...]:
    """What is asked for by name, and everything of a file that is asked for; raises for what is neither."""
    every: dict[str, Rule | Prefer | Define] = {**library.rules, **library.prefers, **library.defines}
    found: list[str] = []
    for name in names:
        path = Path(name).as_posix()
        inside = [each for each, item in every.items() if f"/{item.span.file}".endswith(f"/{path}")]
        found += inside if name.endswith(".rules") and inside else [name]
    _require(found, every)
    return tuple(dict.fromkeys(found))


def _require(names: Sequence[str], known: Collection[str]) -> None:
    """Raise where something asked for is no rule, preference or definition."""
    missing = tuple(
        Problem(
            "ask-404",
            f"no rule, preference or definition is called '{name}'",
            mend=nearest(name, known, 55.0) or "advisor rules check --level 2 lists the rules",
        )
        for name in names
        if name not in known
    )
    if missing:
        raise unusable(missing)
