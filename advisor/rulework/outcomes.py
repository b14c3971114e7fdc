"""What a set of rules says of examples, of a tank as it stands, and of the places for those that wait."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Protocol

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Example, Rule
from advisor.model.difference import Side
from advisor.model.results import Value, Verdict, Word
from advisor.model.tank import Phase, Tank
from advisor.planning.bench import RulePlane, Sitting, comes_later
from advisor.planning.desk import Desk, subject_named
from advisor.planning.place import light_step_rules, word_of
from advisor.planning.rounds import Round, free_spots, judged, sitting_for
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import Trial, rule_of, try_out
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import FAILS, UNDECIDED, VERDICTS, frame_of
from advisor.reasoning.reasons import LEANS
from advisor.reasoning.record import Row, margin_of
from advisor.rulework.desks import desk_with

NOWHERE_TO_GO = "no place"
ADVICE = 2
"""Levels from this number on do not turn a place down."""
LATER = "fails later"
"""The answer of a rule that holds today and fails within the horizon."""


class Teller(Protocol):
    """Puts one answer into words."""

    def __call__(self, *, full: bool) -> tuple[str, str]:
        """Return the answer with its amount, and (`full`) the sentence of its rule."""


@dataclass(frozen=True, slots=True, order=True)
class Asked:
    """One thing that two sets of rules are asked about."""

    about: str
    """``example``, ``tank`` or ``place``."""
    rule: str
    """The rule; of a place empty."""
    subjects: tuple[str, ...]
    tank: str = ""


@dataclass(slots=True)
class Outcomes:
    """Answers by what was asked; what is printed of them is worked out when it is asked for."""

    sides: dict[Asked, Side] = field(default_factory=dict)
    levels: dict[Asked, str] = field(default_factory=dict)
    tellers: dict[Asked, Teller] = field(default_factory=dict)

    def told(self, asked: Asked, *, full: bool = True) -> tuple[Side, str]:
        """Return an answer with its amount in words, and (`full`) the sentence of its rule."""
        side = self.sides.get(asked, Side(answer=""))
        teller = self.tellers.get(asked)
        if teller is None:
            return side, ""
        told, sentence = teller(full=full)
        return side.model_copy(update={"told": told}), sentence


def without_other_rules(library: Library, names: Collection[str] | None) -> Library:
    """Return a library with the named rules and no others; all of them for None."""
    if names is None:
        return library
    kept: dict[str, Rule] = {name: rule for name, rule in library.rules.items() if name in names}
    return replace(library, rules=kept, prefers={})


# --- examples -------------------------------------------------------------------------


def of_examples(
    library: Library, examples: Sequence[Example], rules: Collection[str] | None = None
) -> Outcomes:
    """Return what every outcome of some examples comes out as; of rules that are not there nothing."""
    found = Outcomes()
    about: dict[str, list[Example]] = {}
    for example in examples:
        if rules is None or example.rule in rules:
            about.setdefault(example.rule, []).append(example)
    for name, own in about.items():
        rule = rule_of(name, library)
        if rule is None or rule.expect is None:
            continue
        trial = try_out(compile_rule(rule, library), own, library)
        for at, case in enumerate(trial.cases):
            month = (f"month {case.then.month:g}",) if case.then.month else ()
            asked = Asked("example", name, (case.example.title, *case.then.entities, *month))
            verdict = trial.verdict(at)
            found.sides[asked] = Side(
                answer=verdict.value,
                margin_steps=_finite(float(trial.plane.best[at])),
                lean=_lean(int(trial.plane.lean[at])) if verdict is Verdict.UNDECIDED else "",
            )
            found.levels[asked] = rule.level.value
            found.tellers[asked] = _trial_teller(trial, at)
    return found


def _trial_teller(trial: Trial, at: int) -> Teller:
    """How one outcome of an example is told."""

    def tell(*, full: bool) -> tuple[str, str]:
        del full  # an example has no sentence of its own
        verdict = trial.verdict(at)
        op = trial.compiled.expect
        margin = None if op is None else margin_of(op, Row(trial.frame, at))[0]
        lean = LEANS[int(trial.plane.lean[at])] if verdict is Verdict.UNDECIDED else ""
        return in_words(verdict, margin, trial.plane.causes()[at], lean), ""

    return tell


def in_words(verdict: Verdict, margin: Value | None, cause: str, lean: str) -> str:
    """Return a verdict with its amount: ``holds by 3 cm``, ``undecided (missing), leans yes``."""
    if verdict is Verdict.UNDECIDED:
        why = f" ({cause})" if cause else ""
        return f"undecided{why}" + (f", leans {lean}" if lean in ("yes", "no") else "")
    if verdict in (Verdict.HOLDS, Verdict.FAILS) and margin is not None and margin.best is not None:
        return f"{verdict.value} by {float(f'{abs(margin.best):.3g}'):g} {margin.unit}".rstrip()
    return verdict.value


def _lean(lean: int) -> str:
    """Which way an undecided verdict leans; empty where it leans neither way."""
    return LEANS[lean] if LEANS[lean] in ("yes", "no") else ""


def _finite(steps: float) -> float | None:
    """A margin, None where there is none. [steps]"""
    return steps if np.isfinite(steps) else None


# --- a tank as it stands --------------------------------------------------------------


def of_tank(tank: Tank, library: Library, on: date, rules: Collection[str] | None = None) -> Outcomes:
    """Return every verdict about a tank as it stands, of all rules or of some."""
    desk = desk_with(tank, without_other_rules(library, rules), on)
    sitting = desk.sit(desk.survey())
    found = Outcomes()
    for plane in sitting.judge(desk.bench.rules):
        to_come = comes_later(plane)
        frame = _frame_now(plane, sitting)
        for at, subjects in enumerate(_labels(plane, sitting)):
            if plane.now.bindings.worlds[at] != sitting.base_world:
                continue
            asked = Asked("tank", plane.compiled.rule.name, subjects, tank.name)
            verdict = VERDICTS[int(plane.now.verdict[at])]
            still_open = verdict is Verdict.UNDECIDED
            found.sides[asked] = Side(
                answer=LATER if to_come[at] and not still_open else verdict.value,
                margin_steps=_finite(float(plane.now.best[at])),
                lean=_lean(int(plane.now.lean[at])) if still_open else "",
            )
            found.levels[asked] = plane.level.value
            found.tellers[asked] = _plane_teller(plane, sitting, frame, at)
    return found


def _labels(plane: RulePlane, sitting: Sitting) -> list[tuple[str, ...]]:
    """Ids of the things bound, one tuple a binding."""
    rows = plane.now.bindings.rows
    return [
        tuple(
            sitting.tables.label(binder.kind, int(rows[binder.name][at])) for binder in plane.compiled.binders
        )
        for at in range(len(plane.now.bindings))
    ]


def _frame_now(plane: RulePlane, sitting: Sitting) -> Frame:
    """The frame of a rule's bindings as they are today."""
    bindings = plane.now.bindings
    months = np.zeros(len(bindings))
    return frame_of(plane.compiled, sitting.tables, sitting.population, bindings, months)


