"""Relations of two animals that nobody stated: from positions, the main stream, rock and clones."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np

from advisor.fields.canopy import stands_over
from advisor.fields.growth import spread_cm
from advisor.fields.stream import down_stream
from advisor.model.tank import Rock
from advisor.reasoning.columns import Bools, Floats, Ints, Numbers
from advisor.reasoning.survey_bodies import Positions

Computed: TypeAlias = Callable[[Ints, Ints, Floats | None], tuple[Bools, Bools]]
"""Surely yes and surely no for pairs of animal rows at a month."""


def by_stream(positions: Positions, direction_deg: float | None) -> Computed:
    """Return whether the first lies down-stream of the second, from positions and the main stream."""

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        if direction_deg is None:
            none = np.zeros(len(first), np.bool_)
            return none, none
        low, high = positions.low[:, :2], positions.high[:, :2]
        surely, never = down_stream(low[second], high[second], low[first], high[first], direction_deg)
        apart = ~_together(positions, first, second)
        return surely & apart, never & apart

    return find


def turned(computed: Computed) -> Computed:
    """Return a computed relation read from the other end."""

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        return computed(second, first, months)

    return find


def by_canopy(positions: Positions, radius: Numbers, spread: Numbers) -> Computed:
    """Return whether the first stands over the second, from positions and grown outlines.

    Parameters
    ----------
    radius
        Radius of each entity. [cm]
    spread
        Outward growth of each animal row. [mm/month]
    """

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        one, other = positions.entity[first], positions.entity[second]
        ahead = np.zeros(len(first)) if months is None else months
        low = radius.low[one] + radius.low[other] + spread_cm(ahead, spread.low[first] + spread.low[second])
        high = (
            radius.high[one] + radius.high[other] + spread_cm(ahead, spread.high[first] + spread.high[second])
        )
        corners = (positions.low[first], positions.high[first], positions.low[second], positions.high[second])
        surely, never = stands_over(*corners, low, high)
        apart = ~_together(positions, first, second)
        return surely & apart, never & apart

    return find


def _together(positions: Positions, first: Ints, second: Ints) -> Bools:
    """Whether two stand on one spot, where the spot's position tells nothing of who is where."""
    one_spot = (positions.spot[first] == positions.spot[second]) & (positions.spot[first] >= 0)
    found: Bools = one_spot & ~(positions.own[first] & positions.own[second])
    return found


def by_rock(rock_of_rows: Sequence[str], rocks: Sequence[Rock], spots: Ints) -> Computed:
    """Return whether two stand on one rock, or on rocks that touch."""
    names = sorted({*rock_of_rows, *(rock.id for rock in rocks)} - {""})
    number = {name: at for at, name in enumerate(names)}
    touch = np.zeros((len(names) + 1, len(names) + 1), np.int8)
    for rock in rocks:
        if rock.touches is not None:
            touch[number[rock.id], : len(names)] = np.where(touch[number[rock.id], : len(names)] > 0, 1, -1)
            touch[: len(names), number[rock.id]] = np.where(touch[: len(names), number[rock.id]] > 0, 1, -1)
            for other in rock.touches:
                if other in number:
                    touch[number[rock.id], number[other]] = touch[number[other], number[rock.id]] = 1
    for at in range(len(names)):
        touch[at, at] = 1
    row_rock = np.array([number.get(name, -1) for name in rock_of_rows], np.int64)

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        found = touch[row_rock[first], row_rock[second]]
        one_spot = (spots[first] == spots[second]) & (spots[first] >= 0)
        return (found > 0) | one_spot, (found < 0) & ~one_spot

    return find


def by_clone(clones: Sequence[str], entity: Ints) -> Computed:
    """Return whether two are pieces of one colony; colonies of one taxon are strangers unless told."""
    number = {name: at for at, name in enumerate(sorted(set(clones)))}
    of_row = np.array([number[name] if name else -1 for name in clones], np.int64)[entity]

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        same = (of_row[first] == of_row[second]) & (of_row[first] >= 0)
        return same, ~same

    return find
