"""Distances between things whose positions are known as boxes."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]


def nearest_cm(low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats) -> Floats:
    """Smallest distance between a point of one box and a point of the other.

    Parameters
    ----------
    low_a, high_a, low_b, high_b
        Opposite corners of the boxes, shape (n, axes). [cm]

    Returns
    -------
    One distance per pair, 0 where the boxes meet, NaN where a box is NaN. [cm]

    Examples
    --------
    >>> a, b = np.array([[0.0, 0.0, 0.0]]), np.array([[3.0, 4.0, 0.0]])
    >>> nearest_cm(a, a, b, b).tolist()
    [5.0]
    """
    apart = np.maximum(np.maximum(low_a - high_b, low_b - high_a), 0.0)
    distance: Floats = np.sqrt((apart * apart).sum(axis=1))
    return distance


def farthest_cm(low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats) -> Floats:
    """Largest distance between a point of one box and a point of the other.

    Parameters
    ----------
    low_a, high_a, low_b, high_b
        Opposite corners of the boxes, shape (n, axes). [cm]

    Returns
    -------
    One distance per pair, NaN where a box is NaN. [cm]

    Examples
    --------
    >>> low, high = np.array([[0.0]]), np.array([[2.0]])
    >>> farthest_cm(low, high, low + 10.0, high + 10.0).tolist()
    [12.0]
    """
    span = np.maximum(high_a - low_b, high_b - low_a)
    distance: Floats = np.sqrt((span * span).sum(axis=1))
    return distance


def middle_cm(low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats) -> Floats:
    """Distance between the middles of two boxes.

    Parameters
    ----------
    low_a, high_a, low_b, high_b
        Opposite corners of the boxes, shape (n, axes). [cm]

    Returns
    -------
    One distance per pair, NaN where a box is NaN. [cm]

    Examples
    --------
    >>> low, high = np.array([[0.0]]), np.array([[2.0]])
    >>> middle_cm(low, high, low + 10.0, high + 10.0).tolist()
    [10.0]
    """
    between = ((low_a + high_a) - (low_b + high_b)) / 2.0
    distance: Floats = np.sqrt((between * between).sum(axis=1))
    return distance
