"""Findings a keeper has accepted in a house file: which count, where they apply, and when they lapse.

An `accept` binds a rule, the ids of its animals, where they stood and how far
short it was. It lapses when its last day is over (`advisor.language.house_dates`),
when one of the animals is moved, really or only in thought, and when the
shortfall grows by more than one step of its measure. It covers what fails and
what is open, and never takes a finding out of the audit.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np

from advisor.errors import Span
from advisor.language.format_house import STEPS
from advisor.language.house_rules import asked_of
from advisor.language.library import Aside, AsideKind, Library
from advisor.language.nodes import HouseEdit, HouseVerb, Number
from advisor.model.results import Reason, Value, Verdict
from advisor.model.tank import Animal, EventKind, Tank
from advisor.model.vocabulary import LISTED, Kind
from advisor.planning.dates import day_name
from advisor.reasoning.columns import Bools, Floats
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.house_notes import days_text
from advisor.reasoning.judge import ACCEPTED, FAILS, UNDECIDED, Plane
from advisor.reasoning.record import scale_of
from advisor.reasoning.tables import Tables
from advisor.units import UNITS, Dimension, format_number

TANK_SUBJECT = "the tank"
"""How the tank itself is named among the subjects of a reason."""
_SET_DOWN = frozenset({EventKind.ADDED, EventKind.PLACED, EventKind.MOVED})
_TINY = 1e-9
_ALIKE = {Dimension.TEMPERATURE_STEP: Dimension.TEMPERATURE}
"""A difference of one kind is a shortfall of the other."""


def accepts_of(library: Library, rule: str = "") -> tuple[HouseEdit, ...]:
    """Return the accepts that count in a library, of one rule or (empty) of all."""
    return tuple(
        edit for edit in library.house if edit.verb is HouseVerb.ACCEPT and rule in ("", edit.target)
    )


# --- where the animals stand ---------------------------------------------------------


def still_standing(library: Library, tank: Tank) -> Library:
    """Return a library without those accepts whose animals have been moved since, which are put aside."""
    animals = {animal.id: animal for animal in tank.animals}
    out = []
    for edit in accepts_of(library):
        told = next((text for text in _moves(edit, animals, tank) if text), "")
        if told:
            out.append(Aside(edit, AsideKind.MOVED, edit.span, told))
    if not out:
        return library
    moved = {aside.edit for aside in out}
    house = tuple(edit for edit in library.house if edit not in moved)
    return replace(library, house=house, aside=(*library.aside, *out))


def _moves(edit: HouseEdit, animals: dict[str, Animal], tank: Tank) -> list[str]:
    """How each animal of an accept was moved, empty for one that was not."""
    stood = edit.stood or ("",) * len(edit.entities)
    out = []
    for name, place in zip(edit.entities, stood, strict=True):
        animal = animals.get(name)
        if animal is None:
            continue
        names = {*places_of(animal), *(spot.name for spot in tank.spots if spot.id == animal.spot)}
        last = _set_down(animal, tank)
        if place and place not in names - {""}:
            now = next(iter(places_of(animal)), "elsewhere")
            out.append(f"{name} stands {now} now, not {place}")
        elif edit.on and last is not None and last > date.fromisoformat(edit.on):
            out.append(f"{name} was moved on {day_name(last)}")
    return out


def places_of(animal: Animal) -> tuple[str, ...]:
    """Return what tells where an animal stands, in the tank file: spot and position, or else its rock."""
    told = tuple(place for place in (animal.spot, animal.place) if place)
    return told or ((animal.rock,) if animal.rock else ())


def _set_down(animal: Animal, tank: Tank) -> date | None:
    """The last day an animal was put where it stands, None where nothing tells."""
    days = [animal.placed_on, animal.moved_on]
    days += [event.on for event in tank.events if event.subject == animal.id and event.kind in _SET_DOWN]
    return max((day for day in days if day is not None), default=None)


# --- what is covered -----------------------------------------------------------------


def with_accepts(plane: Plane, compiled: CompiledRule, tables: Tables) -> Plane:
    """Return a rule's verdicts with those accepted that the keeper has accepted."""
    edits = accepts_of(tables.library, compiled.rule.name)
    if not edits or not len(plane.bindings):
        return plane
    covered = np.zeros(len(plane.bindings), np.bool_)
    for edit in edits:
        most = most_steps(edit, compiled)
        if most is not None:
            # a rule about words has no margin, and nothing that could grow
            worse = shortfall_steps(plane) > most
            covered |= bound(plane, compiled, tables, edit) & ~worse
    covered &= np.isin(plane.verdict, (FAILS, UNDECIDED))
    return replace(plane, verdict=np.where(covered, ACCEPTED, plane.verdict).astype(np.int8))


def shortfall_steps(plane: Plane) -> Floats:
    """Return how far short each binding is, 0 where it holds, not a number where nothing is compared."""
    found = np.where(np.isnan(plane.best), plane.low, plane.best)
    return np.where(np.isnan(found), np.nan, np.maximum(-found, 0.0))


def most_steps(edit: HouseEdit, compiled: CompiledRule) -> float | None:
    """Return beyond which shortfall an accept lapses; None where its unit is none of the rule's.

    One step more than what was accepted still counts. [steps]
    """
    if edit.short is None:
        return math.inf
    if edit.short.unit == STEPS:
        return edit.short.value + 1.0 + _TINY
    scale = None if compiled.expect is None else scale_of(compiled.expect)
    unit = UNITS.get(edit.short.unit)
    if scale is None:
        return None
    step, wanted = scale
    given = wanted.dimension if unit is None else unit.dimension
    if wanted.dimension not in (given, _ALIKE.get(given)):
        return None
    return edit.short.value * (1.0 if unit is None else unit.factor) / step + 1.0 + _TINY


