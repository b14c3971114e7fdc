"""Rocks as simple bodies: a block, a boulder, a shelf, an arch, a pillar, a plate, a heap."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh
from trimesh import creation

from advisor.errors import QuantityError
from advisor.model.lighting import RockShape

Floats: TypeAlias = npt.NDArray[np.float64]
Body: TypeAlias = trimesh.Trimesh
"""A surface of triangles. [cm]"""

_ROUND = 2
"""How often an icosahedron is divided for a round body: 320 faces."""
_AROUND = 24
"""Corners of a circle."""
_LEG = 0.25
"""Share of an arch's length that each of its legs takes, and of its height that its lintel takes."""


def rock_body(
    shape: RockShape,
    middle_cm: tuple[float, float],
    foot_cm: float,
    size_cm: tuple[float, float, float],
    turned_deg: float = 0.0,
) -> trimesh.Trimesh:
    """A closed surface for a rock.

    Parameters
    ----------
    middle_cm
        Middle of the rock seen from above, x and y. [cm]
    foot_cm
        Height of its lowest point over the bare glass. [cm]
    size_cm
        Its whole extent along x, y and z before it is turned, each above 0. [cm]
    turned_deg
        How far it is turned about the vertical, against the clock seen from above. [degrees]

    Returns
    -------
    A closed mesh whose normals look outward. [cm]

    Raises
    ------
    QuantityError
        If a side is not above 0.

    Examples
    --------
    >>> body = rock_body(RockShape.BLOCK, (50.0, 20.0), 0.0, (10.0, 20.0, 30.0))
    >>> body.bounds.tolist(), round(body.volume)
    ([[45.0, 10.0, 0.0], [55.0, 30.0, 30.0]], 6000)
    """
    if min(size_cm) <= 0.0 or not np.isfinite(size_cm).all():
        raise QuantityError(f"a rock of {size_cm} cm has no body: each side must be above 0")
    body = _unit(shape)
    cos, sin = np.cos(np.radians(turned_deg)), np.sin(np.radians(turned_deg))
    turn = np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
    corners = (np.asarray(body.vertices) * np.array(size_cm)) @ turn.T + np.array([*middle_cm, foot_cm])
    return trimesh.Trimesh(corners, body.faces, process=False)


def _unit(shape: RockShape) -> trimesh.Trimesh:
    """The body with sides of 1, standing on the origin."""
    body: trimesh.Trimesh
    match shape:
        case RockShape.BLOCK | RockShape.SHELF:
            body = creation.box((1.0, 1.0, 1.0))
        case RockShape.BOULDER:
            body = creation.icosphere(_ROUND, 0.5)
        case RockShape.PILLAR | RockShape.PLATE:
            body = creation.cylinder(0.5, 1.0, sections=_AROUND)
        case RockShape.ARCH:
            return _arch()
        case RockShape.HEAP:
            body = creation.cone(0.5, 1.0, sections=_AROUND)
            return body
    body.apply_translation([0.0, 0.0, 0.5])
    return body


def _arch() -> trimesh.Trimesh:
    """Two legs and a lintel, as one outline pushed through along y."""
    inner, top = 0.5 - _LEG, 1.0 - _LEG
    corners = [(-0.5, 0), (-inner, 0), (-inner, top), (inner, top), (inner, 0), (0.5, 0), (0.5, 1), (-0.5, 1)]
    faces = [(0, 1, 2), (0, 2, 7), (2, 3, 7), (7, 3, 6), (3, 4, 6), (4, 5, 6)]
    front = np.array([(x, -0.5, z) for x, z in corners], np.float64)
    back = front + np.array([0.0, 1.0, 0.0])
    count = len(corners)
    sides = [
        face
        for one in range(count)
        for two in [(one + 1) % count]
        for face in ((one, two, two + count), (one, two + count, one + count))
    ]
    ends = [*faces, *((c + count, b + count, a + count) for a, b, c in faces)]
    sides = [(c, b, a) for a, b, c in sides]
    body = trimesh.Trimesh(np.vstack([front, back]), [*ends, *sides], process=False)
    body.fix_normals()
    return body
