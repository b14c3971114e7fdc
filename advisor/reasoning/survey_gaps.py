"""Room between two animals: stated or computed gaps and heights, taken at a month."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.fields.boxes import farthest_cm, middle_cm, nearest_cm
from advisor.fields.growth import gap_left_cm, spread_cm
from advisor.model.tank import Spot
from advisor.model.vocabulary import Measure
from advisor.reasoning.columns import MISSING, Bools, Flags, Floats, Ints, Numbers
from advisor.reasoning.survey_bodies import Positions, Sizes
from advisor.reasoning.survey_pack import take_numbers
from advisor.reasoning.survey_pairs import Hits, Names
from advisor.reasoning.survey_rows import Layout
from advisor.reasoning.survey_stated import StatedNumbers


@dataclass(frozen=True, slots=True)
class Closed:
    """What a keeper says is not near, one entry an animal row. [cm]"""

    around_animal: Floats
    """Nothing unnamed within this of its edge; 0 where nothing is said."""
    around_spot: Floats
    """Nothing unnamed within this of the middle of its spot."""


def closed_of(layout: Layout, longest_reach_cm: float) -> Closed:
    """Return what is said not to be near each animal row."""
    animal, spot = [], []
    for row in layout.animals:
        place = layout.places[row.place].spot
        own = row.animal if row.here else None
        complete = (own is not None and own.gaps_complete) or (place is not None and place.gaps_complete)
        within = own.nothing_else_within_cm if own is not None else None
        animal.append(max(within or 0.0, longest_reach_cm if complete else 0.0))
        spot.append(_around(place))
    return Closed(np.array(animal, np.float64), np.array(spot, np.float64))


def _around(spot: Spot | None) -> float:
    """How far around a spot nothing unnamed stands. [cm]"""
    return (spot.nothing_else_within_cm or 0.0) if spot is not None else 0.0


@dataclass(frozen=True, slots=True)
class Gaps:
    """Gaps between living tissue for any pairs of animal rows."""

    measure: Measure
    names: Names
    positions: Positions
    sizes: Sizes
    closed: Closed
    stated: StatedNumbers

    def at(self, first: Ints, second: Ints, spread: tuple[Numbers, Numbers] | None, months: Floats | None,
           assume: bool) -> Numbers:  # fmt: skip
        """Return the gap of each pair at a month. [cm]

        Parameters
        ----------
        first, second
            Animal rows, shape (n,) each.
        spread
            Outward growth of both edges, None for no growth. [mm/month]
        months
            Months ahead, None for now. [months]
        assume
            Whether widths that nobody told are reckoned with as the rules say.
        """
        one, other = self._radii(first, assume), self._radii(second, assume)
        now = self._bounded(first, second, one, other, self._placed(first, second, one, other))
        hits = self.hits(first, second)
        told = self._told(first, second, one, other, hits)
        now = choose(hits.at >= 0, told, now)
        now = self.stated.in_worlds(first, second, now)
        return grown(now, spread, months, self.measure)

    def hits(self, first: Ints, second: Ints) -> Hits:
        """Return the statement that counts for each pair."""
        return self.stated.find(self.names, first, second)

    def _radii(self, rows: Ints, assume: bool) -> Numbers:
        """Radius of each animal row. [cm]"""
        return take_numbers(self.sizes.radius(assume), self.positions.entity[rows])

    def _placed(self, first: Ints, second: Ints, one: Numbers, other: Numbers) -> Numbers:
        """Gaps as positions tell them; the physical range where they do not."""
        at = self.positions
        corners = (at.low[first], at.high[first], at.low[second], at.high[second])
        low = nearest_cm(*corners) - (one.high + other.high)
        high = farthest_cm(*corners) - (one.low + other.low)
        exact = at.exact[first] & at.exact[second]
        best = np.where(exact, middle_cm(*corners) - (one.best + other.best), np.nan)
        flags = one.flags | other.flags
        unknown = np.isnan(low)
        found = self._held(low, best, high, flags, unknown)
        return choose(self.on_one_spot(first, second), self._shared(first, one, other), found)

    def _held(self, low: Floats, best: Floats, high: Floats, flags: Flags, unknown: Bools) -> Numbers:
        """Numbers within the physical range, which is all there is where unknown."""
        floor, ceiling = self.measure.low, self.measure.high
        return Numbers(
            np.where(unknown, floor, np.clip(low, floor, ceiling)),
            np.where(unknown, np.nan, np.clip(best, floor, ceiling)),
            np.where(unknown, ceiling, np.clip(high, floor, ceiling)),
            np.where(unknown, MISSING, flags).astype(np.uint8),
        )

    def on_one_spot(self, first: Ints, second: Ints) -> Bools:
        """Return whether both stand on one spot and nobody told where on it."""
        at = self.positions
        together = (at.spot[first] == at.spot[second]) & (at.spot[first] >= 0)
        found: Bools = together & ~(at.own[first] & at.own[second])
        return found

    def _shared(self, first: Ints, one: Numbers, other: Numbers) -> Numbers:
        """Gaps of two animals on one spot: from touching to the width of the spot."""
        extent = self.positions.extent[first]
        across = np.where(np.isnan(extent), self.measure.high, extent - (one.low + other.low))
        size = len(first)
        none = np.zeros(size, np.bool_)
        return self._held(
            np.zeros(size), np.full(size, np.nan), across, np.full(size, MISSING, np.uint8), none
        )

    def bound(self, first: Ints, second: Ints, one: Numbers, other: Numbers) -> Floats:
        """Return what a keeper says is the least gap of a pair no statement names; 0 where nothing. [cm]

        It was said of the animals that stood there then, so it does not cover
        one that is added or moved.
        """
        here = self.positions.here
        said = self.closed
        of_first = np.maximum(said.around_animal[first], said.around_spot[first] - one.high)
        of_second = np.maximum(said.around_animal[second], said.around_spot[second] - other.high)
        least = np.maximum(np.where(here[second], of_first, 0.0), np.where(here[first], of_second, 0.0))
        together = self.on_one_spot(first, second)
        return np.where(together, 0.0, np.maximum(least, 0.0))

    def _bounded(self, first: Ints, second: Ints, one: Numbers, other: Numbers, found: Numbers) -> Numbers:
        """Gaps that are at least what the keeper says of all that is not named."""
        least = np.minimum(self.bound(first, second, one, other), self.measure.high)
        against = least > found.high
        high = np.where(against, self.measure.high, found.high)
        return Numbers(np.maximum(found.low, least), np.where(against, np.nan, np.maximum(found.best, least)),
                       high, found.flags)  # fmt: skip

    def _told(self, first: Ints, second: Ints, one: Numbers, other: Numbers, hits: Hits) -> Numbers:
        """Gaps as stated, less the radius on each side that was named by its spot."""
        said = self.stated.take(hits.at)
        a, b = hits.first_by_spot, hits.second_by_spot
        room = a * self.positions.room[first] + b * self.positions.room[second]
        low = said.low - (a * one.high + b * other.high) - room
        high = said.high - (a * one.low + b * other.low) + room
        best = said.best - (np.where(a, one.best, 0.0) + np.where(b, other.best, 0.0))
        flags = said.flags | np.where(a, one.flags, 0) | np.where(b, other.flags, 0)
        none = np.zeros(len(first), np.bool_)
        return choose(said.flags != 0, said, self._held(low, best, high, flags.astype(np.uint8), none))


def choose(where: Bools, these: Numbers, those: Numbers) -> Numbers:
    """Return one column where a condition holds and another elsewhere."""
    return Numbers(
        np.where(where, these.low, those.low),
        np.where(where, these.best, those.best),
        np.where(where, these.high, those.high),
        np.where(where, these.flags, those.flags).astype(np.uint8),
    )


def grown(
    now: Numbers, spread: tuple[Numbers, Numbers] | None, months: Floats | None, measure: Measure
) -> Numbers:
    """Return a room between two edges after both have grown into it.

    Parameters
    ----------
    now
        The room today. [cm]
    spread
        Growth of both edges, None where neither grows. [mm/month]
    months
        Months ahead, None for today. [months]
    """
    if spread is None or months is None or not (months > 0.0).any():
        return now
    one, other = spread
    ahead = months > 0.0
    flags = now.flags | np.where(ahead, one.flags | other.flags, 0).astype(np.uint8)
    best = gap_left_cm(now.best, spread_cm(months, one.best), spread_cm(months, other.best))
    return Numbers(
        np.maximum(
            gap_left_cm(now.low, spread_cm(months, one.high), spread_cm(months, other.high)), measure.low
        ),
        np.where(ahead, best, now.best),
        np.maximum(
            gap_left_cm(now.high, spread_cm(months, one.low), spread_cm(months, other.low)), measure.low
        ),
        flags,
    )