def bound(plane: Plane, compiled: CompiledRule, tables: Tables, edit: HouseEdit) -> Bools:
    """Return where a rule's things are exactly those an accept names, in the order of the rule.

    What one animal does to another is accepted, and not what that does to it.
    An animal that is moved in thought has a row of its own, so that nothing
    accepted follows it.
    """
    binders = asked_of(compiled.rule)
    none = np.zeros(len(plane.bindings), np.bool_)
    if len(binders) != len(edit.entities):
        return none
    rows = [_row(tables, binder.kind, name) for binder, name in zip(binders, edit.entities, strict=True)]
    matches = [plane.bindings.rows[b.name] == row for b, row in zip(binders, rows, strict=True)]
    here: Bools = np.logical_and.reduce([~none, *matches])
    return here


def _row(tables: Tables, kind: Kind, name: str) -> int:
    """The row of a thing as it is in the tank, -1 where it is not there."""
    if kind in (Kind.ANIMAL, Kind.CORAL):
        own = np.flatnonzero(tables.animal_world < 0).tolist()
        return next((row for row in own if tables.label(Kind.ANIMAL, row) == name), -1)
    if kind is Kind.PLACE:
        return next((row for row in range(tables.place_count) if tables.label(kind, row) == name), -1)
    if kind in LISTED:
        shared = np.flatnonzero(tables.listing(kind).world < 0).tolist()
        return next((row for row in shared if tables.label(kind, row) == name), -1)
    return -1


# --- what is said of it ----------------------------------------------------------------


def told(reason: Reason, library: Library) -> Reason:
    """Return a reason as accepted, with the keeper's own ground and the days left."""
    lines = [
        f"you accepted this{short_text(edit)}{_when(edit)}"
        f"{days_text(replace(edit, on=''), library.on)}{_why(edit)}"
        for edit in accepts_of(library, reason.rule)
        if same_things(edit, reason)
    ]
    return reason.model_copy(update={"verdict": Verdict.ACCEPTED, "house": (*reason.house, *lines)})


def told_lapsed(reason: Reason, library: Library) -> Reason:
    """Return a reason that speaks, with why an accept of just this does not cover it."""
    if reason.verdict not in (Verdict.FAILS, Verdict.UNDECIDED):
        return reason
    lines = [
        f"your accept of this{short_text(edit)} does not cover it: {_uncovered(edit, reason)}"
        for edit in accepts_of(library, reason.rule)
        if same_things(edit, reason)
    ]
    lines += [
        f"your accept of this {lapse_text(aside)}"
        for aside in library.aside
        if aside.edit.verb is HouseVerb.ACCEPT
        and aside.edit.target == reason.rule
        and same_things(aside.edit, reason)
    ]
    return reason.model_copy(update={"house": (*reason.house, *lines)}) if lines else reason


def _uncovered(edit: HouseEdit, reason: Reason) -> str:
    """Why an accept that counts does not cover a reason about the same things."""
    now = shortfall(reason)
    was = edit.short
    if was is None or now is None or now.unit != was.unit or now.value <= was.value:
        return "it lapses where one of them is moved"
    return f"this is {short_now(reason)} short"


def lapse_text(aside: Aside) -> str:
    """Return why an accept does not count, as the end of a sentence."""
    match aside.kind:
        case AsideKind.RAN_OUT:
            return f"ran out on {day_name(date.fromisoformat(aside.edit.until))}"
        case AsideKind.BARE:
            return f"does not count: {aside.told}"
        case AsideKind.NOT_YET:
            return f"counts from {day_name(date.fromisoformat(aside.edit.on))} on"
        case _:
            return f"has lapsed: {aside.told}"


def short_text(edit: HouseEdit) -> str:
    """Return at what shortfall something was accepted; empty where that is not said."""
    if edit.short is None:
        return ""
    return f" at {format_number(edit.short.value)} {edit.short.unit} short".replace("  ", " ")


def _when(edit: HouseEdit) -> str:
    """The day something was accepted; empty where that is not said."""
    return f" on {day_name(date.fromisoformat(edit.on))}" if edit.on else ""


def _why(edit: HouseEdit) -> str:
    """The keeper's reason."""
    return f": {edit.because}" if edit.because else ""


def same_things(edit: HouseEdit, reason: Reason) -> bool:
    """Return whether an accept and a reason are about the same things, in the same order."""
    return edit.entities == things_of(reason)


def things_of(reason: Reason) -> tuple[str, ...]:
    """Return what an accept of a reason names: all it is about but the tank itself."""
    return tuple(subject for subject in reason.subjects if subject != TANK_SUBJECT)


def short_now(reason: Reason) -> str:
    """Return how far short a reason is, in words."""
    found = shortfall(reason)
    return "not known how far" if found is None else f"{format_number(found.value)} {found.unit}".rstrip()


def shortfall(reason: Reason) -> Number | None:
    """Return how far short a reason is at worst, rounded up; None where it compares no amounts."""
    margin = reason.margin
    if margin is not None:
        return Number(Span(""), _worst(margin), margin.unit)
    if reason.margin_steps is not None:
        return Number(Span(""), _rounded_up(-reason.margin_steps), STEPS)
    return None


def _worst(margin: Value) -> float:
    """The shortfall of a margin: of its best value, or where there is none of its lower end."""
    number = margin.best if margin.best is not None else margin.low
    return math.inf if number is None else _rounded_up(-number)


def _rounded_up(number: float) -> float:
    """A shortfall to one digit behind the point, never less than it is."""
    return max(0.0, math.ceil(number * 10.0 - _TINY) / 10.0)
