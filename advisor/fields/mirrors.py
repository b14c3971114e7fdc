"""The walls of a glass box as mirrors: where a point seems to stand, and how a ray folds back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.optics import reflectance

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]
Bools: TypeAlias = npt.NDArray[np.bool_]

ORDER = 2
"""Most walls one ray is followed over; the third adds under one per cent in a tank."""

FOLDS: Ints = np.array(
    [(i, j) for i in range(-ORDER, ORDER + 1) for j in range(-ORDER, ORDER + 1) if abs(i) + abs(j) <= ORDER]
)
"""Shape (13, 2): walls a ray comes over across x and across y, negative where the left or front is first."""

_HITS_LOW = (np.abs(FOLDS) + (FOLDS < 0)) // 2
_HITS_HIGH = np.abs(FOLDS) - _HITS_LOW

MEETINGS: Ints = np.column_stack([_HITS_LOW[:, 0], _HITS_HIGH[:, 0], _HITS_LOW[:, 1], _HITS_HIGH[:, 1]])
"""Shape (13, 4): how often a ray of each fold meets the left, right, front and back wall."""


@dataclass(frozen=True, slots=True)
class Walls:
    """A box of glass seen from above; the share each wall throws back, None where Fresnel decides."""

    length_cm: float
    width_cm: float
    left: float | None = None
    right: float | None = None
    front: float | None = None
    back: float | None = None


def images_cm(points_cm: Floats, walls: Walls) -> Floats:
    """Where each point seems to stand, straightened out of the walls.

    Parameters
    ----------
    points_cm
        Shape (n, 2): x and y. [cm]

    Returns
    -------
    Shape (folds, n, 2), in the order of `FOLDS`. [cm]

    Examples
    --------
    >>> found = images_cm(np.array([[10.0, 5.0]]), Walls(100.0, 50.0))
    >>> found[[0, 6, -1], 0].tolist()
    [[-190.0, 5.0], [10.0, 5.0], [210.0, 5.0]]
    """
    sides = np.array([walls.length_cm, walls.width_cm])
    turned = (FOLDS % 2 == 1)[:, None, :]
    whole = FOLDS[:, None, :] * sides
    images: Floats = np.where(turned, whole + sides - points_cm, whole + points_cm)
    return images


def thrown_back(along: Floats, fold: Ints, walls: Walls, index: float) -> Floats:
    """Share of a ray that is left after its walls.

    Parameters
    ----------
    along
        Parts of the unit direction in water along x and y, shape (n, 2). [1]
    fold
        Row of `FOLDS` of each ray, shape (n,).
    index
        Refractive index of the water. [1]
    """
    shares = ((walls.left, walls.right), (walls.front, walls.back))
    left = np.ones(len(fold))
    for axis, (low, high) in enumerate(shares):
        clean = reflectance(np.abs(along[:, axis]), 1.0 / index)
        for hits, share in ((_HITS_LOW[fold, axis], low), (_HITS_HIGH[fold, axis], high)):
            left = left * (clean if share is None else np.full(len(fold), share)) ** hits
    return left


def legs(start_cm: Floats, end_cm: Floats, fold: Ints, walls: Walls) -> tuple[Floats, Floats, Bools]:
    """The straight parts of a folded ray, as they lie in the box.

    Parameters
    ----------
    start_cm
        Straightened point, shape (n, 3). [cm]
    end_cm
        Where the ray leaves the water, inside the box, shape (n, 3). [cm]

    Returns
    -------
    Start of each part, shape (parts, n, 3) [cm]; its direction, same shape
    and not of unit length; and whether the ray has that part, shape (parts, n).
    """
    way = end_cm - start_cm
    cuts = np.full((ORDER, len(fold)), 1.0)
    for axis, side in enumerate((walls.length_cm, walls.width_cm)):
        for nth in range(ORDER):
            wall = (
                np.where(FOLDS[fold, axis] > 0, FOLDS[fold, axis] - nth, FOLDS[fold, axis] + nth + 1) * side
            )
            there = np.abs(FOLDS[fold, axis]) > nth
            with np.errstate(divide="ignore", invalid="ignore"):
                cut = np.where(there, (wall - start_cm[:, axis]) / way[:, axis], 1.0)
            cuts = np.sort(np.vstack([cuts, cut]), axis=0)[:ORDER]
    bounds = np.vstack([np.zeros(len(fold)), cuts, np.ones(len(fold))])
    starts, middles = bounds[:-1], (bounds[:-1] + bounds[1:]) / 2.0
    has = np.vstack([np.ones(len(fold), np.bool_), cuts < 1.0])
    at = start_cm + starts[..., None] * way
    inside = start_cm + middles[..., None] * way
    direction = np.broadcast_to(way, at.shape).copy()
    for axis, side in enumerate((walls.length_cm, walls.width_cm)):
        cell = np.floor(inside[..., axis] / side)
        odd = cell % 2 == 1
        offset = at[..., axis] - cell * side
        at[..., axis] = np.where(odd, side - offset, offset)
        direction[..., axis] *= np.where(odd, -1.0, 1.0)
    return at, direction, has
