"""One place of a ranking as an answer: its word, its reasons, what it asks for and what it changes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.model.results import PlaceAnswer, Reason, Verdict, Word
from advisor.planning.accepts import TANK_SUBJECT
from advisor.planning.bench import Bench
from advisor.planning.desk import Desk, Subject
from advisor.planning.fold import Standing, holding
from advisor.planning.pick import (
    duties_of,
    without_echoes,
    without_open_advice,
)
from advisor.planning.rounds import Round
from advisor.reasoning.judge import FAILS
from advisor.reasoning.record import every_cell

WHERE_IT_STANDS = "where-it-stands"
"""What the place of an animal is called that stands on no spot."""


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
    of_place = [reason for reason in reasons if not is_advice_for_the_tank(reason)]
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
        changes=_changes_for_others(of_place, subject.animal.id),
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


def is_advice_for_the_tank(reason: Reason) -> bool:
    """Return whether advice speaks of the tank alone: no place makes it better or worse."""
    return reason.level == "advice" and reason.subjects == (TANK_SUBJECT,)


def _changes_for_others(reasons: Sequence[Reason], about: str) -> tuple[str, ...]:
    """What a place would change for others: reasons in which the coral is not the subject."""
    return tuple(
        reason.sentence
        for reason in reasons
        if reason.verdict is Verdict.FAILS and about not in reason.subjects
    )


def house_lines(reasons: Sequence[Reason]) -> tuple[str, ...]:
    """Return what the keeper's own files changed in what decides, each once."""
    return tuple(dict.fromkeys(line for reason in reasons for line in reason.house))
