"""Where living tissue ends, now and at a month to come."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]

MM_PER_CM = 10.0


def radius_cm(width_cm: Floats, opens_times: Floats) -> Floats:
    """Half the width of an animal, opened.

    Parameters
    ----------
    width_cm
        Width at rest. [cm]
    opens_times
        How many times its width at rest it opens to; 1 where it is measured open. [times]

    Returns
    -------
    Distance from its middle to the edge of living tissue. [cm]

    Examples
    --------
    >>> radius_cm(np.array([8.0]), np.array([1.5])).tolist()
    [6.0]
    """
    radius: Floats = width_cm * opens_times / 2.0
    return radius


def spread_cm(months: Floats, edge_mm_per_month: Floats) -> Floats:
    """How far one edge has moved outward after some months.

    Parameters
    ----------
    months
        Months ahead, 0 for now. [months]
    edge_mm_per_month
        Linear extension of one edge. [mm/month]

    Returns
    -------
    Distance, never negative for growth of 0 or more. [cm]

    Notes
    -----
    Constant linear extension: the usual planning assumption; a table or a
    mat may speed up as it widens.

    Examples
    --------
    >>> spread_cm(np.array([12.0]), np.array([3.0])).tolist()
    [3.6]
    """
    spread: Floats = months * edge_mm_per_month / MM_PER_CM
    return spread


def gap_left_cm(gap_cm: Floats, spread_a_cm: Floats, spread_b_cm: Floats) -> Floats:
    """Gap that is left when both edges have moved towards each other.

    Parameters
    ----------
    gap_cm
        Gap between living tissue now. [cm]
    spread_a_cm, spread_b_cm
        How far each edge has moved. [cm]

    Returns
    -------
    The gap, 0 once they touch. [cm]

    Examples
    --------
    >>> gap_left_cm(np.array([10.0, 5.0]), np.array([3.0, 3.0]), np.array([4.0, 4.0])).tolist()
    [3.0, 0.0]
    """
    left: Floats = np.maximum(gap_cm - (spread_a_cm + spread_b_cm), 0.0)
    return left
