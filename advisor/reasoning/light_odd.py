"""Readings that all others contradict: named, and no longer alone in saying what other places get."""

from __future__ import annotations

from advisor.reasoning.light_field import LightField
from advisor.reasoning.light_numbers import LightNumbers
from advisor.reasoning.light_values import Misfit


def parted(field: LightField, numbers: LightNumbers) -> tuple[LightField, tuple[Misfit, ...]]:
    """Part a field from readings that do not fit the rest of it.

    Parameters
    ----------
    numbers
        From how many deviations a reading is odd, how many readings it takes to say so, and which share
        of them may be odd at most: where more disagree, the lamps are told wrongly, not the readings.

    Returns
    -------
    The field without them, its intervals wide enough for the field with them, too: a misread number and
    a lamp told wrongly look alike. And each odd reading against what the others lead to expect there.
    The field as it is, and none, where too few readings agree with each other to tell.
    """
    kept, left = field, []
    while len(kept.readings) >= numbers.odd_least:
        worst = max(kept.misfits, key=lambda each: abs(each.deviations))
        if abs(worst.deviations) <= numbers.odd_from:
            break
        left.append(worst.reading)
        kept = kept.with_readings([each for each in kept.readings if each is not worst.reading])
    agree = all(abs(each.deviations) <= numbers.odd_from for each in kept.misfits)
    if not left or not agree or len(left) > numbers.odd_share * len(field.readings):
        return field, ()
    odd = [kept.with_readings([*kept.readings, each]).misfits[-1] for each in left]
    return kept.beside(field), tuple(odd)
