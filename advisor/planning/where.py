"""Where a coral should go: tonight, and for good."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from advisor.language.nodes import Compare, Level, Stage
from advisor.model.changes import Add, Change, Move, Remove
from advisor.model.results import Comfort, CoralSummary, Need, PlaceAnswer, Reason, Verdict, WhereAnswer, Word
from advisor.model.tank import Phase, Spot
from advisor.planning.accepts import TANK_SUBJECT
from advisor.planning.bench import Bench, RulePlane, Sitting
from advisor.planning.cautions import cautions_with
from advisor.planning.desk import Desk, Subject, gates_of, subject_named, summary_of
from advisor.planning.fold import Standing, Table, comforts_of, holding, ranked, standings, table_of
from advisor.planning.grid import few_of_grid
from advisor.planning.house_loosened import Question, loosened
from advisor.planning.house_report import house_lines_here
from advisor.planning.pick import (
    duties_of,
    main_measure,
    needs_of,
    reasons_by_world,
    upper_end,
    weakest_point,
    without_echoes,
    without_open_advice,
)
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.judge import FAILS, UNDECIDED
from advisor.reasoning.record import every_cell
from advisor.reasoning.survey import Survey

EXPLAINED = (3, 3, 3, 6, 12)
"""Places of a ranking that carry their reasons, by level; the rest carry their word and rank."""

ASKED_ABOUT = 3
"""Best places whose open questions are asked: answers about the rest would change little."""

FIX_FIRST = (
    "put nothing into this tank until what stands above is mended; keep it in a tub of clean salt water "
    "of the same temperature, moving and dim"
)

WHERE_IT_STANDS = "where-it-stands"
"""What the place of an animal is called that stands on no spot."""

BOX = "leave it in a breeding box or on a rack of its own, dim, in moving tank water, and look again tomorrow"
NO_PLACE_TONIGHT = f"no place here is safe tonight: {BOX}"
NO_SPOT = f'no spot of this tank is told yet (advisor tank add spot NAME --at "left, back, high"): {BOX}'


@dataclass(frozen=True, slots=True, eq=False)
class Round:
    """One question's worlds judged: candidate spots, planes, table, standings."""

    spots: tuple[Spot, ...]
    sitting: Sitting
    planes: list[RulePlane]
    table: Table
    comforts: list[list[Comfort]]
    order: list[tuple[int, Standing]]

    def spot(self, standing: Standing) -> Spot:
        """Return the spot a world stands for."""
        return self.spots[standing.world - 1]


def change_for(subject: Subject, spot: Spot) -> Change:
    """Return the change that puts an animal on a spot."""
    if subject.placed:
        return (Move(subject.animal.id, spot.id),)
    return (Add(subject.animal, spot.id),)


def free_spots(desk: Desk, subject: Subject) -> tuple[tuple[Spot, ...], int]:
    """Return the spots with room for one more, the animal itself not counted, and how many are full."""
    holders = Counter(
        animal.spot
        for animal in desk.tank.animals
        if animal.spot and animal.id != subject.animal.id and animal.phase.value != "waiting"
    )
    free = tuple(spot for spot in desk.tank.spots if holders[spot.id] < spot.holds)
    return free, len(desk.tank.spots) - len(free)


def survey_for(desk: Desk, subject: Subject, changes: Sequence[Change]) -> Survey:
    """Return the tables with one world per change; of an animal of the tank a last one without it."""
    away: tuple[Change, ...] = ((Remove(subject.animal.id),),) if subject.placed else ()
    return desk.survey((*changes, *away), {subject.animal.id: subject.choice})


def sitting_for(
    desk: Desk, subject: Subject, spots: Sequence[Spot], *, sees_far: bool = False
) -> tuple[Survey, Sitting]:
    """Return the tables with one world per spot, the animal put there, and the bench before them."""
    survey = survey_for(desk, subject, [change_for(subject, spot) for spot in spots])
    return survey, desk.sit(survey, base_world=len(spots) + 1 if subject.placed else 0, sees_far=sees_far)


