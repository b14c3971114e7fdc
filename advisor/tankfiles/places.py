"""Where something is: place words as thirds of the glass, or a position on its axes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.errors import QuantityError
from advisor.model.tank import Box, Glass
from advisor.model.vocabulary import NumberType
from advisor.tankfiles.ledger import Ledger, closest, try_closest
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of
from advisor.tankfiles.numbers import amount_text
from advisor.units import UNITS, Dimension, format_number

LENGTH_CM = NumberType(Dimension.LENGTH, UNITS["cm"])

_THIRDS: dict[str, tuple[str, int]] = {
    "left": ("x", 0),
    "right": ("x", 2),
    "front": ("y", 0),
    "back": ("y", 2),
    "rear": ("y", 2),
    "low": ("z", 0),
    "bottom": ("z", 0),
    "high": ("z", 2),
    "top": ("z", 2),
}
_MIDDLE = frozenset({"middle", "mid", "centre", "center"})
_AXES = ("x", "y", "z")
_AXIS_KEYS = {"x": "x", "across": "x", "y": "y", "depth": "y", "z": "z", "height": "z"}

Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Place:
    """A place as written, and its box where the words and the glass give one."""

    written: str = ""
    box: Box | None = None


def read_place(node: Node, glass: Glass | None, ledger: Ledger) -> Place:
    """Return the place a value names; faults are noted.

    Parameters
    ----------
    node
        ``left, back, high``, ``20, 35, 28 cm``, a list of those, or a mapping x, y, z.
    glass
        Inside measures; without them words give no box.
    ledger
        Where faults are noted, a position outside the glass among them.
    """
    match node:
        case Scalar():
            if node.blank:
                return Place()
            parts = [p for p in re.split(r"\s*[,;/]\s*|\s+(?=[a-z]+$)", node.text.strip()) if p]
            if not re.match(r"^[+-]?[\d.]", node.text.strip()):
                return _by_words(re.split(r"[\s,;/]+", node.text.strip().lower()), node, glass, ledger)
            return _by_numbers(_share_unit(parts), node, glass, ledger)
        case Items(items=items):
            texts = [i.text.strip() for i in items if isinstance(i, Scalar)]
            if texts and re.match(r"^[+-]?[\d.]", texts[0]):
                return _by_numbers(_share_unit(texts), node, glass, ledger)
            return _by_words([word for t in texts for word in t.lower().split()], node, glass, ledger)
        case Keyed():
            return _by_axes(node, glass, ledger)


def is_place_word(text: str, before: Sequence[str]) -> bool:
    """Whether a text is meant as a place after the words `before`; a misspelt one or a position is, too."""
    words = re.split(r"[\s/-]+", text.strip().lower())
    taken = {_THIRDS[word][0] for part in before for word in part.lower().split() if word in _THIRDS}
    if re.match(r"[\d.]", text.strip()):
        return True
    if all(word in _THIRDS or word in _MIDDLE for word in words):
        return not any(word in _THIRDS and _THIRDS[word][0] in taken for word in words)
    return len(words) == 1 and bool(closest(words[0], _THIRDS))


def _share_unit(parts: list[str]) -> list[str]:
    """Give `20, 35, 28 cm` its unit three times; a lone unit at the end belongs to all."""
    if len(parts) > 1 and re.fullmatch(r"[A-Za-z\"]+", parts[-1]):
        unit = parts.pop()
    else:
        tail = re.search(r"[A-Za-z\"]+$", parts[-1]) if parts else None
        unit = tail.group() if tail else ""
    return [p if re.search(r"[A-Za-z\"]$", p) else f"{p} {unit}" for p in parts]


def _by_words(words: list[str], node: Node, glass: Glass | None, ledger: Ledger) -> Place:
    thirds: dict[str, int] = {}
    middles = 0
    for word in (w for w in words if w not in ("and", "the", "")):
        if word in _MIDDLE:
            middles += 1
        elif word not in _THIRDS:
            ledger.note(
                "value-137",
                f"'{word}' is not a place word",
                node.span,
                label="expected left, middle or right · front, middle or back · low, middle or high",
                mend=try_closest(word, _THIRDS, "left, back, high; or a position such as 20, 35, 28 cm"),
            )
            return Place()
        elif thirds.setdefault(_THIRDS[word][0], _THIRDS[word][1]) != _THIRDS[word][1]:
            ledger.note(
                "value-137",
                f"the place words '{' '.join(words)}' contradict each other",
                node.span,
                mend="one word for each axis",
            )
            return Place()
    free = [axis for axis in _AXES if axis not in thirds]
    if middles not in (0, len(free)):
        ledger.note(
            "value-137",
            "'middle' could mean more than one axis here",
            node.span,
            label="middle from left to right, from front to back, or of the height?",
            mend="name all three: left, middle, low",
        )
        return Place()
    for axis in free[:middles]:
        thirds[axis] = 1
    return Place(", ".join(w for w in words if w), _box_of_thirds(thirds, glass))


def _box_of_thirds(thirds: dict[str, int], glass: Glass | None) -> Box | None:
    if glass is None:
        return None
    ends = [_third(size, thirds.get(axis)) for axis, size in zip(_AXES, sizes_cm(glass), strict=True)]
    return Box(x=ends[0], y=ends[1], z=ends[2], by_word=True)


def _third(size_cm: float, which: int | None) -> Range:
    if which is None:
        return (0.0, size_cm)
    return (size_cm * which / 3.0, size_cm * (which + 1) / 3.0)


def sizes_cm(glass: Glass) -> tuple[float, float, float]:
    """Return how far the three axes reach; upward to the water where it is known. [cm]"""
    return (glass.length_cm, glass.width_cm, glass.height_cm if glass.water_cm is None else glass.water_cm)


def read_range_cm(text: str) -> Range:
    """Return one coordinate as a range; equal ends where it is exact. [cm]

    Raises
    ------
    QuantityError
        If the text is not a length.
    """
    amount = amount_text(text, LENGTH_CM)
    if amount.best is not None:
        error = amount.error or 0.0
        return (amount.best - error, amount.best + error)
    if amount.low is None or amount.high is None:
        raise QuantityError(f"'{text}' is not a position")
    return (amount.low, amount.high)


def _by_numbers(parts: list[str], node: Node, glass: Glass | None, ledger: Ledger) -> Place:
    try:
        if len(parts) != 3:
            raise QuantityError(f"a position has three numbers, x, y and z; here are {len(parts)}")
        ends = [read_range_cm(part) for part in parts]
    except QuantityError as fault:
        ledger.note(
            "value-137",
            str(fault),
            node.span,
            label="expected x, y, z from the inside front left bottom",
            mend='"20, 35, 28 cm"',
        )
        return Place()
    return _boxed(ends, node, glass, ledger, by_word=False, written=", ".join(parts))


def _by_axes(node: Keyed, glass: Glass | None, ledger: Ledger) -> Place:
    ends: dict[str, Range] = {}
    by_word = False
    sizes = dict(zip(_AXES, sizes_cm(glass), strict=True)) if glass is not None else {}
    for key, value in node.entries:
        axis = _AXIS_KEYS.get(key_of(key.text))
        if axis is None or not isinstance(value, Scalar):
            ledger.note(
                "value-137",
                f"'{key.text}' is not an axis",
                key.span,
                label="expected x, y and z",
                mend="{x: 20 cm, y: 35 cm, z: 28 cm}",
            )
            return Place()
        if value.blank:
            continue
        word = value.text.strip().lower()
        third = 1 if word in _MIDDLE else _THIRDS[word][1] if _THIRDS.get(word, ("", 0))[0] == axis else None
        try:
            if third is None:
                ends[axis] = read_range_cm(value.text)
            elif sizes:
                ends[axis] = _third(sizes[axis], third)
            by_word = by_word or third is not None
        except QuantityError as fault:
            ledger.note("value-137", str(fault), value.span, label=f"expected {axis} in cm", mend="20 cm")
            return Place()
    missing = [axis for axis in _AXES if axis not in ends]
    if missing and not sizes:
        return Place(_written(node))
    for axis in missing:
        ends[axis], by_word = (0.0, sizes[axis]), True
    return _boxed([ends[a] for a in _AXES], node, glass, ledger, by_word=by_word, written=_written(node))


def _within(ends: list[Range], glass: Glass) -> bool:
    """Whether the middle of a position lies in a tank that is no box."""
    from advisor.fields.rooms import holds, room_of  # brings numpy, which only a tank that is no box needs

    x, y, z = (sum(axis) / 2.0 for axis in ends)
    return holds(room_of(glass), x, y, z)


def _written(node: Keyed) -> str:
    return ", ".join(f"{k.text} {v.text}" for k, v in node.entries if isinstance(v, Scalar))


def _boxed(
    ends: list[Range], node: Node, glass: Glass | None, ledger: Ledger, *, by_word: bool, written: str
) -> Place:
    if glass is not None:
        for axis, (low, high), size in zip(_AXES, ends, sizes_cm(glass), strict=True):
            if low < 0 or high > size:
                given = (
                    format_number(low) if low == high else f"{format_number(low)} to {format_number(high)}"
                )
                ledger.note(
                    "place-151",
                    f"{axis} is {given} cm, which is outside the glass",
                    node.span,
                    label=f"{axis} goes from 0 to {format_number(size)} cm",
                    mend="measure from the inside front left bottom corner, or correct glass:",
                )
                return Place(written)
        if glass.outline_cm and not by_word and not _within(ends, glass):
            what = f"{written} is outside the glass, which is no box"
            mend = "correct it, or the shape, outline or scan of the glass"
            ledger.note("place-151", what, node.span, mend=mend)
            return Place(written)
    return Place(written, Box(x=ends[0], y=ends[1], z=ends[2], by_word=by_word))
