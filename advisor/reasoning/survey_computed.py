"""What the survey works out itself about one animal, one place or the tank: a closed list."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import TypeAlias

from advisor.language.library import Library
from advisor.language.since import DAYS_SINCE, event_of
from advisor.model.cells import Cell, CellKind, NumberCell, WordCell
from advisor.model.tank import Event, EventKind, Statement, Tank
from advisor.model.vocabulary import LISTED, Kind, Measure
from advisor.reasoning.survey_facts import Facts, said_on
from advisor.reasoning.survey_grounds import days_ago, plain
from advisor.reasoning.survey_rows import TANK, AnimalRow, Layout
from advisor.reasoning.survey_values import reading_range

NIGHT = "night"
"""A look whose note has this word counts as a look by night."""

CM3_PER_L = 1000.0


@dataclass(frozen=True, slots=True)
class Context:
    """What a supplier may look at."""

    tank: Tank
    library: Library
    on: date
    facts: Facts
    settled: dict[str, date]
    layout: Layout
    standing: dict[str, list[AnimalRow]]
    """The animals of the tank as it is, by the key of the place where they stand."""
    of_animal: Callable[[str, int], Cell]
    """The cell of a measure for one entity row."""
    of_tank: Callable[[str, int], Cell]
    """The cell of a measure for one row of the tank table."""


Supply: TypeAlias = Callable[[Context, Measure, int, Cell | None], Cell | None]
"""From measure, row and what is known so far to a cell, or None where nothing can be worked out."""


def days_here(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """How long an animal has stood where it stands."""
    entity = context.layout.entities[row]
    if entity.moved:
        return _point(measure, 0.0, "put there today")
    since = context.settled.get(entity.animal.id)
    if since is None:
        return None
    return _point(measure, float((context.on - since).days), f"placed {since.isoformat()}")


def doing_since(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """For how long at least an animal has been doing what was last said of it."""
    animal = context.layout.entities[row].animal
    statements = () if context.layout.entities[row].moved else context.facts.of("doing", animal.id)
    run = _run_of(statements)
    days = [day for said in run for day in (said.since, said.on) if day is not None]
    if not days:
        return None
    first = min(days)
    least = float((context.on - first).days)
    since = context.settled.get(animal.id)
    most = max(least, float((context.on - since).days)) if since is not None else measure.high
    words = " ".join(statements[0].words)
    return NumberCell(least, least, min(most, measure.high), CellKind.COMPUTED, None,
                      (plain(f"doing {words}, journal", f"first told {first.isoformat()}"),))  # fmt: skip


def _run_of(statements: tuple[Statement, ...]) -> list[Statement]:
    """The newest statements, as far back as they say the same."""
    run: list[Statement] = []
    for said in statements:
        if run and said.words != run[0].words:
            break
        run.append(said)
    return run


def days_since_night_look(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Days since an animal was looked at by night."""
    animal_id = context.layout.entities[row].animal.id
    told = [day for said in context.facts.of(measure.name, animal_id) if (day := said_on(said)) is not None]
    seen = [event.on for event in context.tank.events if _by_night(event, animal_id, context.on)]
    if not (told or seen):
        return None
    newest = max((*told, *seen))
    age = (context.on - newest).days
    return _point(measure, float(age), f"seen by night {days_ago(age)}")


