"""Whether one animal stands over another."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.boxes import farthest_cm, nearest_cm

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]


def stands_over(
    low_a: Floats,
    high_a: Floats,
    low_b: Floats,
    high_b: Floats,
    reach_low_cm: Floats,
    reach_high_cm: Floats,
) -> tuple[Bools, Bools]:
    """Whether a is higher than b and their outlines, seen from above, overlap.

    Parameters
    ----------
    low_a, high_a, low_b, high_b
        Opposite corners of the boxes of their middles, shape (n, 3). [cm]
    reach_low_cm, reach_high_cm
        Range of the sum of both radii, grown as far as asked. Shape (n,). [cm]

    Returns
    -------
    Surely over it, and surely not; neither where the boxes leave it open or
    a box is NaN. Shape (n,) each.

    Examples
    --------
    >>> top, foot = np.array([[0.0, 0.0, 30.0]]), np.array([[5.0, 0.0, 10.0]])
    >>> [found.tolist() for found in stands_over(top, top, foot, foot, np.array([8.0]), np.array([9.0]))]
    [[True], [False]]
    """
    plan_a, plan_b = (low_a[:, :2], high_a[:, :2]), (low_b[:, :2], high_b[:, :2])
    near, far = nearest_cm(*plan_a, *plan_b), farthest_cm(*plan_a, *plan_b)
    surely = (far < reach_low_cm) & (low_a[:, 2] > high_b[:, 2])
    never = (near >= reach_high_cm) | (high_a[:, 2] <= low_b[:, 2])
    return surely, never
