"""Findings a keeper has accepted in a house file: which count, where they apply, and when they lapse.

An `accept` binds a rule, the ids of its animals, where they stood and how far
short it was. It lapses when its last day is over (`advisor.language.house_dates`),
when one of the animals is moved, really or only in thought, and when the
shortfall grows by more than one step of its measure. One of something that
nobody has measured lapses as soon as it is. It covers what fails and what is
open, and never takes a finding out of the audit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from advisor.errors import Span
from advisor.language.format_house import STEPS, UNKNOWN
from advisor.language.house_rules import asked_of
from advisor.language.library import Aside, AsideKind, Library
from advisor.language.nodes import HouseEdit, HouseVerb, Level, Number
from advisor.model.results import Reason, Verdict
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
_UNREAD = ("missing", "stale")
"""Why a reason is open where a reading would tell how far short it is."""
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
        if place and _plain(place) not in map(_plain, names - {""}):
            now = next(iter(places_of(animal)), "elsewhere")
            out.append(f"{name} stands {now} now, not {place}")
        elif edit.on and last is not None and last > date.fromisoformat(edit.on):
            out.append(f"{name} was moved on {day_name(last)}")
    return out


def places_of(animal: Animal) -> tuple[str, ...]:
    """Return what tells where an animal stands, in the tank file: spot and position, or else its rock."""
    told = tuple(place for place in (animal.spot, animal.place) if place)
    return told or ((animal.rock,) if animal.rock else ())


def _plain(place: str) -> tuple[str, ...]:
    """A place without what may be written or not: ``20, 35, 28 cm`` is ``20 cm, 35 cm, 28 cm``."""
    return tuple(" ".join(part.lower().removesuffix("cm").split()) for part in place.strip().split(","))


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
        covered |= covers(edit, plane, compiled, bound(plane, compiled, tables, edit))
    return replace(plane, verdict=np.where(covered, ACCEPTED, plane.verdict).astype(np.int8))


def covers(edit: HouseEdit, plane: Plane, compiled: CompiledRule, here: Bools) -> Bools:
    """Return which of the bindings that an accept names it covers.

    It covers what is no more than a step worse than was accepted. Of a danger
    it must be what there is: one accepted at more than a step above what it is
    short by would not lapse when it gets worse, so that it does not count.
    Where a reading is missing nobody knows how far short it is, and only an
    accept that says so covers it, until the reading is taken.
    """
    speaks: Bools = here & np.isin(plane.verdict, (FAILS, UNDECIDED))
    unmeasured = nobody_knows(plane)
    if edit.short is not None and edit.short.unit == UNKNOWN:
        return speaks & unmeasured
    most = most_steps(edit, compiled)
    if most is None:
        return np.zeros(len(plane.bindings), np.bool_)
    # a rule about words has no margin, and nothing that could grow
    worse = shortfall_steps(plane) > most
    found: Bools = speaks & ~worse & (~unmeasured | (edit.short is None))
    if compiled.rule.level is Level.DANGER and over_by(edit, plane, compiled, found) > 0.0:
        return np.zeros(len(plane.bindings), np.bool_)
    return found


def over_by(edit: HouseEdit, plane: Plane, compiled: CompiledRule, found: Bools) -> float:
    """Return by how much more than a step an accept says more than the worst of what it covers; 0 for not.

    [steps]
    """
    most = most_steps(edit, compiled)
    short = shortfall_steps(plane)[found]
    if most is None or not math.isfinite(most) or not len(short) or np.isnan(short).all():
        return 0.0
    return max(0.0, most - 2.0 * (1.0 + _TINY) - float(np.nanmax(short)))


def shortfall_steps(plane: Plane) -> Floats:
    """Return how far short each binding is, 0 where it holds, not a number where nothing is compared.

    Where nothing singles a value out, it is what is sure.
    """
    found = np.where(np.isnan(plane.best), plane.high, plane.best)
    return np.where(np.isnan(found), np.nan, np.maximum(-found, 0.0))


def nobody_knows(plane: Plane) -> Bools:
    """Return where a verdict is open because a reading of the amount itself is missing or too old."""
    found: Bools = (
        (plane.verdict == UNDECIDED) & (plane.flags != 0) & np.isnan(plane.best) & ~np.isnan(plane.low)
    )
    return found


def most_steps(edit: HouseEdit, compiled: CompiledRule) -> float | None:
    """Return beyond which shortfall an accept lapses; None where its unit is none of the rule's.

    One step more than what was accepted still counts. [steps]
    """
    if edit.short is None:
        return math.inf
    if edit.short.unit == UNKNOWN:
        return 0.0
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
        if same_things(edit, reason, library)
    ]
    return reason.model_copy(update={"verdict": Verdict.ACCEPTED, "house": (*reason.house, *lines)})


def told_lapsed(reason: Reason, library: Library) -> Reason:
    """Return a reason that speaks, with why an accept of just this does not cover it."""
    if reason.verdict not in (Verdict.FAILS, Verdict.UNDECIDED):
        return reason
    lines = [
        f"your accept of this{short_text(edit)} does not cover it: {uncovered(edit, reason)}"
        for edit in accepts_of(library, reason.rule)
        if same_things(edit, reason, library)
    ]
    lines += [
        f"your accept of this {lapse_text(aside)}"
        for aside in library.aside
        if aside.edit.verb is HouseVerb.ACCEPT
        and aside.edit.target == reason.rule
        and same_things(aside.edit, reason, library)
    ]
    return reason.model_copy(update={"house": (*reason.house, *lines)}) if lines else reason


def uncovered(edit: HouseEdit, reason: Reason) -> str:
    """Return why an accept that counts does not cover a reason about the same things."""
    now, was = shortfall(reason), edit.short
    if was is None or now is None:
        return "it lapses where one of them is moved"
    if was.unit == UNKNOWN:
        return f"it is measured now, and {short_now(reason)} short"
    if now.unit == UNKNOWN:
        return "a reading is missing, and nobody knows how far short it is now"
    if now.unit != was.unit or now.value != was.value:
        return f"it is {short_now(reason)} short"
    return "it lapses where one of them is moved"


def lapse_text(aside: Aside) -> str:
    """Return why an accept does not count, as the end of a sentence."""
    match aside.kind:
        case AsideKind.RAN_OUT:
            return f"ran out on {day_name(date.fromisoformat(aside.edit.until))}"
        case AsideKind.BARE | AsideKind.FAULTY:
            return f"does not count: {aside.told}"
        case AsideKind.NOT_YET:
            return f"counts from {day_name(date.fromisoformat(aside.edit.on))} on"
        case _:
            return f"has lapsed: {aside.told}"


def short_text(edit: HouseEdit) -> str:
    """Return at what shortfall something was accepted; empty where that is not said."""
    if edit.short is None:
        return ""
    if edit.short.unit == UNKNOWN:
        return " while it was not measured"
    return f" at {format_number(edit.short.value)} {edit.short.unit} short".replace("  ", " ")


def _when(edit: HouseEdit) -> str:
    """The day something was accepted; empty where that is not said."""
    return f" on {day_name(date.fromisoformat(edit.on))}" if edit.on else ""


def _why(edit: HouseEdit) -> str:
    """The keeper's reason."""
    return f": {edit.because}" if edit.because else ""


