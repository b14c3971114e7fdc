"""Which bindings an answer shows, and in which order.

What fails, then what is open (never told before out of date before too
close), then what holds, most narrowly first. Within each dangers before
warnings before advice, what fails now before what is to come, the smallest
margin in steps (what falls short most, what holds most narrowly), what a
keeper can change before what only cards say; of one rule near animals before far ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from advisor.language.nodes import Compare, CompareOp
from advisor.model.results import Need, Reason, Verdict
from advisor.model.vocabulary import Grade, Supplier
from advisor.planning.bench import RulePlane, Sitting
from advisor.planning.fold import Table, holding, speaks
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.judge import UNDECIDED
from advisor.reasoning.ops import NumberCell, WordCell
from advisor.reasoning.record import every_cell

ALWAYS_SHOWN = ("light", "flow", "gap")
"""Measures a keeper weighs a place by: shown also where they hold."""

LEVEL_ORDER = {"danger": 0, "warning": 1, "advice": 2}
_CAUSE_ORDER = {"": 0, "missing": 1, "stale": 2, "too close": 3}
_ADVICE = 2


def reason_order(reason: Reason) -> tuple[int, int, bool, int, float, bool, str, float, str]:
    """Return the place of a reason in an explanation."""
    margin = reason.margin_steps if reason.margin_steps is not None else 0.0
    return (
        _standing(reason),
        LEVEL_ORDER[reason.level],
        reason.until is not None,
        _CAUSE_ORDER[reason.cause],
        margin,
        not reason.controllable,
        reason.rule,
        -1.0 if reason.apart_cm is None else reason.apart_cm,
        reason.id,
    )


def _standing(reason: Reason) -> int:
    """The first part of a reason's place: 0 if it fails, now or later, 1 if it is open, else 2."""
    if reason.verdict is Verdict.FAILS or reason.until is not None:
        return 0
    return 1 if reason.verdict is Verdict.UNDECIDED else 2


def numbered(reasons: Iterable[Reason], mark: str = "") -> tuple[Reason, ...]:
    """Return reasons with the numbers they are printed under, in the order they come.

    Parameters
    ----------
    mark
        What stands before each number, to tell several lists of one answer apart.
    """
    return tuple(
        reason.model_copy(update={"number": f"{mark}{number}"}) for number, reason in enumerate(reasons, 1)
    )


def main_measure(compiled: CompiledRule) -> str:
    """Return the measure a rule is about: the first one its requirement reads in the tank."""
    cells = [] if compiled.expect is None else list(every_cell(compiled.expect))
    for cell in cells:
        if not isinstance(cell, NumberCell | WordCell) or Supplier.CARD not in cell.measure.suppliers:
            return cell.name
    return cells[0].name if cells else ""


def reasons_by_world(
    worlds: Sequence[int], table: Table, planes: Sequence[RulePlane], sitting: Sitting, about: str, level: int
) -> dict[int, tuple[Reason, ...]]:
    """Return what decides each world's answer, in the order of explanation.

    Parameters
    ----------
    level
        How deep the answer is read. Below 2, open advice is left out unless it
        carries a duty; from 2 on reasons carry their steps; at 4 everything
        that holds is there.
    """
    narrow = _narrowest(table, planes)
    keep = (
        (speaks(table) | np.isin(np.arange(len(table.at)), narrow))
        if level < 4
        else speaks(table) | holding(table)
    )
    if level < 2:
        idle = np.array([not plane.compiled.rule.duties for plane in planes], np.bool_)[table.plane]
        keep &= ~((table.level == _ADVICE) & (table.verdict == UNDECIDED) & ~table.later & idle)
    keep &= np.isin(table.world, np.array(worlds, np.int64))
    rows = np.flatnonzero(keep).tolist()
    found: dict[int, list[Reason]] = {world: [] for world in worlds}
    rest: dict[int, list[Reason]] = {world: [] for world in worlds}
    always = speaks(table) | np.isin(np.arange(len(table.at)), narrow)
    for row, reason in explained(rows, table, planes, sitting, about, level=level):
        (found if always[row] else rest)[int(table.world[row])].append(reason)
    # what only the deepest level tells comes last, so that numbers mean the same at every level
    return {world: numbered((*_in_order(found[world]), *_in_order(rest[world]))) for world in worlds}


def _in_order(reasons: Sequence[Reason]) -> list[Reason]:
    """Reasons in the order of explanation, the two ends of one quantity as one."""
    return sorted(_joined(reasons), key=reason_order)


def explained(
    rows: Sequence[int],
    table: Table,
    planes: Sequence[RulePlane],
    sitting: Sitting,
    about: str = "",
    *,
    level: int = 1,
    placed: bool = True,
) -> list[tuple[int, Reason]]:
    """Return some rows of a table as reasons, each rule run once over all of its own."""
    by_plane: dict[int, list[int]] = {}
    for row in rows:
        by_plane.setdefault(int(table.plane[row]), []).append(row)
    return [
        pair
        for index, own in by_plane.items()
        for pair in zip(
            own,
            sitting.reasons(
                planes[index], [int(table.at[row]) for row in own], about, level=level, placed=placed
            ),
            strict=True,
        )
    ]


