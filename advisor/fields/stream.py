"""Which of two things lies down the stream from the other."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]


def down_stream(
    low_from: Floats, high_from: Floats, low_to: Floats, high_to: Floats, direction_deg: float
) -> tuple[Bools, Bools]:
    """Whether the stream runs from one thing to another, within 45 degrees of the line between them.

    Parameters
    ----------
    low_from, high_from, low_to, high_to
        Opposite corners of the boxes they lie in, shape (n, 2): x and y. [cm]
    direction_deg
        Where the water goes, 0 along x, 90 along y. [degrees]

    Returns
    -------
    Surely down-stream, and surely not; neither where the boxes leave it open
    or a box is NaN. Shape (n,) each.

    Notes
    -----
    With u along and v across the stream, a point lies within 45 degrees
    where u >= |v|. Both u - v and u + v are linear, so their ranges over
    two boxes are exact; *surely not* errs towards open.

    Examples
    --------
    >>> here, right = np.array([[0.0, 0.0]]), np.array([[10.0, 2.0]])
    >>> [found.tolist() for found in down_stream(here, here, right, right, 0.0)]
    [[True], [False]]
    """
    cos, sin = np.cos(np.radians(direction_deg)), np.sin(np.radians(direction_deg))
    low, high = low_to - high_from, high_to - low_from
    minus = _range(low, high, cos + sin, sin - cos)
    plus = _range(low, high, cos - sin, sin + cos)
    tiny = 1e-9  # rounding of an exact 45 degrees must not decide
    surely = (minus[0] >= -tiny) & (plus[0] >= -tiny) & (minus[0] + plus[0] > tiny)
    never = (minus[1] < -tiny) | (plus[1] < -tiny)
    return surely, never


def _range(low: Floats, high: Floats, by_x: float, by_y: float) -> tuple[Floats, Floats]:
    """Exact range of ``by_x * x + by_y * y`` over boxes."""
    ends_x = np.stack([low[:, 0] * by_x, high[:, 0] * by_x])
    ends_y = np.stack([low[:, 1] * by_y, high[:, 1] * by_y])
    return ends_x.min(axis=0) + ends_y.min(axis=0), ends_x.max(axis=0) + ends_y.max(axis=0)
