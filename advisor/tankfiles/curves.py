"""Tables that tell of a lamp: how it shines by direction, by colour, and over a day."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import pairwise

from advisor.errors import QuantityError
from advisor.fields.spectra import spectrum_of
from advisor.model.vocabulary import NumberType
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.figures import is_told, may_be_of_one, which_share
from advisor.tankfiles.nodes import Keyed, Node, Scalar
from advisor.tankfiles.numbers import amount_text
from advisor.units import UNITS

Pairs = tuple[tuple[float, float], ...]
Rows = list[tuple[str, str]]

_DEGREES, _PERCENT = (NumberType(UNITS[name].dimension, UNITS[name]) for name in ("degrees", "%"))
_SOME_ANGLES = "{0: 1, 30: 0.8, 60: 0.2}"
_A_DAY = "{9: 0 %, 11: 100 %, 17: 100 %, 19: 0 %}"
_A_CHART = "{400: 5 %, 430: 40 %, 450: 100 %, 470: 40 %, 500: 10 %, 560: 15 %, 660: 5 %, 700: 0 %}"
_LEAST_NM, _MOST_NM = 280.0, 1000.0
_UNKNOWN = "unknown"
_HOURS = 24.0
_LONGEST_DAY = 18.0
"""Over midnight a longer one has two hours in the wrong order: no reef lamp shines so long. [h]"""


class _TableError(QuantityError):
    """A table that cannot be, and what may be typed in its place."""

    def __init__(self, message: str, mend: str = _UNKNOWN) -> None:
        super().__init__(message)
        self.mend = mend


def read_angles(node: Node | None, reading: Reading) -> Pairs:
    """Return how much a lamp sends by the angle from straight down; empty where that is not told.

    Returns
    -------
    Angles that rise from 0, and intensities in any one unit. [degrees], [1]
    """
    return _read(node, _SOME_ANGLES, _angles, reading)


def read_programme(node: Node | None, reading: Reading) -> Pairs:
    """Return how much of its output a lamp sends by the hour; empty where that is not told.

    Returns
    -------
    Hours that rise, those after midnight counted on from 24, and shares. [h], [%]
    """
    return _read(node, _A_DAY, _programme, reading)


def read_spectrum(node: Node | None, reading: Reading) -> Pairs:
    """Return how much a lamp sends of each colour; empty where that is not told.

    Returns
    -------
    Wavelengths that rise, and radiant power in any one unit. [nm], [1]
    """
    return _read(node, _A_CHART, _spectrum, reading)


def _read(node: Node | None, such_as: str, table: Callable[[Rows], Pairs], reading: Reading) -> Pairs:
    """One table, its fault noted."""
    if node is None or not is_told(node):
        return ()
    try:
        return table(_rows(node))
    except _TableError as fault:
        reading.ledger.note("value-131", str(fault), node.span, label=f"such as {such_as}", mend=fault.mend)
        return ()


def _rows(node: Node) -> Rows:
    """What stands in the two columns."""
    if not isinstance(node, Keyed) or not node.entries:
        raise _TableError("a table is expected here")
    found = []
    for name, value in node.entries:
        if not isinstance(value, Scalar):
            raise _TableError(f"one number is expected after {name.text}")
        found.append((name.text.strip(), value.text.strip()))
    return found


def _angles(rows: Rows) -> Pairs:
    angles = [_angle(left) for left, _ in rows]
    shares = [_share(right) for _, right in rows]
    bare = [right for _, right in rows if re.fullmatch(r"[\d.]+", right)]
    if bare and len(bare) < len(rows):
        raise _TableError(f"'{bare[0]}' has no % and others have")
    if any(one >= two for one, two in pairwise(angles)):
        raise _TableError("the angles must rise", _sorted(rows, angles))
    if angles[0] > 0.0:
        raise _TableError(
            "the first angle must be 0, straight down", _sorted([("0", rows[0][1]), *rows], [0.0, *angles])
        )
    _require_light(shares)
    return tuple(zip(angles, shares, strict=True))


def _spectrum(rows: Rows) -> Pairs:
    colours = [_wavelength(left) for left, _ in rows]
    shares = [_share(right) for _, right in rows]
    if any(one >= two for one, two in pairwise(colours)):
        raise _TableError("the wavelengths must rise", _sorted(rows, colours))
    _require_light(shares)
    found = tuple(zip(colours, shares, strict=True))
    try:
        spectrum_of(found)
    except QuantityError as fault:
        raise _TableError(str(fault)) from fault
    return found


def _wavelength(text: str) -> float:
    """A colour. [nm]"""
    found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(?:nm)?", text)
    if found is None or not _LEAST_NM <= float(found[1]) <= _MOST_NM:
        raise _TableError(f"'{text}' is not a wavelength from {_LEAST_NM:g} to {_MOST_NM:g} nm")
    return float(found[1])


def _programme(rows: Rows) -> Pairs:
    hours = _risen([_hour(left, rows) for left, _ in rows], rows)
    for _, right in rows:
        if may_be_of_one(right):
            raise _TableError(which_share(right), _in_percent(rows))
    shares = [_share(right) for _, right in rows]
    _require_light(shares)
    return tuple(zip(hours, shares, strict=True))


def _require_light(shares: Sequence[float]) -> None:
    """Raise for a table of one row, or one that never shines."""
    if len(shares) < 2:
        raise _TableError("a table of one row says nothing: two or more are expected")
    if not any(shares):
        raise _TableError("all of it is 0, so that nothing would shine")


def _risen(hours: list[float], rows: Rows) -> list[float]:
    """Hours that go on past midnight, once."""
    late = next((at for at, (one, two) in enumerate(pairwise(hours), start=1) if two <= one), len(hours))
    if late < len(hours) and hours[late] == hours[late - 1]:
        raise _TableError(f"the hour {rows[late][0]} stands twice: tell two times, one minute apart")
    found = [*hours[:late], *(hour + _HOURS for hour in hours[late:])]
    if any(one >= two for one, two in pairwise(found)) or (
        found != hours and found[-1] > found[0] + _LONGEST_DAY
    ):
        raise _TableError("the hours must rise, past midnight once at most", _sorted(rows, hours))
    return found


def _sorted(rows: Rows, keys: Sequence[float]) -> str:
    """The table with its left column rising."""
    return _table([row for _, row in sorted(zip(keys, rows, strict=True), key=lambda each: each[0])])


def _in_percent(rows: Rows) -> str:
    """The table with shares of 1 told in percent."""
    every = all(may_be_of_one(right) or _plain(right) == 0.0 for _, right in rows)
    return _table([(left, f"{float(right) * 100.0:g} %") for left, right in rows]) if every else _UNKNOWN


def _plain(text: str) -> float | None:
    """A bare number, None for anything else."""
    return float(text) if re.fullmatch(r"\d+(\.\d+)?", text) else None


def _table(rows: Rows) -> str:
    return "{" + ", ".join(f"{left}: {right}" for left, right in rows) + "}"


def _share(text: str) -> float:
    """One share. [%]"""
    return _number(text, _PERCENT, 100.0, "does not lie between 0 and 100 %")


def _angle(text: str) -> float:
    """An angle from straight down. [degrees]"""
    return _number(text, _DEGREES, 90.0, "is not an angle from 0 to 90 degrees")


def _number(text: str, kind: NumberType, most: float, otherwise: str) -> float:
    """One plain number from 0 to a most, in its base unit."""
    try:
        value = amount_text(text, kind).best
    except QuantityError as fault:
        raise _TableError(str(fault)) from fault
    if value is None or not 0.0 <= value <= most:
        raise _TableError(f"'{text}' {otherwise}")
    return value


def _hour(text: str, rows: Rows) -> float:
    """An hour of the day, 9 or 9:30. [h]"""
    found = re.fullmatch(r"(\d{1,2})(?::([0-5]\d))?", text)
    hour = int(found[1]) + int(found[2] or 0) / 60.0 if found is not None else -1.0
    if found is not None and _HOURS < hour < 2.0 * _HOURS:
        after = f"{int(found[1]) - 24}:{found[2] or '00'}"
        mend = _table([(after if left == text else left, right) for left, right in rows])
        raise _TableError(f"'{text}' is not an hour of the day; past midnight it is {after}", mend)
    if not 0.0 <= hour <= _HOURS:
        raise _TableError(f"'{text}' is not an hour of the day")
    return hour
