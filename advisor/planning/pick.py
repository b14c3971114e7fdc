"""Which bindings an answer shows, and in which order.

Failing first, then open (never told, out of date, too close), then holding
narrowly; dangers before warnings before advice; then the smallest margin.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from advisor.model.results import Reason, Verdict
from advisor.model.vocabulary import Supplier
from advisor.planning.bench import RulePlane, Sitting
from advisor.planning.fold import Table, holding, speaks
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.ops import NumberCell, WordCell
from advisor.reasoning.record import every_cell

_VERDICT_ORDER = {Verdict.FAILS: 0, Verdict.UNDECIDED: 1, Verdict.HOLDS: 2}
_CAUSE_ORDER = {"": 0, "missing": 1, "stale": 2, "too close": 3}
_LEVEL_ORDER = {"danger": 0, "warning": 1, "advice": 2}


def reason_order(reason: Reason) -> tuple[int, int, int, float, str]:
    """Return the place of a reason in an explanation."""
    verdict = 0 if reason.until else _VERDICT_ORDER.get(reason.verdict, 3)
    margin = reason.margin_steps if reason.margin_steps is not None else 0.0
    return (_LEVEL_ORDER[reason.level] if verdict < 2 else 3, verdict, _CAUSE_ORDER[reason.cause],
            abs(margin), reason.id)


def main_measure(compiled: CompiledRule) -> str:
    """Return the measure a rule is about: the first one its requirement reads in the tank."""
    cells = [] if compiled.expect is None else list(every_cell(compiled.expect))
    for cell in cells:
        if not isinstance(cell, NumberCell | WordCell) or Supplier.CARD not in cell.measure.suppliers:
            return cell.name
    return cells[0].name if cells else ""


def reasons_in(world: int, table: Table, planes: Sequence[RulePlane], sitting: Sitting, about: str, *,
               steps: bool = False, all_that_hold: bool = False) -> tuple[Reason, ...]:
    """Return what decides one world's answer, in the order of explanation.

    Every failing or open binding, and for each measure the holding one that
    holds most narrowly (`all_that_hold`: every one).
    """
    here = table.world == world
    shown: list[int] = np.flatnonzero(here & speaks(table)).tolist()
    held: list[int] = np.flatnonzero(here & holding(table)).tolist() if all_that_hold \
        else _narrowest(here, table, planes)
    found = [sitting.reason(planes[int(table.plane[row])], int(table.at[row]), about, steps=steps)
             for row in (*shown, *held)]
    return tuple(sorted(found, key=reason_order))


def _narrowest(here: np.ndarray[tuple[int], np.dtype[np.bool_]], table: Table,
               planes: Sequence[RulePlane]) -> list[int]:
    """The holding row of least margin for each measure."""
    best: dict[str, tuple[float, int]] = {}
    for row in np.flatnonzero(here & holding(table)):
        name = main_measure(planes[int(table.plane[row])].compiled)
        margin = float(table.steps[row])
        if name and (name not in best or margin < best[name][0]):
            best[name] = (margin, int(row))
    return [row for _, row in sorted(best.values())]


def needs_of(reasons: Iterable[Reason]) -> tuple[tuple[str, str, int], ...]:
    """Return every question asked by open reasons: measure, text, and how many it settles."""
    counts: dict[tuple[str, str], int] = {}
    for reason in reasons:
        for need in reason.needs:
            counts[need.measure, need.ask] = counts.get((need.measure, need.ask), 0) + 1
    return tuple((measure, ask, count) for (measure, ask), count
                 in sorted(counts.items(), key=lambda item: (-item[1], item[0])))
