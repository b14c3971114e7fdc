"""The sentences of a rule with their holes filled from what was recorded."""

from __future__ import annotations

from advisor.model.cells import Cause
from advisor.model.results import Value
from advisor.reasoning.compile import Template
from advisor.reasoning.frame import Ref
from advisor.reasoning.ops import NumberCell
from advisor.reasoning.record import Row, value_of
from advisor.units import Dimension, Unit, format_quantity, span_ends


def fill(template: Template, row: Row, month_text: str = "") -> str:
    """Return a text with its holes filled from the recorded columns."""
    out = []
    for piece in template.pieces:
        if isinstance(piece, str):
            out.append(month_text if piece == "{month}" else piece)
        elif isinstance(piece, Ref):
            out.append(row.label(piece))
        elif isinstance(piece, NumberCell):
            out.append(_cell_in_words(piece, row))
        else:
            out.append(in_words(value_of(piece, row)))
    return "".join(out)


def _cell_in_words(op: NumberCell, row: Row) -> str:
    """A quantity as it stands in a sentence; an old one says that it is old."""
    value = value_of(op, row)
    if row.cell(op).cause is Cause.STALE and value.best is not None:
        return f"{format_quantity(value.best, _unit(value))} (an old reading)"
    return in_words(value)


def in_words(value: Value) -> str:
    """Return a value as it stands in a sentence; a range is rounded outward to what its width deserves."""
    if value.truth is not None:
        return "yes" if value.truth else "no"
    if value.words:
        return " or ".join(value.words)
    ends = [end for end in (value.low, value.high) if end is not None]
    if not value.known or not ends:
        return "an unknown amount"
    if value.best is not None:
        return format_quantity(value.best, _unit(value))
    if len(ends) == 1:
        only = format_quantity(ends[0], _unit(value))
        return f"up to {only}" if value.low is None else f"{only} or more"
    first, last = span_ends(*ends)
    gap = "" if value.unit in ("", "%") else " "
    return f"{first if first == last else f'{first} to {last}'}{gap}{value.unit}"


def _unit(value: Value) -> Unit:
    """The unit a value is printed in."""
    return Unit(value.unit, Dimension.COUNT)
