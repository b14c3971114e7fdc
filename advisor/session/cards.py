"""The note cards of corals: of the tank at hand by their ids, else by name."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, UnusableInput, unusable
from advisor.session.opening import library_in_force, loose_words, usable

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.model.results import CardAnswer


def card(
    names: Sequence[str],
    *,
    ids: Sequence[str] = (),
    rules: Path | None = None,
    house: Sequence[Path] = (),
    on: date | None = None,
    folder: Path | None = None,
    strict: bool = False,
) -> list[CardAnswer]:
    """Return the card (or cards) that each name may mean, with the house lines that count on a day.

    A card that several names lead to is given once, with all of them; one that
    the house changes for an animal alone is given with that animal's own values.

    Parameters
    ----------
    names
        Cards, trade names, binomials, genera, groups, or ids of the tank at hand.
    ids
        What each of them is called in a tank, in the same order; left out: nothing.
    folder
        The tank folder; None for this one or the nearest above, if there is any.
    strict
        Whether a name without a card is answered with what is safe for anything; else it is refused.

    Raises
    ------
    UnusableInput
        If a name means nothing, or a rule file has an error.
    """
    from advisor.knowledge.cards import cards_called, unnamed_answer

    library = usable(*library_in_force(rules, house, on))
    taxa = _taxa(folder, library)
    asked = [
        (taxa.get(name, name) if name == own else name, own)
        for name, own in zip(names, ids or names, strict=True)
    ]
    answers, unknown = cards_called(asked, library)
    answers = [_with_house(answer, library) for answer in answers]
    if not unknown or strict:
        near = dict(unknown)
        return answers + [
            unnamed_answer(name, own, library, near[name]) for name, own in asked if name in near
        ]
    raise unusable(
        tuple(
            Problem(
                "name-304",
                f"I have no card called '{name}'",
                mend=f"did you mean {', '.join(near[:4])}?" if near else "try its scientific name",
            )
            for name, near in unknown
        )
    )


def _taxa(folder: Path | None, library: Library) -> dict[str, str]:
    """What each animal of the tank at hand is said to be, by its id; nothing where none can be read."""
    from advisor.tankfiles.folder import read_tank
    from advisor.tankfiles.sources import find_tank_folder

    place = folder if folder is not None else find_tank_folder(Path.cwd())
    if place is None:
        return {}
    try:
        tank, _ = read_tank(place, library.vocabulary, words=loose_words(library))
    except (UnusableInput, OSError):
        return {}
    return {animal.id: animal.taxon or animal.id for animal in tank.animals} if tank is not None else {}


def _with_house(answer: CardAnswer, library: Library) -> CardAnswer:
    """A card with the lines of the house that change it for the animal it was asked for."""
    from advisor.reasoning.house_notes import changed_text

    told = [
        changed_text(edit, library.on)
        for edit in library.house
        if edit.animal and edit.target == answer.card and (edit.animal,) == answer.called
    ]
    known_as = "; ".join(filter(None, (answer.known_as, *told)))
    return answer.model_copy(update={"known_as": known_as}) if told else answer
