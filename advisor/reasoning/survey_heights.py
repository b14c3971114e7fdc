"""Clear height from one animal up to another, taken at a month."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.model.vocabulary import Measure
from advisor.reasoning.columns import MISSING, Floats, Ints, Numbers
from advisor.reasoning.survey_bodies import Positions, Sizes
from advisor.reasoning.survey_gaps import choose, grown
from advisor.reasoning.survey_pairs import Hits, Names
from advisor.reasoning.survey_stated import StatedNumbers


@dataclass(frozen=True, slots=True)
class Heights:
    """Free height between two animals for any pairs of animal rows."""

    measure: Measure
    names: Names
    positions: Positions
    sizes: Sizes
    stated: StatedNumbers

    def at(self, first: Ints, second: Ints, spread: tuple[Numbers, Numbers] | None,
           months: Floats | None) -> Numbers:  # fmt: skip
        """Return the height from the second up to the first at a month. [cm]

        Parameters
        ----------
        first, second
            Animal rows, shape (n,) each: the upper and the lower one.
        spread
            Upward growth towards each other, None for no growth. [mm/month]
        months
            Months ahead, None for now. [months]
        """
        hits = self.hits(first, second)
        now = choose(hits.at >= 0, self.stated.take(hits.at), self._placed(first, second))
        return grown(self.stated.in_worlds(first, second, now), spread, months, self.measure)

    def hits(self, first: Ints, second: Ints) -> Hits:
        """Return the statement that counts for each pair."""
        return self.stated.find(self.names, first, second)

    def _placed(self, first: Ints, second: Ints) -> Numbers:
        """Heights as positions tell them: between the grounds, less how high the lower one may stand."""
        at, measure = self.positions, self.measure
        grounds = at.low[first, 2] - at.high[second, 2], at.high[first, 2] - at.low[second, 2]
        tall = self.sizes.named("mature-height")
        height = np.where(tall.flags == 0, tall.high, measure.high)[at.entity[second]]
        surely_over = grounds[0] > 0.0
        low = np.where(surely_over, np.clip(grounds[0] - height, measure.low, measure.high), measure.low)
        high = np.where(surely_over, np.clip(grounds[1], measure.low, measure.high), measure.high)
        return Numbers(low, np.full(len(first), np.nan), high, np.full(len(first), MISSING, np.uint8))