def _plane_teller(plane: RulePlane, sitting: Sitting, frame: Frame, at: int) -> Teller:
    """How one verdict about a tank is told: in an amount, and (`full`) in the rule's own sentence."""

    def tell(*, full: bool) -> tuple[str, str]:
        op = plane.compiled.expect
        verdict = VERDICTS[int(plane.now.verdict[at])]
        margin = None if op is None else margin_of(op, Row(frame, at))[0]
        lean = LEANS[int(plane.now.lean[at])] if verdict is Verdict.UNDECIDED else ""
        causes = plane.now.causes() if verdict is Verdict.UNDECIDED else {at: ""}
        told = in_words(verdict, margin, causes[at], lean)
        if not full:
            return told, ""
        (reason,) = sitting.reasons(plane, [at])
        ahead = reason.months_ahead
        when = "" if reason.until is None else f", fails in {ahead} month{'' if ahead == 1 else 's'}"
        return told + when, reason.sentence

    return tell


# --- places for those that wait -------------------------------------------------------


def waiting(tank: Tank) -> tuple[str, ...]:
    """Return the ids of the animals that wait for a place."""
    return tuple(animal.id for animal in tank.animals if animal.phase is Phase.WAITING)


def of_places(tank: Tank, library: Library, on: date, corals: Collection[str] | None = None) -> Outcomes:
    """Return the word for every place of every animal that waits, and where each is sent first."""
    found = Outcomes()
    chosen = [coral for coral in waiting(tank) if corals is None or coral in corals]
    desk = desk_with(tank, library, on) if chosen else None
    for coral in chosen:
        if desk is not None:
            _of_coral(coral, desk, found)
    return found


def _of_coral(coral: str, desk: Desk, found: Outcomes) -> None:
    """The places of one animal, best first."""
    subject = subject_named(desk, coral)
    spots = tuple(spot for spot in free_spots(desk, subject)[0] if not spot.temporary)
    best = NOWHERE_TO_GO
    if spots:
        round_ = judged(desk, spots, sitting_for(desk, subject, spots)[1])
        rules = light_step_rules(desk.bench)
        for _, item in round_.order:
            word, place = word_of(round_, item, rules), round_.spot(item).id
            best = place if best == NOWHERE_TO_GO and word is not Word.NO else best
            asked = Asked("place", "", (coral, place), desk.tank.name)
            deciding = _deciding(round_, item.world)
            found.sides[asked] = Side(answer=word.value, told=word.value, reasons=deciding)
    found.sides[Asked("first", "", (coral,), desk.tank.name)] = Side(answer=best, told=best)


def _deciding(found: Round, world: int) -> tuple[str, ...]:
    """The rules that fail or are open at a place, advice aside."""
    table = found.table
    speaking = np.isin(table.verdict, (FAILS, UNDECIDED)) & (table.level < ADVICE) & (table.world == world)
    return tuple(
        sorted({found.planes[int(index)].compiled.rule.name for index in np.unique(table.plane[speaking])})
    )


def joined(parts: Sequence[Outcomes]) -> Outcomes:
    """Return several sets of answers as one."""
    found = Outcomes()
    for part in parts:
        found.sides.update(part.sides)
        found.levels.update(part.levels)
        found.tellers.update(part.tellers)
    return found


Renames = Mapping[str, str]
"""New names of rules by their old ones."""


def called_as_after(found: Outcomes, renames: Renames) -> Outcomes:
    """Return answers with their rules called as in the later set."""
    if not renames:
        return found

    def now(asked: Asked) -> Asked:
        return replace(asked, rule=renames.get(asked.rule, asked.rule))

    return Outcomes(
        {
            now(asked): side.model_copy(
                update={"reasons": tuple(sorted(renames.get(name, name) for name in side.reasons))}
            )
            for asked, side in found.sides.items()
        },
        {now(asked): level for asked, level in found.levels.items()},
        {now(asked): teller for asked, teller in found.tellers.items()},
    )
