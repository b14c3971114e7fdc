"""Text to an amount in base units: a number, a number with its error, a range, a bound, or a word."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from advisor.errors import QuantityError
from advisor.model.vocabulary import Measure, NumberType
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.lux import LUX, note_lux
from advisor.tankfiles.nodes import Scalar
from advisor.tankfiles.tidied import without_fractions
from advisor.units import (
    BASE_UNIT,
    DAYS_PER_MONTH,
    DIMENSIONLESS,
    UNITS,
    Dimension,
    Quantity,
    format_number,
    from_base,
    parse_quantity,
    to_base,
)


@dataclass(frozen=True, slots=True)
class Amount:
    """What a text says of a quantity; exactly one form is filled. [base unit]"""

    best: float | None = None
    error: float | None = None
    low: float | None = None
    high: float | None = None
    words: tuple[str, ...] = ()
    lux: bool = False
    """Whether this is light in lux."""

    def times(self, factor: float) -> Amount:
        """The amount in a unit so many times as small."""
        best, error, low, high = (
            None if end is None else end * factor for end in (self.best, self.error, self.low, self.high)
        )
        return replace(self, best=best, error=error, low=low, high=high)


_KILO = 1000.0
_NUMBER = r"[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?"
_ERROR = re.compile(r"^(.+?)\s*(?:±|\+/-|\+-|\+/−|plus or minus)\s*(.+)$", re.IGNORECASE)
_RANGE = re.compile(rf"^({_NUMBER})\s*([^\d]*?)\s*(?:-|–|—|\.\.|\bto\b)\s*({_NUMBER})\s*(.*)$")
_LEAST = re.compile(r"^(?:at least|more than|over|above|from|>=|>|≥)\s*(?=[\d.])(.+)$", re.IGNORECASE)
_MOST = re.compile(r"^(?:at most|less than|under|below|up to|<=|<|≤)\s*(?=[\d.])(.+)$", re.IGNORECASE)
_ABOUT = re.compile(r"^(?:about|around|roughly|circa|ca\.?|~|≈)\s*(?=[\d.])(.+)$", re.IGNORECASE)
_SCALE = ("very low", "low", "medium", "moderate", "high", "very high")
_SCALE_RANGE = re.compile(rf"^({'|'.join(_SCALE)})\s*(?:-|–|\bto\b|\bor\b)\s*({'|'.join(_SCALE)})$")
_EVERY = {
    "hourly": 1 / 24.0,
    "daily": 1.0,
    "every day": 1.0,
    "every other day": 2.0,
    "every second day": 2.0,
    "weekly": 7.0,
    "every week": 7.0,
    "fortnightly": 14.0,
    "every other week": 14.0,
    "monthly": DAYS_PER_MONTH,
    "every month": DAYS_PER_MONTH,
    "yearly": 365.25,
}
_TIMES = {"once": 1.0, "twice": 2.0, "three times": 3.0, "four times": 4.0}
_TIMES_A = re.compile(r"^(once|twice|three times|four times|(\d+) times) (?:a|per) (day|week|month|year)$")
_SPAN_DAYS = {"day": 1.0, "week": 7.0, "month": DAYS_PER_MONTH, "year": 365.25}


def amount_text(text: str, kind: NumberType, of_value: float = 0.0) -> Amount:
    """Return what a text says of a quantity.

    Parameters
    ----------
    text
        ``118 PAR``, ``118 ±12 PAR``, ``100-140 PAR``, ``at least 40 cm``, ``weekly``, or words.
    kind
        Dimension and unit; the unit is that of bare numbers.
    of_value
        The value an error in percent refers to where the text gives 0. [base unit]

    Returns
    -------
    The amount in base units; an open end of a bound is None.

    Raises
    ------
    QuantityError
        If the text begins like a number and is not one, or has a wrong unit.
    """
    cleaned = without_fractions(text.replace("−", "-").replace("\u00a0", " ").strip())
    if re.match(r"\d{4}-\d{2}-\d{2}", cleaned):
        raise QuantityError(f"'{text}' is a date, but {kind.dimension.value} is expected")
    words = _words(cleaned, kind)
    if words is not None:
        return words
    for pattern, end in ((_LEAST, "low"), (_MOST, "high")):
        bound = pattern.match(cleaned)
        if bound is not None:
            value = _base(bound.group(1), kind)
            return Amount(low=value) if end == "low" else Amount(high=value)
    return _number_or_range(cleaned, kind, of_value)


def _words(text: str, kind: NumberType) -> Amount | None:
    lowered = re.sub(r"\s+", " ", text.lower()).strip(" .")
    if kind.dimension is Dimension.TIME:
        days = _every(lowered)
        if days is not None:
            return Amount(best=days)
    if _ABOUT.match(lowered):
        raise QuantityError(f"'{text}' does not say how sure it is")
    if re.match(r"^[+-]?[\d.]", lowered) or _LEAST.match(lowered) or _MOST.match(lowered):
        return None
    both = _SCALE_RANGE.match(lowered)
    return Amount(words=(both.group(1), both.group(2)) if both else (lowered,))


def _every(text: str) -> float | None:
    if text in _EVERY:
        return _EVERY[text]
    often = _TIMES_A.match(text)
    if often is not None:
        times = float(often.group(2)) if often.group(2) else _TIMES[often.group(1)]
        return _SPAN_DAYS[often.group(3)] / times if times else None
    spaced = re.match(r"^every (\d.*)$", text)
    if spaced is None:
        return None
    return _base(spaced.group(1), NumberType(Dimension.TIME, UNITS["days"]))


def _number_or_range(text: str, kind: NumberType, of_value: float) -> Amount:
    split = _ERROR.match(text)
    if split is not None:
        return _with_error(split.group(1), split.group(2), kind, of_value)
    ends = _RANGE.match(text)
    if ends is not None:
        first, first_unit, second, second_unit = ends.groups()
        low = _base(f"{first} {first_unit.strip() or second_unit}", kind)
        high = _base(f"{second} {second_unit.strip() or first_unit}", kind)
        if low > high:
            raise QuantityError(f"the range '{text}' runs downward")
        return Amount(low=low, high=high)
    return Amount(best=_base(text, kind))


def _with_error(value_text: str, error_text: str, kind: NumberType, of_value: float) -> Amount:
    error = parse_quantity(error_text, kind.unit)
    if error.value < 0:
        raise QuantityError(f"the error '{error_text}' is below zero")
    unit_free = re.fullmatch(_NUMBER, value_text.strip()) is not None
    borrowed = error.unit.name if unit_free and error.unit.dimension is kind.dimension else ""
    best = _base(f"{value_text} {borrowed}" if borrowed else value_text, kind)
    if error.unit.dimension is Dimension.PERCENT and kind.dimension is not Dimension.PERCENT:
        return Amount(best=best, error=abs(best or of_value) * error.value / 100.0)
    if error.unit.dimension is Dimension.TEMPERATURE_STEP and kind.dimension is Dimension.TEMPERATURE:
        return Amount(best=best, error=error.value * error.unit.factor)
    _require_fit(error, kind, error_text)
    return Amount(best=best, error=error.value * error.unit.factor)


def _base(text: str, kind: NumberType) -> float:
    quantity = parse_quantity(
        text.strip().rstrip(".") if not text.strip().endswith("..") else text, kind.unit
    )
    _require_fit(quantity, kind, text)
    return quantity.base


def _require_fit(quantity: Quantity, kind: NumberType, text: str) -> None:
    given = quantity.unit.dimension
    if given is kind.dimension or (given in DIMENSIONLESS and kind.dimension in DIMENSIONLESS):
        return
    raise QuantityError(f"'{text.strip()}' is {given.value}, but {kind.dimension.value} is expected")


def read_amount(node: Scalar, measure: Measure, kind: NumberType, ledger: Ledger) -> Amount | None:
    """Return the amount a text states about one measure, or None with the fault noted."""
    if kind.dimension is Dimension.LIGHT and LUX.search(node.text):
        return _in_lux(node, measure, kind, ledger)
    try:
        amount = amount_text(node.text, kind)
    except QuantityError as fault:
        ledger.note(
            "value-131",
            str(fault),
            node.span,
            label=f"expected {measure.name} {_forms(kind)}",
            mend=_mend(node.text, measure, kind),
        )
        return None
    outside = [
        v
        for v in (amount.best, amount.low, amount.high)
        if v is not None and not measure.low <= v <= measure.high
    ]
    if outside:
        other = in_other_unit(node.text, measure, kind)
        ledger.note(
            "value-132",
            f"{measure.name} cannot be {_shown(outside[0], kind)}",
            node.span,
            label=f"expected {_shown(measure.low, kind)} to {_shown(measure.high, kind)}{_meant(other)}",
            mend=other or _READ_AGAIN,
        )
        return None
    if (amount.low is None) != (amount.high is None):
        low = measure.low if amount.low is None else amount.low
        return Amount(low=low, high=measure.high if amount.high is None else amount.high)
    return amount


def _in_lux(node: Scalar, measure: Measure, kind: NumberType, ledger: Ledger) -> Amount | None:
    """Light in lux, PAR only once the lamps over this tank are known; those of other tanks never are."""
    units = LUX.findall(node.text)
    try:
        if measure.name != "light" or len({unit.lower() for unit in units}) > 1:
            raise QuantityError("lux")
        found = amount_text(LUX.sub(" PAR", node.text), kind)
    except QuantityError:
        note_lux(node.span, ledger)
        return None
    return replace(found.times(_KILO if units[0] else 1.0), lux=True)


def _forms(kind: NumberType) -> str:
    unit = f" {kind.unit.name}" if kind.unit.name else ""
    return f"as a number{f' in{unit}' if unit else ''}, a range, a word, or unknown"


_EASILY_TAKEN = frozenset({Dimension.SALINITY, Dimension.TEMPERATURE})
"""Dimensions whose units are taken for each other even where one is written."""


def _meant(other: str) -> str:
    return "; do you mean specific gravity?" if other.endswith(" SG") else ""


def in_other_unit(text: str, measure: Measure, kind: NumberType) -> str:
    """Return a text's first number with the unit that puts it inside a measure's range, or an empty text.

    Examples
    --------
    A salinity of ``1.025`` or ``1025`` can only be meant as ``1.025 SG``.
    """
    number = re.match(rf"\s*({_NUMBER})", text)
    if number is None:
        return ""
    written = number.group(1)
    units = dict.fromkeys(u for u in UNITS.values() if u.dimension is kind.dimension)
    bare = re.fullmatch(rf"\s*{_NUMBER}\s*", text) is not None
    for unit in units if bare or kind.dimension in _EASILY_TAKEN else ():
        if measure.low <= to_base(float(written), unit) <= measure.high:
            return f"{written} {unit.name}"
    gravity = UNITS["SG"]
    thousandth = float(written) / 1000.0
    if kind.dimension is Dimension.SALINITY and measure.low <= to_base(thousandth, gravity) <= measure.high:
        return f"{format_number(thousandth, 5)} {gravity.name}"
    return ""


_READ_AGAIN = "read it again, or write unknown"
_ONE_NUMBER = "one number with its unit, or a range from low to high"
_SECONDS = re.compile(r"(?<![/a-z])(?:s|secs?|seconds?)\b", re.IGNORECASE)
_GROUPED = re.compile(r"\b[1-9]\d*,\d{3}\b")
"""A comma that may part thousands, so that nobody knows which number is meant."""


def _mend(text: str, measure: Measure, kind: NumberType) -> str:
    about = _ABOUT.match(text.strip())
    unit = f" {kind.unit.name}" if kind.unit.name else ""
    if about is not None:
        return "write the range you would bet on: 100-140" + unit
    if kind.dimension is Dimension.SPEED and _SECONDS.search(text):
        return "20 cm in 2.0, 2.2, 1.9 s, in place of what you timed"
    comma = re.search(r"\d+,\d+", text)
    grouped = kind.dimension is not Dimension.SALINITY and _GROUPED.search(text) is not None
    if grouped or len(re.findall(_NUMBER, text)) > (1 if comma is None else 2):
        return _ONE_NUMBER
    if comma is not None:
        pointed = text.replace(comma.group(), comma.group().replace(",", ".")).strip()
        return pointed if _fits(pointed, measure, kind) else in_other_unit(pointed, measure, kind) or pointed
    number = re.match(rf"\s*({_NUMBER})", text)
    if number is None:
        return _READ_AGAIN
    plain = f"{number.group(1)}{unit}"
    if _fits(plain, measure, kind):
        return plain
    return in_other_unit(plain, measure, kind) or _READ_AGAIN


def _fits(text: str, measure: Measure, kind: NumberType) -> bool:
    try:
        value = amount_text(text, kind).best
    except QuantityError:
        return False
    return value is not None and measure.low <= value <= measure.high


def _shown(base_value: float, kind: NumberType) -> str:
    unit = kind.unit if kind.unit.dimension is kind.dimension else BASE_UNIT[kind.dimension]
    return f"{format_number(from_base(base_value, unit))} {unit.name}".strip()
