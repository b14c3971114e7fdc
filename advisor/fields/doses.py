"""Light over a day: how much arrives while lamps ramp, shine and fade."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from advisor.errors import QuantityError

HOURS_PER_DAY = 24.0
SECONDS_PER_HOUR = 3600.0
UMOL_PER_MOL = 1e6


def dose_mol(par_umol: float, programme: Sequence[tuple[float, float]]) -> float:
    """Daily light integral under lamps that follow a programme.

    Parameters
    ----------
    par_umol
        PAR with the lamps at full strength. [µmol/m²/s]
    programme
        Hours, rising, with the share of full strength at each; straight in between, dark before the
        first and after the last. Hours past midnight go on from 24. [h], [1]

    Returns
    -------
    Photons from 400 to 700 nm in a day. [mol/m²/d]

    Raises
    ------
    QuantityError
        If the hours do not rise within a day and night or a share is not between 0 and 1.

    Examples
    --------
    >>> round(dose_mol(300.0, ((8.0, 0.0), (10.0, 1.0), (18.0, 1.0), (20.0, 0.0))), 2)
    10.8
    """
    hours = [hour for hour, _ in programme]
    if hours != sorted(hours) or (hours and (hours[0] < 0.0 or hours[-1] > hours[0] + HOURS_PER_DAY)):
        raise QuantityError("the hours of a programme rise, and none is over a day after the first")
    if any(not 0.0 <= share <= 1.0 for _, share in programme):
        raise QuantityError("a lamp's share of full strength lies between 0 and 1")
    steps = pairwise(programme)
    full_hours = sum((end - start) * (low + high) / 2.0 for (start, low), (end, high) in steps)
    return par_umol * full_hours * SECONDS_PER_HOUR / UMOL_PER_MOL
