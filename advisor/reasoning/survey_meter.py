"""How far a reading of light may be off where its meter's factor under water is not known."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from advisor.language.house_state import base as base_of
from advisor.language.library import Library
from advisor.model.cells import Support
from advisor.model.computed import METER_LETS
from advisor.model.tank import Statement
from advisor.model.vocabulary import Measure
from advisor.reasoning.light_numbers import Z90
from advisor.reasoning.survey_facts import LIGHT, Facts, together
from advisor.reasoning.survey_grounds import FACTOR_NOT_KNOWN
from advisor.reasoning.survey_rows import TANK
from advisor.reasoning.survey_touched import changed_lets

UNCORRECTED = "meter-uncorrected"
(UNSURE_METER,) = METER_LETS
"""The named number of the rule files that says how far such a meter may be off."""
PERCENT = 100.0


@dataclass(frozen=True, slots=True)
class FactorDoubt:
    """What is not known of factors under water; what is told of a reading or its meter goes first."""

    share: float = 0.0
    """How far a reading without its factor may be off, 90 % two-sided; 0 where no rule file says. [1]"""
    untold: bool = False
    """Whether the keeper says that the factor is not known, so that it holds where nothing else is told."""
    changed: tuple[Support, ...] = ()
    """What house lines have set of that share."""

    def as_read(self, measure: Measure, said: Statement) -> tuple[Measure, Statement]:
        """Return a measure and a statement with the error that a factor nobody knows adds.

        An error of its own stays where only the tank as a whole is told to be without a factor;
        where that is told of the very reading, or of its meter, it is widened to the larger of both.
        """
        if said.best is None or not self.unsure(measure, said):
            return measure, said
        wider = self.share > measure.error
        step = FACTOR_NOT_KNOWN if wider else f"{FACTOR_NOT_KNOWN}; its usual error covers that"
        told = said.model_copy(update={"error": None, "reckoned": (*said.reckoned, step)})
        return replace(measure, error=max(self.share, measure.error)), told

    def unsure(self, measure: Measure, said: Statement) -> bool:
        """Return whether the factor that a reading needs is not known, and no error told covers that."""
        if self.share == 0.0:
            return False
        if said.immersion is not None:
            covered = said.error is not None and said.error >= self.share * (said.best or 0.0)
            return said.immersion.factor is None and not covered
        return self.untold and measure.name == LIGHT and said.error is None

    def shared(self, measure: Measure, said: Statement, place: str) -> tuple[tuple[str, float], ...]:
        """Return what a reading may be off together with all others of its meter.

        Returns
        -------
        A name and the standard deviation of a logarithm, or nothing where the factor is known. [1]
        """
        if not self.unsure(measure, said):
            return ()
        of = "the meter" if said.immersion is None else said.how.split(",")[0].strip() or place
        return ((f"factor of {of}", math.log1p(self.share) / Z90),)


KNOWN_FACTORS = FactorDoubt()
"""Nothing is doubtful."""


def factor_doubt(library: Library, facts: Facts) -> FactorDoubt:
    """Return what is not known of the factors of light meters under water.

    Parameters
    ----------
    library
        Where the number stands.
    facts
        All that is said.
    """
    told, let = together(facts.of(UNCORRECTED, TANK)), library.lets.get(UNSURE_METER)
    share = base_of(let.value) / PERCENT if let is not None else 0.0
    return FactorDoubt(share, bool(told) and told[0].truth is True, changed_lets(library, METER_LETS))
