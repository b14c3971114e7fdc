"""Room between two animals: stated or computed gaps and heights, taken at a month."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.fields.boxes import farthest_cm, middle_cm, nearest_cm
from advisor.fields.growth import gap_left_cm, spread_cm
from advisor.model.tank import Animal, Spot
from advisor.model.vocabulary import Measure
from advisor.reasoning.columns import MISSING, Bools, Flags, Floats, Ints, Numbers
from advisor.reasoning.survey_bodies import Positions, Sizes, day_number
from advisor.reasoning.survey_pack import take_numbers
from advisor.reasoning.survey_pairs import Hits, Names
from advisor.reasoning.survey_rows import Layout
from advisor.reasoning.survey_stated import StatedNumbers


@dataclass(frozen=True, slots=True)
class Closed:
    """What a keeper says is not near, one entry an animal row; -inf where nothing is said."""

    around_animal: Floats
    """Nothing unnamed within this of its edge. [cm]"""
    animal_day: Ints
    """Day number of that, 0 if undated."""
    around_spot: Floats
    """Nothing unnamed within this of the middle of its spot. [cm]"""
    complete_spot: Floats
    """Nothing unnamed within this of whatever stands on its spot. [cm]"""
    spot_day: Ints
    anywhere: bool
    """Whether anything is said at all."""


def closed_of(layout: Layout, longest_reach_cm: float) -> Closed:
    """Return what is said not to be near each animal row.

    Parameters
    ----------
    longest_reach_cm
        What "all gaps are stated" stands for: all within any animal's reach. [cm]
    """
    spots = [layout.places[row.place].spot for row in layout.animals]
    owners = [row.animal if row.here else None for row in layout.animals]
    around_animal = [max(_within(each), _complete(each, longest_reach_cm)) for each in owners]
    around_spot = [_within(each) for each in spots]
    complete_spot = [_complete(each, longest_reach_cm) for each in spots]
    return Closed(
        np.array(around_animal, np.float64),
        np.array([day_number(each.closed_on) if each is not None else 0 for each in owners], np.int64),
        np.array(around_spot, np.float64),
        np.array(complete_spot, np.float64),
        np.array([day_number(each.closed_on) if each is not None else 0 for each in spots], np.int64),
        any(told > -np.inf for told in (*around_animal, *around_spot, *complete_spot)),
    )


def _within(thing: Spot | Animal | None) -> float:
    """How far around a thing nothing unnamed stands; -inf where nothing is said. [cm]"""
    told = thing.nothing_else_within_cm if thing is not None else None
    return -np.inf if told is None else told


def _complete(thing: Spot | Animal | None, longest_reach_cm: float) -> float:
    """How far every neighbour is named; -inf where nothing is said. [cm]"""
    return longest_reach_cm if thing is not None and thing.gaps_complete else -np.inf


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
        far = self._farthest(first, second)
        now = self._bounded(first, second, (one, other), self._placed(first, second, one, other, far), far)
        hits = self.hits(first, second)
        if (hits.at >= 0).any():
            now = choose(hits.at >= 0, self._told(first, second, one, other, hits), now)
        return grown(self.stated.in_worlds(first, second, now), spread, months, self.measure)

    def hits(self, first: Ints, second: Ints) -> Hits:
        """Return the statement that counts for each pair."""
        return self.stated.find(self.names, first, second)

    def _radii(self, rows: Ints, assume: bool) -> Numbers:
        """Radius of each animal row. [cm]"""
        return take_numbers(self.sizes.radius(assume), self.positions.entity[rows])

    def _farthest(self, first: Ints, second: Ints) -> Floats:
        """Largest distance between the middles of each pair. [cm]"""
        at = self.positions
        return farthest_cm(at.low[first], at.high[first], at.low[second], at.high[second])

    def _placed(self, first: Ints, second: Ints, one: Numbers, other: Numbers, far: Floats) -> Numbers:
        """Gaps as positions tell them; the physical range where they do not."""
        at = self.positions
        corners = (at.low[first], at.high[first], at.low[second], at.high[second])
        low = nearest_cm(*corners) - (one.high + other.high)
        high = far - (one.low + other.low)
        exact = at.exact[first] & at.exact[second]
        best = np.where(exact, middle_cm(*corners) - (one.best + other.best), np.nan)
        flags = one.flags | other.flags
        unknown = np.isnan(low)
        found = self._held(low, best, high, flags, unknown)
        together = self.on_one_spot(first, second)
        return choose(together, self._shared(first, one, other), found) if together.any() else found

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
        """Return what a keeper says is the least gap of a pair no statement names; -inf where nothing. [cm]

        It was said of the animals that stood there then, so it does not cover
        one that is added or moved.
        """
        least = np.maximum(self._cleared(first, second, one), self._cleared(second, first, other))
        return np.where(self.on_one_spot(first, second), -np.inf, least)

    def _cleared(self, of: Ints, other: Ints, radius: Numbers) -> Floats:
        """How far the keeper says all is clear round one of a pair, where that covers the other."""
        said, at = self.closed, self.positions
        moved = at.moved_day[other]
        by_animal = np.where(
            np.maximum(moved, at.moved_day[of]) <= said.animal_day[of], said.around_animal[of], -np.inf
        )
        spot = np.maximum(said.around_spot[of] - radius.high, said.complete_spot[of])
        by_spot = np.where(moved <= said.spot_day[of], spot, -np.inf)
        found: Floats = np.where(at.here[other], np.maximum(by_animal, by_spot), -np.inf)
        return found

    def _bounded(
        self, first: Ints, second: Ints, radii: tuple[Numbers, Numbers], found: Numbers, far: Floats
    ) -> Numbers:
        """Gaps that are at least what the keeper says of all that is not named.

        Where positions leave no room for what the keeper says, even of the
        widest animals, the keeper is believed and the positions tell nothing.
        """
        if not self.closed.anywhere:
            return found
        one, other = radii
        least = np.minimum(self.bound(first, second, one, other), self.measure.high)
        against = least > far - (one.high + other.high)
        low = np.maximum(found.low, least)
        high = np.where(against, self.measure.high, found.high)
        return Numbers(low, np.where(against, np.nan, np.maximum(found.best, least)), high, found.flags)

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
    """Return a room between two edges after both have grown into it; what is not known stays so.

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
    known = (now.low > measure.low) | (now.high < measure.high)
    ahead = np.where(known, months, 0.0)
    flags = now.flags | np.where(ahead > 0.0, one.flags | other.flags, 0).astype(np.uint8)
    best = gap_left_cm(now.best, spread_cm(ahead, one.best), spread_cm(ahead, other.best))
    low = gap_left_cm(now.low, spread_cm(ahead, one.high), spread_cm(ahead, other.high))
    high = gap_left_cm(now.high, spread_cm(ahead, one.low), spread_cm(ahead, other.low))
    return Numbers(
        np.maximum(low, measure.low),
        np.where(ahead > 0.0, best, now.best),
        np.maximum(high, measure.low),
        flags,
    )
