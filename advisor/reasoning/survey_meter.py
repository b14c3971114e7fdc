"""How far a reading of light may be off where the meter's factor under water is not known."""

from __future__ import annotations

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
    told = together(facts.of(UNCORRECTED, TANK)) if measure.name == LIGHT else ()
    let = library.lets.get(UNSURE_METER)
    if let is None or not told or told[0].truth is not True:
        return measure
    return replace(measure, error=max(measure.error, base_of(let.value) / PERCENT))
