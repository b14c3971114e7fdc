"""What the bodies of a tank file are told in: one number, lengths in a row, one of a few words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from advisor.errors import QuantityError
from advisor.model.vocabulary import NumberType
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.ledger import try_closest
from advisor.tankfiles.nodes import Node, Scalar
from advisor.tankfiles.numbers import Amount, amount_text
from advisor.tankfiles.said import is_unknown
from advisor.units import UNITS, format_number, from_base

Word = TypeVar("Word", bound=StrEnum)

_CM, _PERCENT = (NumberType(UNITS[name].dimension, UNITS[name]) for name in ("cm", "%"))
_UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Figure:
    """What one number of a body may be. [base unit]"""

    name: str
    kind: NumberType
    such_as: str
    above: float | None = None
    """It lies above this; without it, at this or above 0."""
    below: float | None = None
    most: float | None = None
    must: str = ""
    """Why, in words, where the bounds do not say it."""
    otherwise: str = "unknown"
    """What to try where nothing of what is told can be kept."""

    def holds(self, value: float) -> bool:
        """Whether a value is possible."""
        low = value >= 0.0 if self.above is None else value > self.above
        high = (self.below is None or value < self.below) and (self.most is None or value <= self.most)
        return low and high

    def said(self, value: float) -> str:
        """Return a value as a keeper writes it."""
        return f"{format_number(from_base(value, self.kind.unit))} {self.kind.unit.name}"

    @property
    def bounds(self) -> str:
        """What is possible, in words."""
        low = "0 or more" if self.above is None else f"above {format_number(self.above)}"
        tops = ((self.below, "below"), (self.most, "at most"))
        high = [f"{word} {self.said(top)}" for top, word in tops if top is not None]
        return " and ".join([low, *high])


def is_told(node: Node | None) -> bool:
    """Return whether anything is told: not left out, not empty, not unknown."""
    return not (node is None or is_unknown(node) or (isinstance(node, Scalar) and node.blank))


def read_figure(node: Node | None, figure: Figure, reading: Reading) -> float | None:
    """Return one plain number, None where none is told or it cannot be (noted). [base unit]"""
    if node is None or not is_told(node):
        return None
    label = f"such as {figure.such_as}"
    try:
        if not isinstance(node, Scalar):
            raise QuantityError("one number is expected here")
        amount = amount_text(node.text, figure.kind)
    except QuantityError as fault:
        reading.ledger.note("value-131", str(fault), node.span, label=label, mend=figure.otherwise)
        return None
    if amount.best is None or amount.error is not None:
        what = f"'{node.text}' is not one number"
        reading.ledger.note("value-131", what, node.span, label=label, mend=_middle(amount, figure))
        return None
    if figure.holds(amount.best):
        return amount.best
    what = f"{figure.name} cannot be {figure.said(amount.best)}"
    reading.ledger.note(
        "value-132",
        f"{what}: {figure.must}" if figure.must else what,
        node.span,
        label=f"expected {figure.bounds}, {label}",
        mend=_without_sign(node.text, amount.best, figure),
    )
    return None


def _middle(amount: Amount, figure: Figure) -> str:
    """The one number that a range, or a number with its error, comes down to."""
    best = amount.best
    if best is None and amount.low is not None and amount.high is not None:
        best = (amount.low + amount.high) / 2.0
    fits = best is not None and figure.holds(best)
    return figure.said(best) if best is not None and fits else figure.otherwise


def _without_sign(text: str, value: float, figure: Figure) -> str:
    """The number without a sign that crept in, where that can be; else that nobody knows it."""
    return (
        text.strip().lstrip("-−")
        if value < 0.0 and not figure.must and figure.holds(-value)
        else figure.otherwise
    )


def read_turn(node: Node | None, reading: Reading) -> float:
    """Return how far something is turned about the vertical, 0 where it is not told. [degrees]"""
    kind = NumberType(UNITS["degrees"].dimension, UNITS["degrees"])
    if isinstance(node, Scalar) and is_told(node):
        try:
            value = amount_text(node.text, kind).best
        except QuantityError:
            value = None
        if value is not None and not 0.0 <= value <= 360.0:
            what, mend = (
                f"turned is 0 to 360 degrees, not {format_number(value)}",
                f"{value % 360.0:g} degrees",
            )
            reading.ledger.note(
                "value-132", what, node.span, label="against the clock, from above", mend=mend
            )
            return 0.0
    return read_figure(node, Figure("turned", kind, "90 degrees"), reading) or 0.0


def read_share(node: Node | None, name: str, such_as: str, reading: Reading) -> float | None:
    """Return a share that something is set to, None where none is told. [%]"""
    if isinstance(node, Scalar) and is_told(node) and may_be_of_one(node.text):
        what, mend = which_share(node.text), f"{float(node.text) * 100.0:g} %"
        reading.ledger.note("value-131", f"{name}: {what}", node.span, label=f"such as {such_as}", mend=mend)
        return None
    return read_figure(node, Figure(name, _PERCENT, such_as, most=100.0, otherwise="100 %"), reading)


def may_be_of_one(text: str) -> bool:
    """Return whether a bare number may be a share of 1 as well as one of 100."""
    return re.fullmatch(r"\s*(0?\.\d+|1(\.0*)?)\s*", text) is not None and float(text) > 0.0


def which_share(text: str) -> str:
    """Return the two shares that a bare number may be, as a sentence."""
    return f"'{text.strip()}' may be {text.strip()} % or {float(text) * 100.0:g} %"


def read_row(
    node: Node | None, counts: tuple[int, ...], such_as: str, reading: Reading, *, above_zero: bool = False
) -> tuple[float, ...]:
    """Return lengths in a row, with one unit for all or each its own; empty where none are told. [cm]

    Parameters
    ----------
    counts
        How many there may be.
    above_zero
        Whether they are sides, each above 0; else they are positions and may be anything.
    """
    if node is None or not is_told(node):
        return ()
    text = node.text.strip() if isinstance(node, Scalar) else ""
    parts = [part for part in re.split(r"\s*[x×,;]\s*", text) if part]
    tail = re.search(r"[A-Za-z\"]+$", text)
    try:
        if len(parts) not in counts:
            raise QuantityError(f"{' or '.join(str(count) for count in counts)} lengths are expected here")
        whole = [p if re.search(r"[A-Za-z\"]$", p) or tail is None else f"{p} {tail.group()}" for p in parts]
        amounts = [amount_text(part, _CM) for part in whole]
        odd = [
            p for p, each in zip(parts, amounts, strict=True) if each.best is None or each.error is not None
        ]
        if odd:
            raise QuantityError(f"'{odd[0]}' is not one length")
        values = tuple(each.best for each in amounts if each.best is not None)
        small = [part for part, value in zip(parts, values, strict=True) if above_zero and value <= 0.0]
        if small:
            raise QuantityError(f"a side cannot be {small[0]}: each is above 0")
    except QuantityError as fault:
        mend = f'"{such_as}"' if "," in such_as else such_as  # a comma parts keys where it is not in quotes
        reading.ledger.note("value-131", str(fault), node.span, label=f"such as {such_as}", mend=mend)
        return ()
    return values


def read_word(node: Node | None, words: type[Word], reading: Reading) -> Word | None:
    """Return one of a few words, None where none is told or it is another (noted)."""
    if node is None or not is_told(node):
        return None
    text = node.text.strip().lower() if isinstance(node, Scalar) else ""
    known = [word.value for word in words]
    if text in known:
        return words(text)
    what = f"'{text}' is not one of the words here" if text else "one word is expected here"
    label = f"expected {', '.join(known[:-1])} or {known[-1]}"
    reading.ledger.note("value-133", what, node.span, label=label, mend=try_closest(text, known, _UNKNOWN))
    return None