def same_things(edit: HouseEdit, reason: Reason, library: Library) -> bool:
    """Return whether an accept and a reason are about the same things, in the same order."""
    return edit.entities == things_of(reason, library)


def things_of(reason: Reason, library: Library) -> tuple[str, ...]:
    """Return what an accept of a reason names: not the tank itself, and no weapon beside its animal."""
    return named_of(reason.rule, reason.subjects, library)


def named_of(rule_name: str, subjects: Sequence[str], library: Library) -> tuple[str, ...]:
    """Return those subjects of a rule that an accept of it names, in the order of the rule."""
    rule = library.rules.get(rule_name)
    if rule is None:
        return tuple(subject for subject in subjects if subject != TANK_SUBJECT)
    named = asked_of(rule)
    pairs = zip(rule.binders, subjects, strict=True)
    return tuple(subject for binder, subject in pairs if binder in named)


def short_now(reason: Reason) -> str:
    """Return how far short a reason is, in words."""
    found = shortfall(reason)
    if found is None or found.unit == UNKNOWN:
        return "not known how far"
    return f"{format_number(found.value)} {found.unit}".rstrip()


def shortfall(reason: Reason) -> Number | None:
    """Return how far short a reason is, rounded up; None where it compares no amounts.

    Where a reading is missing nobody knows; where nothing singles a value out
    it is what is sure.
    """
    margin, steps = reason.margin, reason.margin_steps
    if reason.cause in _UNREAD and steps is None and margin is not None:
        return Number(Span(""), 0.0, UNKNOWN)
    if margin is not None:
        number = margin.best if margin.best is not None else margin.high
        size = abs(number / steps) if number and steps else 1.0  # of one step
        return None if number is None else Number(Span(""), _rounded_up(number, size), margin.unit)
    return None if steps is None else Number(Span(""), _rounded_up(steps, 1.0), STEPS)


def _rounded_up(margin: float, step: float) -> float:
    """A shortfall to a tenth of a step, never less than it is."""
    digits = max(0, 1 - math.floor(math.log10(step)))
    scale = 10.0**digits
    return round(max(0.0, math.ceil(-margin * scale - _TINY) / scale), digits)
