"""Readings that all others contradict: named, and kept from pulling the light of every other place."""

from __future__ import annotations

from advisor.reasoning.light_field import LightField
from advisor.reasoning.light_values import Misfit

_LEAST = 4
"""Of fewer readings nobody can say which one is wrong."""
_SHARE = 4
"""At most one of so many is set aside; where more disagree, the lamps are told wrongly, not the readings."""


def parted(field: LightField, odd_from: float) -> tuple[LightField, tuple[Misfit, ...]]:
    """Part a field from readings that do not fit the rest of it.

    Parameters
    ----------
    odd_from
        How many standard deviations a reading may lie off what all others lead to expect.

    Returns
    -------
    The field without them, and each against what it leads to expect there; the field as it is, and
    none, where too few readings agree with each other to tell.
    """
    kept, left = field, []
    while len(kept.readings) >= _LEAST:
        worst = max(kept.misfits, key=lambda each: abs(each.deviations))
        if abs(worst.deviations) <= odd_from:
            break
        left.append(worst.reading)
        kept = kept.with_readings([each for each in kept.readings if each is not worst.reading])
    agree = all(abs(each.deviations) <= odd_from for each in kept.misfits)
    if not left or not agree or len(left) * _SHARE > len(field.readings):
        return field, ()
    odd = [kept.with_readings([*kept.readings, each]).misfits[-1] for each in left]
    return kept, tuple(odd)
