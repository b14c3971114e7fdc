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
    """
    firsts: list[Ints] = []
    seconds: list[Ints] = []
    step = max(CHUNK // max(len(rows), 1), 1)
    for start in range(0, len(rows), step):
        block = rows[start : start + step]
        first, second = np.repeat(block, len(rows)), np.tile(rows, len(block))
        keep = _meet(survey, first, second)
        first, second = first[keep], second[keep]
        if within_cm is not None and len(first):
            months = np.full(len(first), months_ahead) if months_ahead > 0.0 else None
            near = survey.numbers("gap", (first, second), months, False).low <= within_cm
            first, second = first[near], second[near]
        firsts.append(first)
        seconds.append(second)
    if not firsts:
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    return np.concatenate(firsts), np.concatenate(seconds)


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
    for at, (one, other) in enumerate(zip(first, second, strict=True)):
        found = {name: column[at] for name, column in columns.items()}
        graph.add_edge(survey.animals[int(one)].id, survey.animals[int(other)].id, **found)
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
    return [float(value) for value in column]