def judged(desk: Desk, spots: tuple[Spot, ...], sitting: Sitting) -> Round:
    """Return the worlds of a question judged by every rule for a place for good, and ranked."""
    return ranking(desk, spots, sitting, sitting.judge(desk.bench.at((Stage.ALWAYS, Stage.SETTLED))))


def judged_tonight(desk: Desk, found: Round) -> Round:
    """Return the same worlds judged for a first night: without what only matters later."""
    always = [
        RulePlane(plane.compiled, plane.now, None)
        for plane in found.planes
        if plane.compiled.rule.stage is Stage.ALWAYS
    ]
    tonight = found.sitting.judge(desk.bench.at((Stage.TONIGHT,)), ahead=False)
    return ranking(desk, found.spots, found.sitting, [*always, *tonight])


def ranking(desk: Desk, spots: tuple[Spot, ...], sitting: Sitting, planes: list[RulePlane]) -> Round:
    """Return judged worlds folded and ranked."""
    table = table_of(planes, sitting)
    comforts = comforts_of(desk.bench.prefers, sitting)
    order = ranked(standings(table, len(spots) + 1, comforts), ["", *(spot.id for spot in spots)])
    return Round(spots, sitting, planes, table, comforts, order)


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
    tonight, note = (None, "") if subject.placed else _tonight(desk, for_good, subject, level, places)
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


def place_answer(
    desk: Desk,
    found: Round,
    rank: int,
    item: Standing,
    subject: Subject,
    reasons: tuple[Reason, ...],
    level: int,
    *,
    both_ways: bool = False,
) -> PlaceAnswer:
    """Return one place of a ranking with its reasons."""
    spot = found.spot(item)
    rules = light_step_rules(desk.bench)
    light_steps = getting_used(reasons, rules)
    duties = duties_of(reason for reason in reasons if reason.rule not in rules)
    holds = int(np.count_nonzero(holding(found.table) & (found.table.world == item.world)))
    of_place = [reason for reason in reasons if not _is_advice_for_the_tank(reason)]
    brief = without_echoes(without_open_advice(of_place), both_ways=both_ways)
    shown = tuple(brief) if level < 2 else reasons
    return PlaceAnswer(
        place=spot.id or WHERE_IT_STANDS,
        name=spot.name,
        word=word_of(found, item, rules),
        rank=rank,
        reasons=shown,
        comforts=tuple(found.comforts[item.world]),
        duties=duties,
        changes=_changes(of_place, subject.animal.id),
        holds=holds,
        light_steps=light_steps,
    )


def word_of(found: Round, item: Standing, rules: frozenset[str]) -> Word:
    """Return the answer for a place; a plain yes that asks for steps in light is a slow one.

    Parameters
    ----------
    rules
        The rules that compare a place's light with what an animal is used to.
    """
    stepping = [index for index, plane in enumerate(found.planes) if plane.compiled.rule.name in rules]
    table = found.table
    slow = (table.world == item.world) & (table.verdict == FAILS) & np.isin(table.plane, stepping)
    return Word.YES_SLOWLY if item.word is Word.YES and slow.any() else item.word


def light_step_rules(bench: Bench) -> frozenset[str]:
    """Return the rules that compare a place's light with what an animal is used to."""
    return frozenset(
        compiled.rule.name
        for compiled in bench.rules
        if compiled.expect is not None
        and any(cell.name == "origin-light" for cell in every_cell(compiled.expect))
    )


def getting_used(reasons: Sequence[Reason], rules: frozenset[str]) -> str:
    """Return what must be done about the step in light; empty if nothing."""
    steps = next(
        (reason for reason in reasons if reason.rule in rules and reason.verdict is Verdict.FAILS), None
    )
    return "" if steps is None else "; ".join(steps.duties) or steps.remedy


