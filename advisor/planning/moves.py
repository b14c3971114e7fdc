"""Moves that an audit suggests: each a yes by itself, and all of them judged together in their order."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.language.nodes import Stage
from advisor.model.changes import Change, Move, Remove
from advisor.model.results import Reason, Word
from advisor.model.tank import Spot
from advisor.model.vocabulary import Kind
from advisor.planning.bench import RulePlane, Sitting, worsened
from advisor.planning.dates import month_name
from advisor.planning.desk import Desk, Subject
from advisor.planning.fold import Standing, Table, ranked, speaks, standings, table_of
from advisor.planning.house_loosened import kept_quiet
from advisor.planning.pick import explained, reason_order
from advisor.planning.place import light_step_rules, word_of
from advisor.planning.rounds import Round, free_spots, judged, sitting_for
from advisor.planning.tonight import speaks_against
from advisor.reasoning.columns import Bools
from advisor.reasoning.survey import Survey

GOOD = (Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL, Word.YES_BUT)
"""Words for a place that an animal may be sent to: no danger there, and none open."""


def moves_together(desk: Desk, movers: Sequence[str]) -> dict[str, str]:
    """Return for each animal the move that helps it, in words; those that find no good place are left out.

    A move is one that the question where the animal should go would answer with
    a yes in the tank as it is, and again in the tank after the moves before it.

    Parameters
    ----------
    movers
        Ids, in the order in which the moves are to be made.
    """
    done: list[Move] = []
    out: dict[str, str] = {}
    for animal_id in movers:
        animal = next((item for item in desk.tank.animals if item.id == animal_id), None)
        if animal is None:
            continue
        subject = Subject(animal, desk.cards[animal_id], in_tank=True)
        found = _best(desk, subject, done)
        if found is not None:
            spot, text = found
            done.append(Move(animal_id, spot))
            out[animal_id] = text
    return out


def _best(desk: Desk, subject: Subject, done: Sequence[Move]) -> tuple[str, str] | None:
    """The best spot for one animal after some moves, and what to say of it; None if nowhere is a yes."""
    taken = {subject.animal.spot, *(move.spot for move in done)}
    free = tuple(
        spot
        for spot in free_spots(desk, subject)[0]
        if spot.id not in taken and not spot.temporary
    )  # fmt: skip
    if not free:
        return None
    found = judged(desk, free, sitting_for(desk, subject, free)[1])
    good = tuple(found.spot(item) for item in _good(desk, found))
    if done and good:
        found = _after(desk, subject, good, done)
    item = next(iter(_good(desk, found)), None)
    if item is None:
        return None
    place, word = found.spot(item).id, word_of(found, item, light_step_rules(desk.bench))
    quiet = kept_quiet(found.sitting, subject.animal.id).get(item.world, ())
    told = _told(word, _reasons(found, item.world))
    return place, f"move {subject.animal.id} to {place}{told}{''.join(f', but {each}' for each in quiet)}"


def _good(desk: Desk, found: Round) -> list[Standing]:
    """The places of a round that are a yes, best first."""
    rules = light_step_rules(desk.bench)
    return [item for _, item in found.order if word_of(found, item, rules) in GOOD]


def _after(desk: Desk, subject: Subject, spots: tuple[Spot, ...], done: Sequence[Move]) -> Round:
    """The same spots judged in the tank after some moves: what the mover would meet or worsen there."""
    mover = subject.animal.id
    worlds: list[Change] = [(*done, Move(mover, spot.id)) for spot in spots]
    worlds.append((*done, Remove(mover)))
    survey = desk.survey(worlds, {mover: subject.choice})
    sitting = desk.sit(survey, base_world=len(worlds))
    planes = sitting.judge(desk.bench.at((Stage.ALWAYS, Stage.SETTLED)))
    table = table_of(planes, sitting, everything=True)
    table = table.only(_answers_for(mover, table, planes, survey, sitting) & (table.world > 0))
    order = ranked(standings(table, len(worlds), [[] for _ in worlds]), ["", *(spot.id for spot in spots)])
    return Round(spots, sitting, planes, table, [], order)


def _answers_for(
    mover: str, table: Table, planes: Sequence[RulePlane], survey: Survey, sitting: Sitting
) -> Bools:
    """The rows in which one animal has a role, and those of others that it makes worse."""
    own_row = np.array([row.id == mover for row in survey.animals], np.bool_)
    keep = np.zeros(len(table.at), np.bool_)
    for index, plane in enumerate(planes):
        bindings = plane.now.bindings
        own = worsened(plane, sitting.base_world)
        for binder in plane.compiled.binders:
            if binder.kind in (Kind.ANIMAL, Kind.CORAL):
                own = own | own_row[bindings.rows[binder.name]]
        here = table.plane == index
        keep[here] = own[table.at[here]]
    return keep


def _reasons(found: Round, world: int) -> list[Reason]:
    """What speaks in one world, now or later, advice aside, the worst first."""
    table = found.table
    rows = table.rows(speaks(table) & (table.world == world) & (table.level < 2)).tolist()
    told = [reason for _, reason in explained(rows, table, found.planes, found.sitting)]
    return sorted(told, key=reason_order)


def _told(word: Word, reasons: Sequence[Reason]) -> str:
    """What a move leads to, after the place it goes to."""
    match word:
        case Word.YES_BUT:
            against = [reason for reason in reasons if speaks_against(reason)]
            more = f" (and {len(against) - 1} more)" if len(against) > 1 else ""
            return f", out of danger; but then {against[0].sentence}{more}"
        case Word.YES_UNTIL:
            first = min(reason.until.earliest for reason in reasons if reason.until is not None)
            return f", good until {month_name(first)}"
        case Word.YES_SLOWLY:
            return ", slowly, for its light is stronger; starts nothing new"
        case _:
            return "; starts nothing new"
