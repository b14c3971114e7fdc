"""How far a reading of light may be off where the meter's factor under water is not known."""

from __future__ import annotations

import math
from dataclasses import replace

from advisor.language.house_state import base as base_of
from advisor.language.library import Library
from advisor.model.vocabulary import Measure
from advisor.reasoning.survey_facts import Facts, together
from advisor.reasoning.survey_rows import TANK

LIGHT = "light"
UNCORRECTED = "meter-uncorrected"
UNSURE_METER = "unsure-meter-error"
"""The named number of the rule files that says how far such a meter may be off."""
PERCENT = 100.0
_Z90 = 1.6448536269514722
"""Half width of a 90 % interval in standard deviations of a normal distribution."""


def with_meter_error(measure: Measure, library: Library, facts: Facts) -> Measure:
    """Return the measure of light with the error of a meter without its factor, where that is told.

    Parameters
    ----------
    measure
        Any measure; only that of light changes.
    library
        Where the number stands.
    facts
        All that is said.
    """
    unsure = _unsure(library, facts) if measure.name == LIGHT else 0.0
    return replace(measure, error=unsure) if unsure > measure.error else measure


def factor_doubt(library: Library, facts: Facts) -> float:
    """Return how far all readings may be off together where the factor is not known.

    Returns
    -------
    A standard deviation of a logarithm, beside the meter's other errors; 0 where the factor is known. [1]
    """
    return math.log1p(_unsure(library, facts)) / _Z90


def _unsure(library: Library, facts: Facts) -> float:
    """The error of a meter without its factor as a share, 0 where it has one."""
    told, let = together(facts.of(UNCORRECTED, TANK)), library.lets.get(UNSURE_METER)
    return base_of(let.value) / PERCENT if let is not None and told and told[0].truth is True else 0.0