def _narrowest(table: Table, planes: Sequence[RulePlane]) -> list[int]:
    """For each world and weighed measure, the row that holds most narrowly at either end; advice aside."""
    names = [main_measure(plane.compiled) for plane in planes]
    best: dict[tuple[int, str, int], tuple[float, int]] = {}
    for row in np.flatnonzero(holding(table)).tolist():
        plane = int(table.plane[row])
        if names[plane] not in ALWAYS_SHOWN or table.level[row] == _ADVICE:
            continue
        key = (int(table.world[row]), names[plane], upper_end(planes[plane].compiled))
        margin = float(table.steps[row])
        if key not in best or margin < best[key][0]:
            best[key] = (margin, row)
    return [row for _, row in best.values()]


def upper_end(compiled: CompiledRule) -> int:
    """Return 1 for a rule that limits its measure from above, 0 for one that limits it from below."""
    expect = compiled.rule.expect
    return int(isinstance(expect, Compare) and expect.op in (CompareOp.AT_MOST, CompareOp.LESS))


def _joined(reasons: Sequence[Reason]) -> list[Reason]:
    """The two ends of one quantity that both hold, as one reason with both limits."""
    held: dict[str, Reason] = {}
    out: list[Reason] = []
    for reason in sorted(reasons, key=reason_order):
        if reason.verdict is not Verdict.HOLDS or reason.until is not None or not reason.quantity:
            out.append(reason)
            continue
        first = held.get(reason.quantity)
        if first is None:
            held[reason.quantity] = reason
        elif (first.wanted_low is None) != (reason.wanted_low is None):
            held[reason.quantity] = first.model_copy(
                update={
                    "wanted_low": first.wanted_low or reason.wanted_low,
                    "wanted_high": first.wanted_high or reason.wanted_high,
                    "house": tuple(dict.fromkeys((*first.house, *reason.house))),
                }
            )
        else:
            out.append(reason)
    return out + list(held.values())


def weakest_point(reasons: Iterable[Reason]) -> str:
    """Return the weakest ground an answer rests on, with the quantity it is about."""
    graded = [
        (max((Grade(ground.grade).rank for ground in reason.grounds if ground.grade), default=-1), reason)
        for reason in reasons
        if reason.weakest and reason.quantity
    ]
    if not graded:
        return ""
    _, worst = max(graded, key=lambda pair: pair[0])
    return f"{worst.quantity}: {worst.weakest}"


def duties_of(reasons: Iterable[Reason]) -> tuple[str, ...]:
    """Return what must be done where an animal goes all the same: a yes with duties."""
    return tuple(dict.fromkeys(duty for reason in reasons if _is_due(reason) for duty in reason.duties))


def _is_due(reason: Reason) -> bool:
    """Whether a requirement is not met, or not known to be."""
    return reason.verdict is Verdict.FAILS or (reason.verdict is Verdict.UNDECIDED and reason.lean != "yes")


def without_open_advice(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    """Return reasons without the advice that is only open."""
    return tuple(
        reason for reason in reasons if reason.level != "advice" or reason.verdict is not Verdict.UNDECIDED
    )


def without_echoes(reasons: Sequence[Reason], *, both_ways: bool = False) -> list[Reason]:
    """Return reasons without those that say the same again.

    A rule between two animals is told once, the worse way round (`both_ways`:
    a danger in either direction); a warning about the quantity and animals of
    a danger that fails anyway is left out. What fails is not lost: the reason
    that stands for it names its rule, and the number it is opened by.
    """
    dangers = {
        (reason.quantity.split(" to ")[0], frozenset(reason.subjects))
        for reason in reasons
        if reason.level == "danger" and reason.verdict is Verdict.FAILS
    }
    stands: dict[tuple[str, str, frozenset[str]], str] = {}
    echoes: dict[str, list[str]] = {}
    out = []
    for reason in sorted(reasons, key=reason_order):
        subjects = frozenset(reason.subjects)
        by_rule = ("rule", reason.rule, subjects)
        by_quantity = ("quantity", reason.quantity.split(" to ")[0], subjects)
        echo = reason.level != "danger" and by_quantity[1:] in dangers
        told = by_rule in stands and not (both_ways and reason.level == "danger")
        if not echo and not told:
            out.append(reason)
        home = stands.setdefault(by_rule, stands[by_quantity] if echo else reason.id)
        if reason.level == "danger" and reason.verdict is Verdict.FAILS:
            stands.setdefault(by_quantity, home)
        if (echo or told) and reason.level != "advice" and _standing(reason) == 0:
            echoes.setdefault(home, []).append(f"{reason.number} {reason.rule}".strip())
    return [
        reason.model_copy(update={"echoes": tuple(echoes[reason.id])}) if reason.id in echoes else reason
        for reason in out
    ]


def needs_of(reasons: Iterable[Reason]) -> tuple[Need, ...]:
    """Return every question asked by open reasons, the one that settles most first."""
    worst: dict[object, int] = {}
    counts: dict[object, int] = {}
    first: dict[object, Need] = {}
    for reason in reasons:
        for need in reason.needs:
            # a gap is one question whichever way round it is put
            key = frozenset(need.subjects) if need.measure == "gap" and need.subjects else need.ask
            counts[key] = counts.get(key, 0) + 1
            worst[key] = min(worst.get(key, 9), LEVEL_ORDER[reason.level])
            if need.ask < first.setdefault(key, need).ask:
                first[key] = need
    order = sorted(first, key=lambda key: (worst[key], -counts[key], first[key].ask))
    return tuple(first[key].model_copy(update={"settles": counts[key]}) for key in order)
