"""What a keeper tells of a reading of light besides its value: output of the lamps, factor of the meter."""

from __future__ import annotations

from advisor.errors import QuantityError
from advisor.model.tank import Immersion
from advisor.model.vocabulary import NumberType
from advisor.tankfiles.ledger import Ledger, closest
from advisor.tankfiles.nodes import Node, Scalar, in_words
from advisor.tankfiles.numbers import amount_text
from advisor.units import UNITS, format_number

CORRECTED = "corrected"
_LEAST, _MOST = 1.0, 1.6
"""Under water a sensor made for air shows too little; published factors lie between 1.08 and 1.32. [1]"""
_FULL_PERCENT = 100.0
_PERCENT, _TIMES = (NumberType(UNITS[name].dimension, UNITS[name]) for name in ("%", "times"))


def read_output(node: Node, ledger: Ledger) -> float | None:
    """Return what the lamps were set to when light was read, above 0 and at most 100. [%]"""
    if isinstance(node, Scalar) and (node.blank or node.unknown):
        return None
    share = _number(node, _PERCENT)
    if share is not None and share <= 1.0 and isinstance(node, Scalar) and "%" not in node.text:
        what = f"'{node.text}' may be {format_number(share * _FULL_PERCENT)} % or {format_number(share)} %"
        mend = f"{format_number(share * _FULL_PERCENT)} %"
        ledger.note("value-132", what, node.span, label="output is told in %", mend=mend)
        return None
    if share is not None and 0.0 < share <= _FULL_PERCENT:
        return share
    what = f"'{in_words(node)}' is no output that light can be read at"
    ledger.note("value-132", what, node.span, label="above 0 and at most 100 %", mend="60 %")
    return None


def read_immersion(node: Node, ledger: Ledger) -> Immersion | None:
    """Return the factor of a meter under water; ``corrected`` is 1, and anything absurd is noted. [1]"""
    text = in_words(node)
    if isinstance(node, Scalar) and node.unknown:
        return Immersion(factor=None)
    if isinstance(node, Scalar) and node.blank:
        return None
    if text.lower() == CORRECTED:
        return Immersion(factor=1.0)
    factor = _number(Scalar(text.lstrip("x× "), node.span), _TIMES) if isinstance(node, Scalar) else None
    if factor is not None and _LEAST <= factor <= _MOST:
        return Immersion(factor=factor)
    ledger.note(
        "value-141",
        f"'{text}' is no factor of a light meter under water",
        node.span,
        label=f"expected {_LEAST:g} to {_MOST:g}, {CORRECTED} or unknown",
        mend=_mend(text, factor),
    )
    return None


def _number(node: Node, kind: NumberType) -> float | None:
    """One plain number, None where there is none."""
    try:
        return amount_text(node.text, kind).best if isinstance(node, Scalar) else None
    except QuantityError:
        return None


def _mend(text: str, factor: float | None) -> str:
    """The number that may be meant: of a divisor what to multiply by, of per cent the times."""
    likely = [] if not factor or factor < 0.0 else [1.0 / factor, factor / _FULL_PERCENT]
    meant = next((format_number(each) for each in likely if _LEAST < each <= _MOST), "")
    word = closest(text.lower(), (CORRECTED, "unknown"))
    return meant or word or "unknown, or what the manual of this very sensor says"
