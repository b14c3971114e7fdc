"""Why a coral may or may not stand at a place, and the smallest changes that would help."""

from __future__ import annotations

from advisor.errors import Problem, unusable
from advisor.language.nodes import Stage
from advisor.model.results import Comfort, WhyAnswer, Word
from advisor.model.tank import Spot
from advisor.planning.accept_lines import with_line
from advisor.planning.ailing import told_to_do_badly
from advisor.planning.by_eye import looks
from advisor.planning.cautions import cautions_with
from advisor.planning.cures import cures_for
from advisor.planning.desk import (
    Desk,
    Subject,
    gates_of,
    spot_named,
    subject_named,
    summary_of,
)
from advisor.planning.fold import about, ranked, standings, table_of
from advisor.planning.house_loosened import Question, loosened
from advisor.planning.house_report import house_lines_here
from advisor.planning.pick import reasons_by_world, weakest_point
from advisor.planning.place import place_answer
from advisor.planning.rounds import Round, free_spots, judged, sitting_for
from advisor.reasoning.survey import Survey


def why(desk: Desk, coral: str, spot_name: str = "", *, level: int = 1) -> WhyAnswer:
    """Return every reason for and against one coral at one spot.

    Parameters
    ----------
    spot_name
        Id or name of a spot; empty for the one the coral stands on.

    Raises
    ------
    UnusableInput
        If nobody knows the coral or the spot, or no spot is named and the coral has none.
    """
    subject = subject_named(desk, coral)
    spot = _spot(desk, subject, spot_name)
    standing = subject.placed and spot.id in ("", subject.animal.spot)
    if standing:
        survey, found = _as_it_stands(desk, subject, spot)
        row = survey.animal_row(subject.animal.id)
    else:
        survey, sitting = sitting_for(desk, subject, (spot,), sees_far=level < 4)
        found = judged(desk, (spot,), sitting)
        row = int(survey.animal_world.argmax())
    rank, item = found.order[0]
    reasons = reasons_by_world([1], found.table, found.planes, found.sitting, subject.animal.id, level)[1]
    if standing and level >= 2:
        reasons = tuple(with_line(reason, desk.library, desk.tank) for reason in reasons)
    place = place_answer(desk, found, rank, item, subject, reasons, level, both_ways=True)
    cures = cures_for(desk, subject, spot, found, place.word) if place.word is not Word.YES else ()
    bad = told_to_do_badly(desk, survey, subject.animal.id) if subject.placed else ()
    return WhyAnswer(
        question="why",
        tank=desk.tank.name,
        on=desk.on,
        horizon_months=desk.horizon_months,
        cautions=cautions_with(desk, subject, (*place.duties, *(cure.text for cure in cures))),
        gates=gates_of(desk, found.sitting, about_world=not standing, animal=subject.animal.id, level=level),
        weakest=weakest_point(place.reasons),
        coral=summary_of(desk, subject, survey, row),
        place=place,
        cures=cures,
        by_eye=looks(found.sitting, row=row),
        notes=(*bad, *_full(desk, subject, spot), *house_lines_here(desk, found.sitting)),
        loosened=loosened(
            desk, found.sitting, Question({0 if standing else 1: place.place}, subject.animal.id)
        ),
    )


def _as_it_stands(desk: Desk, subject: Subject, spot: Spot) -> tuple[Survey, Round]:
    """An animal of the tank judged where it is: every binding of the tank in which it has a role."""
    survey = desk.survey()
    sitting = desk.sit(survey)
    planes = sitting.judge(desk.bench.at((Stage.ALWAYS, Stage.SETTLED)))
    table = about(table_of(planes, sitting, everything=True), planes, survey.animal_row(subject.animal.id))
    comforts: list[list[Comfort]] = [[], []]
    order = ranked(standings(table, 2, comforts), ["", spot.id])
    return survey, Round((spot,), sitting, planes, table, comforts, order)


def _spot(desk: Desk, subject: Subject, name: str) -> Spot:
    """The spot asked about, or the one the animal stands on; a nameless one where it stands on none."""
    if name:
        return spot_named(desk, name)
    if subject.placed:
        return spot_named(desk, subject.animal.spot) if subject.animal.spot else Spot(id="")
    raise unusable(
        (
            Problem(
                "ask-402",
                f"{subject.animal.id} stands on no spot of this tank yet",
                mend=f"name a spot: why {subject.animal.id} SPOT",
            ),
        )
    )


def _full(desk: Desk, subject: Subject, spot: Spot) -> tuple[str, ...]:
    """A note where the spot has no room for one more."""
    free, _ = free_spots(desk, subject)
    return () if spot in free or spot.id == subject.animal.spot else (f"{spot.id} is taken already",)