def _is_advice_for_the_tank(reason: Reason) -> bool:
    """Whether advice speaks of the tank alone: no place makes it better or worse."""
    return reason.level == "advice" and reason.subjects == (TANK_SUBJECT,)


def _for_the_tank(reasons: Sequence[Reason]) -> tuple[str, ...]:
    """What advice about the whole tank says to one who thinks of putting another animal in."""
    told = [each for each in reasons if _is_advice_for_the_tank(each) and each.verdict is Verdict.FAILS]
    return tuple(f"whatever the place: {each.sentence}" for each in told)


def _changes(reasons: Sequence[Reason], about: str) -> tuple[str, ...]:
    """What a place would change for others: reasons in which the coral is not the subject."""
    return tuple(
        reason.sentence
        for reason in reasons
        if reason.verdict is Verdict.FAILS and about not in reason.subjects
    )


def _tonight(
    desk: Desk, for_good: Round, subject: Subject, level: int, places: Sequence[PlaceAnswer]
) -> tuple[PlaceAnswer | None, str]:
    """The safest place for the first night, judged without what only matters later."""
    if not for_good.order:
        return None, NO_SPOT if not desk.tank.spots else f"no spot is free: {BOX}"
    found = judged_tonight(desk, for_good)
    rank, item = _calmest(found, next((place.place for place in places if place.word is not Word.NO), ""))
    reasons = reasons_by_world(
        [item.world], found.table, found.planes, found.sitting, subject.animal.id, level
    )[item.world]
    answer = place_answer(desk, found, rank, item, subject, reasons, level)
    if item.word is Word.NO:
        return None, NO_PLACE_TONIGHT
    return answer, _note_for_tonight(answer)


def _note_for_tonight(answer: PlaceAnswer) -> str:
    """What must be said of a place for a first night: what fails there, or that something is not known."""
    against = [each for each in answer.reasons if speaks_against(each)]
    if against:
        perhaps = "" if against[0].verdict is Verdict.FAILS else "perhaps "
        more = f" (and {len(against) - 1} more)" if len(against) > 1 else ""
        return f"but {perhaps}{against[0].sentence}{more}; look at it in the morning"
    if answer.word is Word.NOT_KNOWN:
        return "nothing known speaks against it; look at it in the morning"
    return ""


def speaks_against(reason: Reason) -> bool:
    """Return whether a danger or a warning fails, or is open and leans to failing."""
    leans_no = reason.verdict is Verdict.UNDECIDED and reason.lean == "no"
    now = reason.until is None and reason.level != Level.ADVICE.value
    return now and (reason.verdict is Verdict.FAILS or leans_no)


def _calmest(found: Round, for_good: str) -> tuple[int, Standing]:
    """The best place of a first night: of those that rank alike, the one with least open, then the dimmest.

    The place that is meant for good wins where it is no worse.
    """
    tables = found.sitting.tables
    best = found.order[0][1].key
    alike = [pair for pair in found.order if pair[1].key == best]
    own = {int(world): row for row, world in enumerate(tables.animal_world) if world >= 0}
    rows = np.array([own[item.world] for _, item in alike], np.int64)
    brightest = tables.numbers("light", (tables.animal_place[rows],), None, True).high
    open_here = (found.table.verdict == UNDECIDED) & (found.table.level == 1)

    def order(index: int) -> tuple[int, bool, float]:
        item = alike[index][1]
        still_open = int(np.count_nonzero(open_here & (found.table.world == item.world)))
        return still_open, found.spot(item).id != for_good, float(brightest[index])

    return alike[min(range(len(alike)), key=order)]


def house_lines(reasons: Sequence[Reason]) -> tuple[str, ...]:
    """Return what the keeper's own files changed in what decides, each once."""
    return tuple(dict.fromkeys(line for reason in reasons for line in reason.house))


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
