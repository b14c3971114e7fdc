"""Where a coral should go: tonight, and for good."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from advisor.language.nodes import Compare
from advisor.model.changes import Add
from advisor.model.results import CoralSummary, Need, PlaceAnswer, Reason, Verdict, WhereAnswer, Word
from advisor.model.tank import Phase
from advisor.planning.cautions import cautions_with
from advisor.planning.desk import Desk, Subject, gates_of, subject_named, summary_of
from advisor.planning.grid import few_of_grid
from advisor.planning.house_loosened import Question, loosened
from advisor.planning.house_report import house_lines_here
from advisor.planning.pick import (
    main_measure,
    needs_of,
    reasons_by_world,
    upper_end,
    weakest_point,
    without_echoes,
    without_open_advice,
)
from advisor.planning.place import house_lines, is_advice_for_the_tank, place_answer
from advisor.planning.rounds import Round, free_spots, judged, sitting_for
from advisor.planning.tonight import tonight as first_night
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.judge import FAILS
from advisor.reasoning.survey import Survey

EXPLAINED = (3, 3, 3, 6, 12)
"""Places of a ranking that carry their reasons, by level; the rest carry their word and rank."""

ASKED_ABOUT = 3
"""Best places whose open questions are asked: answers about the rest would change little."""

FIX_FIRST = (
    "put nothing into this tank until what stands above is mended; keep it in a tub of clean salt water "
    "of the same temperature, moving and dim"
)


def where(desk: Desk, coral: str, *, level: int = 1) -> WhereAnswer:
    """Return where a coral should go.

    Parameters
    ----------
    coral
        Id or name of an animal of the tank, or a coral by its name.
    level
        How deep the answer is going to be read; from 2 on reasons carry their steps.

    Raises
    ------
    UnusableInput
        If nobody knows the coral.
    """
    subject = subject_named(desk, coral)
    free, full = free_spots(desk, subject)
    now_on = subject.animal.spot if subject.placed else ""  # how it does there is asked with why
    lasting = tuple(spot for spot in free if not spot.temporary and spot.id != now_on)
    survey, sitting = sitting_for(desk, subject, free, sees_far=level < 4)
    for_good = judged(desk, free, sitting)
    gates = gates_of(desk, sitting, about_world=True, level=level)
    order = [(rank, item) for rank, item in for_good.order if for_good.spot(item) in lasting]
    order, looked_at = few_of_grid(order, for_good.spot)
    told = [item.world for _, item in order[: EXPLAINED[min(level, len(EXPLAINED) - 1)]]]
    reasons = reasons_by_world(told, for_good.table, for_good.planes, sitting, subject.animal.id, level)
    places = [
        place_answer(desk, for_good, rank, item, subject, reasons.get(item.world, ()), level)
        for rank, item in order
    ]
    tonight, note = (None, "") if subject.placed else first_night(desk, for_good, subject, level, places)
    if any(gate.level == "danger" and gate.verdict is Verdict.FAILS for gate in gates):
        tonight, note = None, "" if subject.placed else FIX_FIRST
    named = sum(not spot.sampled for spot in desk.tank.spots)
    taken = (f"{full} of {named} spots already taken",) if full else ()
    stays = (f"it stands on {now_on} now: why {subject.animal.id}",) if now_on else ()
    own_lines = house_lines(places[0].reasons if places else ())
    crowded = () if subject.placed or not told else _for_the_tank(reasons[told[0]])
    notes = (*stays, *own_lines, *house_lines_here(desk, sitting), *looked_at, *taken, *crowded)
    weakest = weakest_point(places[0].reasons) if places else ""
    duties = [duty for each in (tonight, *places[:1]) if each is not None for duty in each.duties]
    return WhereAnswer(
        question="where",
        tank=desk.tank.name,
        on=desk.on,
        horizon_months=desk.horizon_months,
        cautions=cautions_with(desk, subject, duties),
        gates=gates,
        weakest=weakest,
        coral=_summary(desk, subject, survey),
        tonight=tonight,
        tonight_note=note,
        places=tuple(places),
        no_counts=_no_counts(for_good, places),
        needs=_needs(places),
        notes=notes,
        loosened=loosened(
            desk,
            sitting,
            Question(
                {at: spot.id for at, spot in enumerate(free, 1) if spot.id != now_on}, subject.animal.id
            ),
        ),
    )


def _needs(places: Sequence[PlaceAnswer]) -> tuple[Need, ...]:
    """What to ask next, the same at every level: what settles the best place first, then the next ones."""
    open_places = [place for place in places[:ASKED_ABOUT] if place.word is not Word.NO]
    told = [without_echoes(without_open_advice(place.reasons)) for place in open_places]
    first = needs_of(told[0]) if told else ()
    asked = {need.ask for need in first}
    rest = needs_of(reason for reasons in told for reason in reasons)
    return (*first, *(need for need in rest if need.ask not in asked))


def _summary(desk: Desk, subject: Subject, survey: Survey) -> CoralSummary:
    """Who is asked about; where no spot is free, as it would come into the tank."""
    own = np.flatnonzero(survey.animal_world >= 0)
    if len(own):
        return summary_of(desk, subject, survey, int(own[0]))
    if subject.placed:
        return summary_of(desk, subject, survey, survey.animal_row(subject.animal.id))
    alone = desk.survey([(Add(subject.animal),)], {subject.animal.id: subject.choice})
    return summary_of(desk, subject, alone, alone.animal_row(subject.animal.id, 1))


def where_each(desk: Desk, corals: Sequence[str], *, level: int = 1) -> list[WhereAnswer]:
    """Return where each of several corals should go, every one reckoning with those before it.

    Those before it stand, for it, where they go tonight, so that no two are
    sent to one place and none into the reach of another.
    """
    out = []
    for coral in corals:
        answer = where(desk, coral, level=level)
        out.append(answer)
        if answer.tonight is not None and not answer.coral.not_in_tank:
            desk = _with_standing(desk, answer.coral.id, answer.tonight.place)
    return out


def _with_standing(desk: Desk, animal_id: str, spot: str) -> Desk:
    """The desk of the same tank with one waiting animal standing on a spot."""
    animals = tuple(
        animal.model_copy(update={"spot": spot, "phase": Phase.TRIAL, "placed_on": desk.on})
        if animal.id == animal_id
        else animal
        for animal in desk.tank.animals
    )
    return replace(desk, tank=desk.tank.model_copy(update={"animals": animals}))


def _for_the_tank(reasons: Sequence[Reason]) -> tuple[str, ...]:
    """What advice about the whole tank says to one who thinks of putting another animal in."""
    told = [each for each in reasons if is_advice_for_the_tank(each) and each.verdict is Verdict.FAILS]
    return tuple(f"whatever the place: {each.sentence}" for each in told)


def _no_counts(found: Round, places: Sequence[PlaceAnswer]) -> tuple[tuple[int, str], ...]:
    """How many places are out, grouped by the danger that fails there first."""
    out = {place.place for place in places if place.word is Word.NO}
    counts: Counter[str] = Counter()
    for _, item in found.order:
        if found.spot(item).id not in out:
            continue
        here = (found.table.world == item.world) & (found.table.verdict == FAILS) & (found.table.level == 0)
        rows = np.flatnonzero(here)
        first = min(rows, key=lambda row: (float(found.table.steps[row]), int(found.table.plane[row])))
        counts[_short(found.planes[int(found.table.plane[first])].compiled)] += 1
    order = sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple((count, text) for text, count in order)


def _short(compiled: CompiledRule) -> str:
    """Why a rule turns a place down, in three words."""
    measure = main_measure(compiled)
    if isinstance(compiled.rule.expect, Compare):
        return f"for too {'much' if upper_end(compiled) else 'little'} {measure.replace('-', ' ')}"
    return f"by {compiled.rule.name}"
