"""From what was typed to two sets of rules and the tanks to ask about."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, unusable

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.model.difference import DiffAnswer
    from advisor.rulework.difference import Progress

SHIPPED = "shipped"
"""What the rules that come along are called."""


def diff_rules(
    before: str,
    after: str,
    *,
    rules: Path | None = None,
    house: Sequence[Path] = (),
    tanks: Sequence[Path] = (),
    on: date,
    progress: Progress | None = None,
) -> DiffAnswer:
    """Return what one set of rules says otherwise than another, on examples and in tanks.

    Parameters
    ----------
    before, after
        A folder of rules, a house file (laid over the shipped rules), or the
        word ``shipped``.
    rules
        A folder of rules that stands for the shipped ones.
    house
        House files laid over both sides.
    tanks
        Tank folders; the house files in each are laid over both sides, but for
        those that are a side themselves.
    on
        The day the tanks are asked about.

    Raises
    ------
    UnusableInput
        If a side is neither, or a file has an error.
    """
    from advisor.rulework.desks import tank_read
    from advisor.rulework.difference import Sides, difference

    sides = _side(before, rules), _side(after, rules)
    given = {path.resolve() for _, files in sides for path in files}
    notes: dict[str, None] = {}
    one, other = (_library(folder, (*house, *files), on, notes) for folder, files in sides)
    bare = Sides(one, other)
    asked = []
    for place in tanks:
        own = [path for path in _house_of(place) if path.resolve() not in given]
        one, other = (_library(folder, (*own, *house, *files), on, notes) for folder, files in sides)
        asked.append(Sides(one, other, tank_read(place, other, one)))
    answer = difference((before, after), bare, asked, on, progress)
    return answer.model_copy(update={"notes": tuple(notes)})


def tanks_asked(tank: Path | None, more: Sequence[Path] = ()) -> tuple[Path, ...]:
    """Return the tank folders to ask about: the one given or the nearest, and more; each once."""
    from advisor.rulework.linting import each_once
    from advisor.tankfiles.sources import find_tank_folder

    first = tank if tank is not None else find_tank_folder(Path.cwd())
    return each_once((*(() if first is None else (first,)), *more))


def _side(name: str, rules: Path | None) -> tuple[Path | None, tuple[Path, ...]]:
    """The folder and the house files that one side stands for."""
    path = Path(name)
    if name == SHIPPED and not path.exists():
        return rules, ()
    if path.is_dir():
        return path, ()
    if path.is_file():
        return rules, (path,)
    raise unusable(
        (
            Problem(
                "ask-405",
                f"'{name}' is neither a folder of rules nor a house file",
                mend=f"a folder, a file such as house.rules, or the word {SHIPPED}",
            ),
        )
    )


def _library(folder: Path | None, house: Sequence[Path], on: date, notes: dict[str, None]) -> Library:
    """The rules of one side, with house files laid over; what is left out of them is noted."""
    from advisor.rulework.linting import each_once
    from advisor.session.opening import library_in_force, warnings_of

    library, problems = library_in_force(folder, each_once(house), on)
    for problem in warnings_of(library, problems):
        span = problem.span
        where = "" if span is None else f"{span.file}:{span.line} "
        notes[f"{where}{problem.what}; {problem.label}".removesuffix("; ")] = None
    return library


def _house_of(place: Path) -> tuple[Path, ...]:
    """The house files in a tank folder."""
    from advisor.session.opening import house_rules

    return house_rules(place)
