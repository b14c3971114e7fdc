"""Tanks that are no boxes: a cylinder, a bow front, or an outline told corner by corner."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import TypeAlias

from advisor.errors import QuantityError
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.ledger import try_closest
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of
from advisor.tankfiles.numbers import amount_text
from advisor.tankfiles.places import LENGTH_CM
from advisor.tankfiles.surroundings import read_length_cm

OUTLINE_KEYS = ("shape", "diameter", "bow", "outline")
BOX, CYLINDER, BOW_FRONT = "box", "cylinder", "bow front"
_SHAPES = (BOX, CYLINDER, BOW_FRONT)
_AROUND = 72
"""Corners of a round wall; the wall of a cylinder of 60 cm is then nowhere off by more than 0.03 cm."""

Outline: TypeAlias = tuple[tuple[float, float], ...]
"""Corners seen from above, from the front left, in order. [cm]"""


def read_outline(node: Keyed, sizes: dict[str, float], reading: Reading) -> Outline | None:
    """Return the outline of a tank that is no box, empty for a box, and fill in its length and width.

    Parameters
    ----------
    sizes
        Inside measures told so far, by the field of the glass.

    Returns
    -------
    None where something about it is faulty, which is noted.
    """
    told = {key_of(key.text): value for key, value in node.entries}
    corners = told.get("outline")
    found = _by_shape(node, told, sizes, reading) if corners is None else _corners(corners, reading)
    if found:
        sizes["length_cm"], sizes["width_cm"] = (max(corner[axis] for corner in found) for axis in (0, 1))
    return found


def _by_shape(
    node: Keyed, told: dict[str, Node], sizes: dict[str, float], reading: Reading
) -> Outline | None:
    """The outline of a shape with a name."""
    shape = told.get("shape")
    text = " ".join(re.split(r"[\s_-]+", shape.text.strip().lower())) if isinstance(shape, Scalar) else ""
    if shape is None or text == BOX:
        return ()
    if text not in _SHAPES:
        what = f"'{text}' is no shape of a tank I know"
        label = f"expected {', '.join(_SHAPES)}; or tell its outline"
        mend = try_closest(text, _SHAPES, CYLINDER)
        reading.ledger.note("value-133", what, shape.span, label=label, mend=mend)
        return None
    key = "diameter" if text == CYLINDER else "bow"
    size = read_length_cm(told[key], key, reading) if key in told else None
    length, width = sizes.get("length_cm", 0.0), sizes.get("width_cm", 0.0)
    if size is None or size <= 0.0 or (text == BOW_FRONT and min(length, width) <= 0.0):
        mend = "{shape: cylinder, diameter: 60 cm, height: 50 cm}"
        if text == BOW_FRONT:
            mend = "{shape: bow front, length: 90 cm, width: 45 cm, bow: 10 cm, height: 50 cm}"
        reading.ledger.note("key-123", f"a {text} needs more than is told", node.span, mend=mend)
        return None
    if text == CYLINDER:
        return _arc((size / 2.0, size / 2.0), size / 2.0, 0.0, 2.0 * math.pi, _AROUND)[:-1]
    if size >= min(width, length / 2.0):
        what = "the bow is deeper than a bow front can be"
        reading.ledger.note("value-132", what, told[key].span, mend="how far the front bulges: bow: 10 cm")
        return None
    return _bow(length, width, size)


def _bow(length: float, width: float, bow: float) -> Outline:
    """A box whose front bulges to y = 0 in its middle, the side walls beginning at y = bow."""
    radius = (length**2 / 4.0 + bow**2) / (2.0 * bow)
    half = math.asin(length / 2.0 / radius)
    front = _arc((length / 2.0, radius), radius, -math.pi / 2.0 - half, -math.pi / 2.0 + half, _AROUND // 2)
    return (*front, (length, width), (0.0, width))


def _arc(middle: tuple[float, float], radius: float, first: float, last: float, parts: int) -> Outline:
    """Points along an arc, both ends among them."""
    angles = [first + (last - first) * at / parts for at in range(parts + 1)]
    x, y = middle
    points = [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]
    return tuple((max(px, 0.0), max(py, 0.0)) for px, py in points)


def _corners(node: Node, reading: Reading) -> Outline | None:
    """An outline told corner by corner."""
    mend = '["0, 0 cm", "80, 0 cm", "80, 50 cm"]'
    try:
        if not isinstance(node, Items) or len(node.items) < 3:
            raise QuantityError("an outline has three corners or more, in order")
        found = tuple(_corner(item) for item in node.items)
        if crosses_itself(found):
            raise QuantityError("this outline crosses itself")
    except QuantityError as fault:
        label = "expected x, y of each corner"
        reading.ledger.note("value-137", str(fault), node.span, label=label, mend=mend)
        return None
    return found


def _corner(node: Node) -> tuple[float, float]:
    """One corner, x and y. [cm]"""
    text = node.text.strip() if isinstance(node, Scalar) else ""
    parts = [part for part in re.split(r"\s*[,;]\s*", text) if part]
    if len(parts) != 2:
        raise QuantityError("a corner has two numbers, x and y")
    unit = re.search(r"[A-Za-z\"]+$", text)
    whole = [p if re.search(r"[A-Za-z\"]$", p) or unit is None else f"{p} {unit.group()}" for p in parts]
    x, y = (amount_text(part, LENGTH_CM).best for part in whole)
    if x is None or y is None or x < 0.0 or y < 0.0:
        raise QuantityError(f"'{text}' is not a corner to the right of and behind the front left one")
    return (x, y)


def crosses_itself(outline: Sequence[tuple[float, float]]) -> bool:
    """Return whether two sides of an outline that are no neighbours meet.

    >>> crosses_itself([(0, 0), (4, 4), (4, 0), (0, 4)]), crosses_itself([(0, 0), (4, 0), (4, 4)])
    (True, False)
    """
    sides = [(one, outline[(at + 1) % len(outline)]) for at, one in enumerate(outline)]
    return any(
        _meet(*sides[one], *sides[two])
        for one in range(len(sides))
        for two in range(one + 2, len(sides))
        if (two + 1) % len(sides) != one
    )


def _meet(a: Sequence[float], b: Sequence[float], c: Sequence[float], d: Sequence[float]) -> bool:
    """Whether two stretches cross."""
    return _left(a, b, c) * _left(a, b, d) < 0.0 and _left(c, d, a) * _left(c, d, b) < 0.0


def _left(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> float:
    """Above 0 where c lies to the left of the way from a to b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
