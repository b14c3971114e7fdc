"""What the survey works out of things seldom told: what changed lately, hours of light, a seller's word.

Where nobody tells of them the measures stay unknown, and the relations false,
so that the rules that ask for them speak only where something is told.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TypeAlias

from advisor.model.cells import Cell, CellKind, NumberCell, WordCell
from advisor.model.tank import EventKind, Said, Statement
from advisor.model.vocabulary import Kind, Measure
from advisor.reasoning.survey_computed import Context, Supply, known
from advisor.reasoning.survey_facts import Facts, together
from advisor.reasoning.survey_grounds import days_ago, plain
from advisor.reasoning.survey_rows import TANK

TOLD_OF_LIGHT = ("origin-light", "seller-light")
"""What a seller tells of light, what it stood in before what it is said to want."""
TOLD_OF_FLOW = ("seller-flow",)
"""What a seller tells of flow."""
LOWER_SHARE = 3.0
"""A seller's word is begun with in the lowest of so many equal parts of what it stands for."""


def tank_hours(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Hours of full light at a place: those of the tank, where nothing is said of the place itself."""
    if "photoperiod" not in context.library.vocabulary.measures:
        return None
    world = context.layout.places[row].world
    cell = context.of_tank("photoperiod", context.layout.tank_row[max(world, 0)])
    if not isinstance(cell, NumberCell) or not known(cell):
        return None
    ground = plain("the tank's hours of light")
    return NumberCell(cell.low, cell.best, cell.high, CellKind.COMPUTED, None, (ground, *cell.supports))


def lamp_brightened(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Days since a lamp, or what shines in it, was new, was cleaned, or was changed by the journal."""
    name = context.layout.things[Kind.LAMP][row].id
    lamps = [lamp for lamp in context.tank.lamps if lamp.id == name]
    told = [day for lamp in lamps for day in (lamp.installed_on, lamp.cleaned_on) if day is not None]
    return _since(context, measure, [*told, *_changes_of(context, {name})], "cleaned or new")


def quiet_for(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Days since the journal last tells of a change of the tank, a lamp or a pump."""
    lamps, pumps = context.tank.lamps, context.tank.pumps
    about = {"", TANK, *(lamp.id for lamp in lamps), *(pump.id for pump in pumps)}
    return _since(context, measure, _changes_of(context, about), "last changed")


def _changes_of(context: Context, about: set[str]) -> list[date]:
    """The days of the journal's changes of some things."""
    changed = (event for event in context.tank.events if event.kind is EventKind.CHANGED)
    return [event.on for event in changed if event.subject in about]


def _since(context: Context, measure: Measure, days: list[date], what: str) -> Cell | None:
    """Days since the last of some days that are not to come."""
    past = [day for day in days if day <= context.on]
    if not past:
        return None
    age = (context.on - max(past)).days
    days_since = min(float(age), measure.high)
    return NumberCell(days_since, days_since, days_since, CellKind.COMPUTED, None,
                      (plain(f"{what} {days_ago(age)}"),))  # fmt: skip


def glass_floor(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The side of a square as large as the floor of the glass. [cm]"""
    glass = context.tank.glass
    if glass is None:
        return None
    side = math.sqrt(glass.floor_cm2)
    return NumberCell(side, side, side, CellKind.COMPUTED, None, (plain("inside of the glass"),))


def sellers_statement(
    facts: Facts, animal_id: str, told: Sequence[str] = TOLD_OF_LIGHT
) -> tuple[str, Statement] | None:
    """Return what a seller says of an animal in a word, and of what; None where there is a number.

    Parameters
    ----------
    facts
        All that is said.
    animal_id
        Id of the animal.
    told
        The measures that tell of it, the one that goes before first.

    Returns
    -------
    The name of the measure and the newest statement about it.
    """
    for name in told:
        counting = together(facts.of(name, animal_id))
        if any(said.best is not None or said.low is not None for said in counting):
            return None
        by_word = [said for said in counting if said.by in (Said.SELLER, Said.SHOP)]
        if by_word and by_word[0].words:
            return name, by_word[0]
    return None


def seller_start(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The lower third of the light that a seller's word stands for. [PAR]"""
    return _lower_third(context, row, TOLD_OF_LIGHT)


def seller_flow_start(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The lower third of the flow that a seller's word stands for. [cm/s]"""
    return _lower_third(context, row, TOLD_OF_FLOW)


def _lower_third(context: Context, row: int, told: Sequence[str]) -> Cell | None:
    """Where the lower third of what a seller's word stands for ends."""
    found = sellers_statement(context.facts, context.layout.entities[row].animal.id, told)
    cell = context.of_animal(found[0], row) if found is not None else None
    if not isinstance(cell, NumberCell) or not known(cell):
        return None
    most = cell.low + (cell.high - cell.low) / LOWER_SHARE
    return NumberCell(most, most, most, CellKind.COMPUTED, None, (plain("lower third"), *cell.supports))


def doing_badly(context: Context, row: int) -> bool | None:
    """Whether an animal surely does badly; None where that is not told."""
    cell = context.of_animal("doing", row)
    badly = isinstance(cell, WordCell) and known(cell) and cell.possible == frozenset(("badly",))
    return True if badly else None


def sold_by_word(context: Context, row: int) -> bool | None:
    """Whether a seller gave a word for an animal's light, and nobody a number."""
    return _by_word(context, row, TOLD_OF_LIGHT)


def flow_by_word(context: Context, row: int) -> bool | None:
    """Whether a seller gave a word for an animal's flow, and nobody a speed."""
    return _by_word(context, row, TOLD_OF_FLOW)


def _by_word(context: Context, row: int, told: Sequence[str]) -> bool | None:
    """Whether a seller's word that is known, and no number, tells something of an animal."""
    found = sellers_statement(context.facts, context.layout.entities[row].animal.id, told)
    return True if found is not None and known(context.of_animal(found[0], row)) else None


Truth: TypeAlias = Callable[[Context, int], bool | None]
"""From a row to whether a relation of one thing holds; None leaves it untold."""

OF_LATELY: Mapping[str, Supply] = {
    "tank-hours": tank_hours,
    "lamp-brightened": lamp_brightened,
    "quiet-for": quiet_for,
    "glass-floor": glass_floor,
    "seller-start": seller_start,
    "seller-flow-start": seller_flow_start,
}
TRUTHS: Mapping[str, Truth] = {
    "doing-badly": doing_badly,
    "sold-by-word": sold_by_word,
    "flow-by-word": flow_by_word,
}
"""What works out a relation of one thing that is false until told."""
