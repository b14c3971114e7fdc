"""Candidate spots as worlds, judged by every rule and ranked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.language.nodes import Stage
from advisor.model.changes import Add, Change, Move, Remove
from advisor.model.results import Comfort
from advisor.model.tank import Spot
from advisor.planning.bench import RulePlane, Sitting
from advisor.planning.desk import Desk, Subject
from advisor.planning.fold import Standing, Table, comforts_of, ranked, standings, table_of
from advisor.reasoning.survey import Survey


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
