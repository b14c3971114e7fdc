"""Relations of two animals that nobody stated: from positions, the main stream, rock and clones."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.canopy import stands_over
from advisor.fields.growth import spread_cm
from advisor.fields.stream import down_stream
from advisor.model.tank import Rock
from advisor.reasoning.columns import Bools, Floats, Ints, Numbers
from advisor.reasoning.survey_bodies import Positions
from advisor.reasoning.survey_rows import WeaponRow

Computed: TypeAlias = Callable[[Ints, Ints, Floats | None], tuple[Bools, Bools]]
"""Surely yes and surely no for pairs of rows at a month."""
Touches: TypeAlias = npt.NDArray[np.int8]
Seen: TypeAlias = Mapping[frozenset[str], bool | None]
"""Whether two rocks touch, by their shapes; None where those do not tell."""
OFF_ROCK = ("sand", "glass", "rack")
"""Grounds that are no rock. Rubble may be somebody's rock."""


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


def by_rock(
    rock_of_rows: Sequence[str], rocks: Sequence[Rock], spots: Ints, seen: Seen | None = None
) -> Computed:
    """Return whether two stand on one rock, or on rocks that touch; `seen` is what their shapes tell."""
    number, touch = touching(rocks, {*rock_of_rows} - {""}, seen)
    row_rock = np.array([number.get(name, -1) for name in rock_of_rows], np.int64)

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        found = touch[row_rock[first], row_rock[second]]
        one_spot = (spots[first] == spots[second]) & (spots[first] >= 0)
        return (found > 0) | one_spot, (found < 0) & ~one_spot

    return find


def touching(
    rocks: Sequence[Rock], others: Collection[str], seen: Seen | None = None
) -> tuple[dict[str, int], Touches]:
    """Return a number for each rock, and 1, -1 or 0 for each two of them: touching, apart, not told.

    The last row and column are those of a rock nobody named. What the keeper
    tells goes before what the shapes show.
    """
    names = sorted({*others, *(rock.id for rock in rocks)})
    number = {name: at for at, name in enumerate(names)}
    touch = np.zeros((len(names) + 1, len(names) + 1), np.int8)
    for rock in rocks:
        if rock.touches is not None:
            touch[number[rock.id], : len(names)] = np.where(touch[number[rock.id], : len(names)] > 0, 1, -1)
            touch[: len(names), number[rock.id]] = np.where(touch[: len(names), number[rock.id]] > 0, 1, -1)
            for other in rock.touches:
                if other in number:
                    touch[number[rock.id], number[other]] = touch[number[other], number[rock.id]] = 1
    for pair, met in (seen or {}).items():
        one, two = (number[name] for name in pair)
        if touch[one, two] == 0 and met is not None:
            touch[one, two] = touch[two, one] = 1 if met else -1
    for at in range(len(names)):
        touch[at, at] = 1
    return number, touch


def by_weapon(entity: Ints, armed: Sequence[int], rows: Sequence[WeaponRow]) -> Computed:
    """Return whether an animal row surely has a weapon, and surely not."""
    owner = np.array(armed, np.int64)
    perhaps = np.array([row.perhaps for row in rows], np.bool_)

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        own: Bools = entity[first] == owner[second]
        return own & ~perhaps[second], ~own

    return find


def by_standing(rock_of_rows: Sequence[str], grounds: Sequence[str], rocks: Sequence[str]) -> Computed:
    """Return whether something stands on a rock; what stands on sand, glass or a rack stands on none.

    Parameters
    ----------
    rock_of_rows
        The rock each row stands on, empty where not told.
    grounds
        The ground of each row in a word, empty where not told.
    rocks
        Id of each row of rocks; empty for those nobody told of.
    """
    number = {name: at for at, name in enumerate(sorted({*rock_of_rows, *rocks} - {""}))}
    stands = np.array([number.get(name, -1) for name in rock_of_rows], np.int64)
    off = (stands < 0) & np.array([ground in OFF_ROCK for ground in grounds], np.bool_)
    named = np.array([number.get(name, -1) for name in rocks], np.int64)

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        one, other = stands[first], named[second]
        known = (one >= 0) & (other >= 0)
        return known & (one == other), off[first] | (known & (one != other))

    return find


def by_touch(names: Sequence[str], rocks: Sequence[Rock], seen: Seen | None = None) -> Computed:
    """Return whether two rocks touch, or are one."""
    number, touch = touching(rocks, {*names} - {""}, seen)
    row = np.array([number.get(name, -1) for name in names], np.int64)

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        found = touch[row[first], row[second]]
        return found > 0, found < 0

    return find


def by_clone(clones: Sequence[str], entity: Ints) -> Computed:
    """Return whether two are pieces of one colony; colonies of one taxon are strangers unless told."""
    number = {name: at for at, name in enumerate(sorted(set(clones)))}
    of_row = np.array([number[name] if name else -1 for name in clones], np.int64)[entity]

    def find(first: Ints, second: Ints, months: Floats | None) -> tuple[Bools, Bools]:
        same = (of_row[first] == of_row[second]) & (of_row[first] >= 0)
        return same, ~same

    return find
