"""Animals that are told to do badly: an answer never passes over what a keeper sees."""

from __future__ import annotations

from advisor.model.cells import WordCell
from advisor.model.tank import Phase
from advisor.planning.desk import Desk
from advisor.reasoning.survey import Survey

_BADLY = frozenset({"badly"})


def doing_badly(desk: Desk, survey: Survey) -> tuple[str, ...]:
    """Return the animals of the tank that surely do badly, by what was told last."""
    found = []
    for animal in desk.tank.animals:
        if animal.phase is not Phase.WAITING:
            cell = survey.cell("doing", (survey.animal_row(animal.id),))
            if isinstance(cell, WordCell) and cell.possible == _BADLY and cell.cause is None:
                found.append(animal.id)
    return tuple(found)


def told_to_do_badly(desk: Desk, survey: Survey, animal: str) -> tuple[str, ...]:
    """Return a note on one animal where it does badly; none where it does not, or nobody told."""
    if animal not in doing_badly(desk, survey):
        return ()
    return (
        f"{animal} is told to do badly: whatever the rules find here, look at it, its neighbours and the "
        "water first",
    )
