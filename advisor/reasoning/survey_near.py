"""Which pairs can matter, and the graph of neighbours over the same table."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from advisor.reasoning.columns import Bools, Floats, Ints

if TYPE_CHECKING:
    import networkx

    from advisor.reasoning.survey import Survey

CHUNK = 1 << 20
"""Pairs looked at in one go, so that a large tank does not fill the memory."""


def pair_rows(survey: Survey, within_cm: float | None, months_ahead: float, rows: Ints) -> tuple[Ints, Ints]:
    """Return every ordered pair of some animal rows whose gap is not surely beyond a distance.

    Parameters
    ----------
    within_cm
        Distance beyond which nothing matters; None keeps every pair. [cm]
    months_ahead
        How far growth is reckoned with. [months]
    rows
        Animal rows, of one world or of several; pairs never cross worlds.

    Returns
    -------
    First and second row of each pair, ordered by first, then second.

    Notes
    -----
    In a large tank the cost grows with the number of close pairs: animals
    are sorted along the longest axis and met only with those whose grown
    outlines may come within the distance along it. An animal without a
    position meets all others.
    """
    rows = np.unique(rows)
    if within_cm is None or len(rows) ** 2 <= CHUNK:
        return _kept(survey, within_cm, months_ahead, *_all_pairs(rows))
    first, second = _close_pairs(survey, within_cm, months_ahead, rows)
    parts = [_kept(survey, within_cm, months_ahead, first[at : at + CHUNK], second[at : at + CHUNK])
             for at in range(0, len(first), CHUNK)]  # fmt: skip
    return (np.concatenate([one for one, _ in parts] or [first]),
            np.concatenate([other for _, other in parts] or [second]))  # fmt: skip


def _all_pairs(rows: Ints) -> tuple[Ints, Ints]:
    """Every ordered pair of two different rows."""
    first, second = np.repeat(rows, len(rows)), np.tile(rows, len(rows))
    apart = first != second
    return first[apart], second[apart]


def _kept(
    survey: Survey, within_cm: float | None, months_ahead: float, first: Ints, second: Ints
) -> tuple[Ints, Ints]:
    """The pairs that stand in one world and are not surely too far apart."""
    keep = _meet(survey, first, second)
    first, second = first[keep], second[keep]
    if within_cm is None or not len(first):
        return first, second
    months = np.full(len(first), months_ahead) if months_ahead > 0.0 else None
    near = survey.numbers("gap", (first, second), months, False).low <= within_cm
    return first[near], second[near]


def _close_pairs(survey: Survey, within_cm: float, months_ahead: float, rows: Ints) -> tuple[Ints, Ints]:
    """Ordered pairs that hold every one that may be close: by position, without one, or by statement."""
    low, high = survey.outlines(months_ahead)
    low, high = low[rows] - within_cm / 2.0, high[rows] + within_cm / 2.0
    placed = ~np.isnan(low[:, 0])
    one, other = _overlapping(low[placed], high[placed])
    located, lost = rows[placed], rows[~placed]
    pairs = [(located[one], located[other]), (np.repeat(lost, len(rows)), np.tile(rows, len(lost))),
             survey.stated_pairs()]  # fmt: skip
    width = len(survey.animals)
    keys = np.concatenate([np.concatenate([a * width + b, b * width + a]) for a, b in pairs])
    keys.sort()  # np.unique would hash them, which is several times slower here
    first, second = np.divmod(keys[np.diff(keys, prepend=-1) > 0], width)
    wanted = (first != second) & np.isin(first, rows) & np.isin(second, rows)
    return first[wanted], second[wanted]


def _overlapping(low: Floats, high: Floats) -> tuple[Ints, Ints]:
    """Pairs of boxes that overlap, each once, found by a sweep along the axis of the widest spread."""
    if not len(low):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    axis = int(np.argmax(low.max(axis=0) - low.min(axis=0)))
    order = np.argsort(low[:, axis], kind="stable")
    low, high = low[order], high[order]
    ends = np.searchsorted(low[:, axis], high[:, axis], side="right")
    counts = np.maximum(ends - np.arange(len(low)) - 1, 0)
    one = np.repeat(np.arange(len(low)), counts)
    start = np.repeat(np.cumsum(counts) - counts, counts)
    other = one + 1 + np.arange(len(one)) - start
    meet = ((low[one] <= high[other]) & (low[other] <= high[one])).all(axis=1)
    return order[one[meet]].astype(np.int64), order[other[meet]].astype(np.int64)


def _meet(survey: Survey, first: Ints, second: Ints) -> Bools:
    """Whether two rows stand in one world together."""
    one, other = survey.animal_world[first], survey.animal_world[second]
    together: Bools = (first != second) & ((one == other) | (one < 0) | (other < 0))
    for world, shared in ((one, second), (other, first)):
        own = (world >= 0) & (shared < survey.removed.shape[1])
        gone = (
            survey.removed[np.where(own, world, 0), np.where(own, shared, 0)]
            if survey.removed.size
            else own & False
        )
        together &= ~(own & gone)
    return together


def graph_of(survey: Survey) -> networkx.DiGraph[str]:
    """Return the animals of the tank as it is, joined where they may come within any reach of each other.

    Every edge carries its gap now (`gap_low_cm`, `gap_high_cm`) and at the
    horizon (`later_low_cm`, `later_high_cm`), whether its end lies down-flow
    of its start (`down_flow`: True, False or None) and how far its start can
    reach (`reach_cm`, None where not known).
    """
    import networkx

    graph: networkx.DiGraph[str] = networkx.DiGraph()
    shared = np.flatnonzero(survey.animal_world < 0).astype(np.int64)
    graph.add_nodes_from(survey.animals[int(row)].id for row in shared)
    measures = survey.library.vocabulary.measures
    if "gap" not in measures or not len(shared):
        return graph
    longest = measures["reach-most"].high if "reach-most" in measures else None
    first, second = pair_rows(survey, longest, float(survey.horizon_months), shared)
    columns = _edge_columns(survey, first, second)
    names = [row.id for row in survey.animals]
    told = (dict(zip(columns, values, strict=True)) for values in zip(*columns.values(), strict=True))
    ends = zip(first.tolist(), second.tolist(), told, strict=True)
    graph.add_edges_from((names[one], names[other], each) for one, other, each in ends)
    return graph


def _edge_columns(survey: Survey, first: Ints, second: Ints) -> dict[str, list[float | bool | None]]:
    """What every edge carries, a list an attribute."""
    now = survey.numbers("gap", (first, second), None, False)
    later = survey.numbers("gap", (first, second), np.full(len(first), float(survey.horizon_months)), False)
    columns: dict[str, list[float | bool | None]] = {
        "gap_low_cm": _plain(now.low), "gap_high_cm": _plain(now.high),
        "later_low_cm": _plain(later.low), "later_high_cm": _plain(later.high),
    }  # fmt: skip
    if "down-flow" in survey.library.vocabulary.relations:
        side = survey.truths("down-flow", (second, first), None)
        columns["down_flow"] = [True if yes else (False if no else None)
                                for yes, no in zip(side.yes, side.no, strict=True)]  # fmt: skip
    if "reach-most" in survey.library.vocabulary.measures:
        reach = survey.numbers("reach-most", (first,), None, False)
        columns["reach_cm"] = [
            None if flag else float(high) for high, flag in zip(reach.high, reach.flags, strict=True)
        ]
    return columns


def _plain(column: Floats) -> list[float | bool | None]:
    """A column as plain numbers."""
    found: list[float | bool | None] = column.tolist()
    return found
