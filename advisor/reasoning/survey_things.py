"""What the survey works out of rocks, lamps, pumps and fish: from the tank file and the journal."""

from __future__ import annotations

import re
from datetime import date

from advisor.model.cells import Cell, CellKind, NumberCell, WordCell
from advisor.model.tank import Fish
from advisor.model.vocabulary import Kind, Measure, WordType
from advisor.reasoning.survey_computed import Context, Supply, known
from advisor.reasoning.survey_facts import lamp_age as age_of_lamp
from advisor.reasoning.survey_facts import last_changed
from advisor.reasoning.survey_grounds import plain
from advisor.reasoning.survey_rows import ThingRow

PUMP_GUARD = "pump-guard"
"""The measure of one pump that `pump-guards` puts together."""


def rock_told(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Whether a rock lifts out, as its entry tells."""
    name = context.layout.things[Kind.ROCK][row].id
    rock = next((rock for rock in context.tank.rocks if rock.id == name), None)
    if rock is None or rock.lifts_out is None:
        return None
    return _word("yes" if rock.lifts_out else "no", f"told of {rock.id}")


def lamp_age(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """How old a lamp is, or what shines in it: as the keeper told, or since it was new."""
    name = context.layout.things[Kind.LAMP][row].id
    told = next((lamp.installed_on for lamp in context.tank.lamps if lamp.id == name), None)
    age = age_of_lamp(name, told, context.tank, context.facts, context.on)
    if age is None or age.told_days_ago is None:
        return _days_since(context, measure, last_changed(name, told, context.tank, context.on), "new")
    if not isinstance(so_far, NumberCell) or age.told_days_ago == 0:
        return None
    low, high = (min(end + age.told_days_ago, measure.high) for end in (so_far.low, so_far.high))
    best = None if so_far.best is None else min(so_far.best + age.told_days_ago, measure.high)
    older = plain(f"{age.told_days_ago} days older now")
    return NumberCell(low, best, high, so_far.kind, None, (*so_far.supports, older))


def pump_cleaned(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Days since a pump was cleaned."""
    name = context.layout.things[Kind.PUMP][row].id
    told = next((pump.cleaned_on for pump in context.tank.pumps if pump.id == name), None)
    return _days_since(context, measure, last_changed(name, told, context.tank, context.on), "cleaned")


def _days_since(context: Context, measure: Measure, day: date | None, what: str) -> Cell | None:
    """Days since a day, None where there is none."""
    if day is None:
        return None
    age = min(float((context.on - day).days), measure.high)
    return NumberCell(age, age, age, CellKind.COMPUTED, None, (plain(f"{what} on {day.isoformat()}"),))


def _fish(context: Context, row: int) -> Fish | None:
    """The entry of a fish."""
    name = context.layout.things[Kind.FISH][row].id
    return next((fish for fish in context.tank.fish if fish.id == name), None)


def fish_kind(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """What a fish is, as its entry tells, in one word: ``royal-gramma``."""
    fish = _fish(context, row)
    name = "-".join(_words(fish.kind)) if fish is not None else ""
    return _word(name, "tank file") if name else None


def fish_group(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Which of the measure's own words stands in what a fish is called: ``yellow tang`` is a tang."""
    fish = _fish(context, row)
    if fish is None or not isinstance(measure.type, WordType):
        return None
    spoken = {form for word in _words(fish.kind) for form in (word, word.removesuffix("s"))}
    found = [word for word in measure.type.words if word in spoken]
    return _word(found[0], f"'{fish.kind}'") if len(found) == 1 else None


def pump_guards(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Whether all pumps of the tank are guarded, from what is told of each."""
    if PUMP_GUARD not in context.library.vocabulary.measures:
        return None
    pumps = _there(context, Kind.PUMP, row)
    cells = {pumps_row.id: context.of_tank(PUMP_GUARD, at) for at, pumps_row in pumps.items()}
    bare = sorted(name for name, cell in cells.items() if _is(cell, "no"))
    if bare:
        return _word("no", f"no guard on {', '.join(bare)}")
    complete = Kind.PUMP.value in context.tank.told
    if cells and complete and all(_is(cell, "yes") for cell in cells.values()):
        return _word("yes", "a guard on each pump")
    return None


def _there(context: Context, kind: Kind, tank_row: int) -> dict[int, ThingRow]:
    """The rows of a kind in the world that a row of the tank table is for."""
    layout = context.layout
    if tank_row not in layout.tank_row:  # a row that a later part of its change has replaced
        return {}
    world = layout.tank_row.index(tank_row)
    gone = {row for of, where, row in layout.gone if of is kind and where == world}
    return {
        at: thing
        for at, thing in enumerate(layout.things[kind])
        if thing.world in (-1, world) and at not in gone and not thing.stranger
    }


def _is(cell: Cell, word: str) -> bool:
    """Whether a cell surely holds a word."""
    return isinstance(cell, WordCell) and known(cell) and cell.possible == frozenset((word,))


def _words(text: str) -> list[str]:
    """The words of a name, in small letters."""
    return re.findall(r"[a-z0-9]+", text.casefold())


def _word(word: str, ground: str) -> WordCell:
    """A cell of one word that the tank file tells."""
    return WordCell(frozenset((word,)), CellKind.STATED, None, (plain(ground),))


TELLS_OF_MORE = frozenset({"lamp-age"})
"""What is worked out even where the keeper told it, for a later change or the days since count too."""
OF_THINGS: dict[str, Supply] = {
    "rock-told": rock_told,
    "lamp-age": lamp_age,
    "pump-cleaned": pump_cleaned,
    "fish-kind": fish_kind,
    "fish-group": fish_group,
    "pump-guards": pump_guards,
}
