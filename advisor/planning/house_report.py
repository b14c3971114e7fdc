"""What the keeper's house lines come to in one tank: those that match nothing, and rules that are off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.language.house_rules import asked_of
from advisor.language.library import AsideKind, Library
from advisor.language.nodes import HouseEdit, HouseVerb, Level
from advisor.model.results import Reason
from advisor.model.tank import Phase, Tank
from advisor.model.vocabulary import LISTED, Kind
from advisor.planning.accepts import (
    accepts_of,
    bound,
    lapse_text,
    most_steps,
    nobody_knows,
    over_by,
    short_now,
    short_text,
    shortfall_steps,
    uncovered,
)
from advisor.planning.bench import RulePlane, Sitting
from advisor.planning.desk import Desk
from advisor.reasoning.columns import Bools
from advisor.reasoning.house_notes import days_text, edit_words
from advisor.reasoning.judge import ACCEPTED, FAILS, UNDECIDED
from advisor.reasoning.survey_worlds import listed_in

TAKE_IT_OUT = "take it out"


@dataclass(frozen=True, slots=True)
class Unmatched:
    """A house line that comes to nothing in this tank, and why."""

    edit: HouseEdit
    why: str

    @property
    def text(self) -> str:
        """What is said of it in an answer."""
        edit = self.edit
        match edit.verb:
            case HouseVerb.ACCEPT:
                what = f"your accept of {edit.target} for {' and '.join(edit.entities) or 'the tank'}"
            case HouseVerb.SWITCH_OFF:
                what = f"your line that switches off {edit.target}"
            case HouseVerb.LEVEL:
                what = f"your change of the level of {edit_words(edit)}"
            case _:
                what = f"your change of {edit_words(edit)}"
        return f"{what} {self.why}"


def house_lines_here(desk: Desk, sitting: Sitting) -> tuple[str, ...]:
    """Return what every answer says of the house file: lines that match nothing here, rules that are off."""
    return (*(item.text for item in unmatched(desk, sitting)), *switched_off(desk.library))


def unmatched(desk: Desk, sitting: Sitting) -> tuple[Unmatched, ...]:
    """Return the house lines that come to nothing in this tank, in an order of their own."""
    library, tank = desk.library, desk.tank
    out = [
        Unmatched(edit, why)
        for edit in library.house
        if edit.verb is HouseVerb.CHANGE_CARD and (why := _nobody(edit, desk))
    ]
    for aside in library.aside:
        if aside.kind is AsideKind.BARE:
            out.append(Unmatched(aside.edit, f"{lapse_text(aside)}; audit --level 2 prints the whole line"))
        elif aside.edit.verb is HouseVerb.ACCEPT or aside.kind in (AsideKind.FAULTY, AsideKind.RAN_OUT):
            out.append(Unmatched(aside.edit, lapse_text(aside)))
    accepts = accepts_of(library)
    missing = {edit: why for edit in accepts if (why := _not_here(edit, library, tank))}
    planes = _planes(desk, sitting, [edit.target for edit in accepts if edit not in missing])
    for edit in accepts:
        why = missing.get(edit) or _not_met(edit, planes[edit.target], sitting)
        if why:
            out.append(Unmatched(edit, why))
    return tuple(out)


def lapsed_by_moves(library: Library, animal: str) -> tuple[str, ...]:
    """Return what was accepted of an animal and counts no longer, by a move of it or another."""
    return tuple(
        Unmatched(aside.edit, lapse_text(aside)).text
        for aside in library.aside
        if aside.kind is AsideKind.MOVED and animal in aside.edit.entities
    )


def accepted_here(desk: Desk, sitting: Sitting, *, level: int) -> list[Reason]:
    """Return every finding of the tank as it stands that the keeper has accepted, of rules of any stage."""
    names = [edit.target for edit in accepts_of(desk.library)]
    out: list[Reason] = []
    for plane in _planes(desk, sitting, names).values():
        at = np.flatnonzero((plane.now.verdict == ACCEPTED) & (plane.now.bindings.worlds == 0)).tolist()
        out += sitting.reasons(plane, at, level=level)
    return out


def switched_off(library: Library) -> tuple[str, ...]:
    """Return which rules that are no dangers are off, and why, in one line; see `house_loosened`."""
    off = [edit for edit in _off(library) if not is_danger_off(edit, library)]
    if not off:
        return ()
    each = (
        f"{edit.target}{days_text(edit, library.on)}{f': {edit.because}' if edit.because else ''}"
        for edit in off
    )
    return (f"switched off by your house file: {'; '.join(each)}",)


def _off(library: Library) -> list[HouseEdit]:
    """The lines that switch something off."""
    return [edit for edit in library.house if edit.verb is HouseVerb.SWITCH_OFF]


def is_danger_off(edit: HouseEdit, library: Library) -> bool:
    """Return whether a line switches off what is shipped as a danger."""
    rule = library.shipped.rules.get(edit.target)
    return edit.verb is HouseVerb.SWITCH_OFF and rule is not None and rule.level is Level.DANGER


def _planes(desk: Desk, sitting: Sitting, names: Sequence[str]) -> dict[str, RulePlane]:
    """Some rules as they stand now, by name."""
    rules = [compiled for compiled in desk.bench.rules if compiled.rule.name in names]
    return {plane.compiled.rule.name: plane for plane in sitting.judge(rules, ahead=False)}


def _nobody(edit: HouseEdit, desk: Desk) -> str:
    """Why a change of a card for one animal touches none of this tank; empty if it does."""
    if not edit.animal:
        return ""
    if edit.animal not in {animal.id for animal in desk.tank.animals}:
        return f"matches nothing: this tank has no {edit.animal}"
    cards = desk.cards[edit.animal].cards if edit.animal in desk.cards else ()
    if edit.target in cards:
        return ""
    return f"matches nothing: {edit.animal} is read from card {' or '.join(cards) or 'none'}"


def _not_here(edit: HouseEdit, library: Library, tank: Tank) -> str:
    """Why an accept cannot occur in this tank; empty if it may."""
    rule = library.rules.get(edit.target)
    if rule is None:
        return "matches nothing: that rule is switched off"
    animals = {animal.id: animal for animal in tank.animals}
    places = {spot.id for spot in tank.spots}
    for binder, name in zip(asked_of(rule), edit.entities, strict=True):
        if binder.kind is Kind.PLACE:
            if name not in places:
                return f"matches nothing: this tank has no place called {name}"
        elif binder.kind in LISTED:
            if name not in listed_in(tank)[binder.kind]:
                return f"matches nothing: this tank has no {binder.kind.value} called {name}"
        elif name not in animals:
            return f"matches nothing: this tank has no {name}"
        elif animals[name].phase is Phase.WAITING:
            return f"matches nothing: {name} stands nowhere yet"
    return ""


def _not_met(edit: HouseEdit, plane: RulePlane, sitting: Sitting) -> str:
    """Why an accept covers nothing now, or more than there is; empty if it is as it says."""
    now = plane.now
    if most_steps(edit, plane.compiled) is None:
        return f"does not count:{short_text(edit)} is not what the rule is measured in"
    here = bound(now, plane.compiled, sitting.tables, edit) & (now.bindings.worlds == 0)
    covered = here & (now.verdict == ACCEPTED)
    speaks = here & np.isin(now.verdict, (FAILS, UNDECIDED))
    if covered.any():
        return _too_much(edit, plane, sitting, covered)
    if not speaks.any():
        return f"matches nothing now: nothing is wrong there; {TAKE_IT_OUT}"
    above = _too_much(edit, plane, sitting, speaks)
    reason = _worst(plane, sitting, speaks)
    return above or f"has lapsed: it was accepted{short_text(edit)}, and {uncovered(edit, reason)}"


def _too_much(edit: HouseEdit, plane: RulePlane, sitting: Sitting, where: Bools) -> str:
    """That an accept says more than there is, so that it would not lapse; empty if it does not."""
    if nobody_knows(plane.now)[where].any() or not over_by(edit, plane.now, plane.compiled, where):
        return ""
    danger = plane.level is Level.DANGER
    lapses = "does not count" if danger else "would not lapse when it gets worse"
    return f"{lapses}: it says{short_text(edit)}, and is {short_now(_worst(plane, sitting, where))} short"


def _worst(plane: RulePlane, sitting: Sitting, where: Bools) -> Reason:
    """The reason of those bindings that falls short most."""
    rows = np.flatnonzero(where)
    short = np.nan_to_num(shortfall_steps(plane.now)[rows])
    return sitting.reasons(plane, [int(rows[np.argmax(short)])])[0]
