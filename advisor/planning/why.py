"""Why a coral may or may not stand at a place, and the smallest changes that would help."""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.errors import Problem, unusable
from advisor.language.nodes import Stage
from advisor.model.changes import SetFact
from advisor.model.results import Comfort, Cure, Reason, Verdict, WhyAnswer, Word
from advisor.model.tank import Fact, Spot, Statement
from advisor.planning.desk import (
    Desk,
    Subject,
    cautions_for,
    gates_of,
    spot_named,
    subject_named,
    summary_of,
)
from advisor.planning.fold import about, ranked, standings, table_of
from advisor.planning.pick import reasons_by_world, weakest_point
from advisor.planning.where import (
    Round,
    change_for,
    free_spots,
    judged,
    place_answer,
    sitting_for,
    survey_for,
)
from advisor.reasoning.survey import Survey

MOST_CURES = 3
_HELPS = frozenset({Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL, Word.YES_BUT, Word.LIKELY})
"""Words a cure may end in; one that ends in another is none."""


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
    place = place_answer(desk, found, rank, item, subject, reasons, level, both_ways=True)
    cures = _cures(desk, subject, spot, place.reasons) if place.word is not Word.YES else ()
    return WhyAnswer(
        question="why",
        tank=desk.tank.name,
        on=desk.on,
        horizon_months=desk.horizon_months,
        cautions=cautions_for(desk, subject.choice),
        gates=gates_of(desk, found.sitting, about_world=not standing, animal=subject.animal.id),
        weakest=weakest_point(place.reasons),
        coral=summary_of(desk, subject, survey, row),
        place=place,
        cures=cures,
        notes=_full(desk, subject, spot),
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


def _cures(desk: Desk, subject: Subject, spot: Spot, reasons: Sequence[Reason]) -> tuple[Cure, ...]:
    """Up to three changes of different kind, each judged again for the whole tank."""
    out: list[Cure] = []
    better = _other_place(desk, subject, spot)
    if better is not None:
        out.append(better)
    standing = subject.placed and spot.id in ("", subject.animal.spot)
    wider = None if standing else _wider_gaps(desk, subject, spot, reasons)
    if wider is not None:
        out.append(wider)
    return tuple(out[:MOST_CURES])


def _other_place(desk: Desk, subject: Subject, spot: Spot) -> Cure | None:
    """The best other spot, if it is better than this one."""
    free = tuple(item for item in free_spots(desk, subject)[0] if item.id != spot.id and not item.temporary)
    if not free:
        return None
    found = judged(desk, free, sitting_for(desk, subject, free)[1])
    item = found.order[0][1]
    if item.word not in _HELPS:
        return None
    return Cure(
        text=f"put {subject.animal.id} on {found.spot(item).id} instead",
        makes=item.word,
        changes=_warned(found, desk, subject),
    )


def _warned(found: Round, desk: Desk, subject: Subject) -> tuple[str, ...]:
    """What the best place of a round still warns of."""
    item = found.order[0][1]
    reasons = reasons_by_world([item.world], found.table, found.planes, found.sitting, subject.animal.id, 1)
    return tuple(
        reason.sentence
        for reason in reasons[item.world]
        if reason.verdict is Verdict.FAILS and reason.level == "warning"
    )[:2]


def _wider_gaps(desk: Desk, subject: Subject, spot: Spot, reasons: Sequence[Reason]) -> Cure | None:
    """Every neighbour that is too near moved off just far enough, aimed past the error and rounded up.

    Only this coral's own verdict is asked again: where the neighbours then stand is not known.
    """
    short: dict[str, float] = {}
    for reason in reasons:
        here, wanted = reason.here, reason.wanted_low
        if not reason.quantity.startswith("gap to ") or reason.verdict is not Verdict.FAILS:
            continue
        if here is None or wanted is None or here.low is None or wanted.high is None:
            continue
        other = reason.quantity.removeprefix("gap to ")
        short[other] = max(short.get(other, 0.0), math.ceil(wanted.high - here.low))
    if not short or len(short) > 2:
        return None
    edits = [
        SetFact(
            Fact(
                measure="gap",
                subjects=(subject.animal.id, other),
                said=Statement(
                    low=_gap(reasons, other) + more, high=_gap(reasons, other) + more, written="as moved"
                ),
            )
        )
        for other, more in short.items()
    ]
    survey = survey_for(desk, subject, [(*change_for(subject, spot), *edits)])
    found = judged(desk, (spot,), desk.sit(survey, base_world=2 if subject.placed else 0))
    word = found.order[0][1].word
    if word not in _HELPS:
        return None
    moves = " and ".join(f"{other} {more:.0f} cm further away" for other, more in short.items())
    return Cure(
        text=f"move {moves}",
        makes=word,
        changes=(f"not checked: what {' and '.join(short)} would then stand beside",),
    )


def _gap(reasons: Sequence[Reason], other: str) -> float:
    """The least gap to a neighbour that any reason found. [cm]"""
    found = [
        reason.here.low
        for reason in reasons
        if reason.quantity == f"gap to {other}" and reason.here is not None and reason.here.low is not None
    ]
    return min(found)
