"""The plane through a patch of rock around a point."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]


def planes_through(ring_cm: Floats, rise_cm: Floats, near: Bools) -> tuple[Floats, Floats]:
    """Return the tilt of the plane through each patch, and how far the patch departs from it.

    Parameters
    ----------
    ring_cm
        Points around the middle of every patch, along the surface, shape (k, 2). [cm]
    rise_cm
        Height of the surface over the middle at each of them, shape (n, k). [cm]
    near
        Which of them belong to the patch, shape (n, k).

    Returns
    -------
    Rise of each plane for 1 cm along both axes, shape (n, 2), and the greatest
    distance to it, shape (n,). [1, cm]
    """
    tilt = np.zeros((len(rise_cm), 2))
    uneven = np.zeros(len(rise_cm))
    for row in range(len(rise_cm)):  # the points of the rim that count differ from place to place
        there = near[row]
        known = np.vstack([[0.0, 0.0], ring_cm[there]])
        heights = np.concatenate([[0.0], rise_cm[row][there]])
        wide = np.column_stack([known, np.ones(len(known))])
        plane, *_ = np.linalg.lstsq(wide, heights, rcond=None)
        tilt[row] = plane[:2]
        uneven[row] = np.abs(wide @ plane - heights).max()
    return tilt, uneven