def days_since(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Days since the journal last tells of an event of one thing; without such a line nothing is known."""
    event, kind, layout = event_of(measure.name), measure.params[0].kind, context.layout
    if kind.lives:
        entity = layout.entities[row]
        if entity.moved and event in (EventKind.PLACED.value, EventKind.MOVED.value):
            return _point(measure, 0.0, "put there today")
        subjects: tuple[str, ...] = (entity.animal.id,)
    elif kind is Kind.TANK:
        subjects = (TANK, "")
    elif kind is Kind.PLACE:
        subjects = (layout.places[row].key,)
    else:
        subjects = (layout.things[kind][row].id,) if kind in LISTED else ()
    days = [
        told.on
        for told in context.tank.events
        if told.kind.value == event and told.subject in subjects and told.on <= context.on
    ]
    if not days:
        return None
    age = (context.on - max(days)).days
    return _point(measure, float(age), f"{event} {days_ago(age)}, journal")


def _by_night(event: Event, animal_id: str, on: date) -> bool:
    """Whether an event is a look at an animal by night."""
    words = event.note.casefold().split()
    looked = event.kind is EventKind.SEEN and any(word.startswith(NIGHT) for word in words)
    return looked and event.subject == animal_id and event.on <= on


def phase(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Where an animal is in its settling in."""
    word = context.layout.entities[row].animal.phase.value
    return WordCell(frozenset((word,)), CellKind.STATED, None, (plain("tank file"),))


def tank_pattern(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The pattern of the main flow, where nothing is said of the place itself."""
    if "tank-flow-pattern" not in context.library.vocabulary.measures:
        return None
    world = context.layout.places[row].world
    cell = context.of_tank("tank-flow-pattern", context.layout.tank_row[max(world, 0)])
    if not isinstance(cell, WordCell) or cell.cause is not None:
        return None
    return WordCell(cell.possible, CellKind.COMPUTED, None, (plain("the tank's main flow"), *cell.supports))


def rock_lifts_out(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Whether the rock under a place lifts out."""
    name = rock_of(context, row)
    rock = next((rock for rock in context.tank.rocks if rock.id == name), None)
    if rock is None or rock.lifts_out is None:
        return None
    word = "yes" if rock.lifts_out else "no"
    return WordCell(
        frozenset((word,)), CellKind.STATED, None, (plain("told of the rock", rock.name or rock.id),)
    )


def rock_of(context: Context, row: int) -> str:
    """Return the id of the rock under a place, empty where not told."""
    place = context.layout.places[row]
    if place.spot is not None:
        return place.spot.rock
    animals = (entity.animal for entity in context.layout.entities)
    return next((animal.rock for animal in animals if animal.id == place.animal_id), "")


def temporary_spot(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Whether a place is only for a while."""
    spot = context.layout.places[row].spot
    word = "yes" if spot is not None and spot.temporary else "no"
    return WordCell(frozenset((word,)), CellKind.STATED, None, (plain("tank file"),))


def glass_volume(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The volume of water inside the glass."""
    glass = context.tank.glass
    if glass is None:
        return None
    depth = glass.water_cm or glass.height_cm
    litres = glass.volume_cm3(depth) / CM3_PER_L
    low, high = reading_range(measure, litres, None)
    told = "rock and sand not taken off" + ("" if glass.water_cm else "; filled to the rim")
    return NumberCell(low, litres, high, CellKind.COMPUTED, None, (plain("inside of the glass", told),))


def tank_age(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Days since the tank was started."""
    started = context.tank.started
    if started is None or started > context.on:
        return None
    return _point(measure, float((context.on - started).days), f"started {started.isoformat()}")


def _point(measure: Measure, value: float, text: str) -> NumberCell:
    """An exact number within the physical range."""
    held = min(max(value, measure.low), measure.high)
    return NumberCell(held, held, held, CellKind.COMPUTED, None, (plain(text),))


def known(cell: Cell | None) -> bool:
    """Return whether a cell says anything."""
    return cell is not None and cell.cause is None and cell.kind is not CellKind.UNKNOWN


SUPPLIES: dict[str, Supply] = {
    "days-here": days_here,
    "doing-since": doing_since,
    "days-since-night-look": days_since_night_look,
    DAYS_SINCE: days_since,
    "phase": phase,
    "tank-pattern": tank_pattern,
    "rock-lifts-out": rock_lifts_out,
    "temporary-spot": temporary_spot,
    "glass-volume": glass_volume,
    "tank-age": tank_age,
}
