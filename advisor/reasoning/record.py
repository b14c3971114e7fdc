"""From the columns of a judged frame to a tree of steps a person can read.

Nothing is computed here that the run did not compute: the steps are the
operations' own columns, read at one row.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from advisor.language.nodes import ArithOp, CompareOp, IsOp
from advisor.model.cells import Cell, Support
from advisor.model.results import Ground, Value
from advisor.model.vocabulary import Grade
from advisor.reasoning.columns import MISSING, STALE, Numbers, Sets, Truths, Words
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.frame import Frame, Ref
from advisor.reasoning.logic_ops import Every, Exact, Negation, NumberAggregate, Some, TruthAggregate
from advisor.reasoning.ops import (
    Arithmetic,
    Cases,
    Constant,
    Defined,
    DefinedQuantity,
    Extreme,
    Minus,
    NumberCell,
    Op,
    Quantity,
    RelationCell,
    SetCell,
    TruthConstant,
    WordCell,
    truth,
)
from advisor.reasoning.step_ops import StepsAway
from advisor.reasoning.unknowns import is_blank
from advisor.reasoning.word_ops import WordIs
from advisor.units import BASE_UNIT, Dimension, Unit, format_quantity, from_base

CellOp = NumberCell | WordCell | SetCell | RelationCell

NONE = "none"
"""What the least and the most of nobody are called."""

Key = tuple[str, tuple[int, ...]]
"""A cell of the tables: the name of its measure or relation, and its rows; of a gap in either order."""

COMPARISON = {
    CompareOp.AT_LEAST: "at least",
    CompareOp.AT_MOST: "at most",
    CompareOp.MORE: "more than",
    CompareOp.LESS: "less than",
}
_OPERATION = {
    ArithOp.ADD: "plus",
    ArithOp.SUBTRACT: "minus",
    ArithOp.MULTIPLY: "times",
    ArithOp.DIVIDE: "divided by",
}


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """One binding of a judged frame."""

    frame: Frame
    at: int

    def rows(self, refs: tuple[Ref, ...]) -> tuple[int, ...]:
        """Return the table rows some references have here."""
        return tuple(int(self.frame.resolve(ref)[self.at]) for ref in refs)

    def label(self, ref: Ref) -> str:
        """Return the id of the thing a reference stands for here."""
        return self.frame.tables.label(ref.target, int(self.frame.resolve(ref)[self.at]))

    def cell(self, op: CellOp) -> Cell:
        """Return a cell with its grounds."""
        return self.frame.tables.cell(
            op.name, self.rows(op.refs), float(self.frame.months[self.at]), self.frame.assume
        )


def number_value(
    low: float, best: float, high: float, unit: Unit, kind: str = "", *, known: bool = True
) -> Value:
    """Return a printed value from base-unit numbers; unbounded ends and no best become None."""

    def shown(number: float) -> float | None:
        return from_base(float(number), unit) if np.isfinite(number) else None

    return Value(low=shown(low), best=shown(best), high=shown(high), unit=unit.name, known=known, kind=kind)


def value_of(op: Op, row: Row, kind: str = "") -> Value:
    """Return the column of an operation at one row as a printed value."""
    column, at = row.frame.value(op), row.at
    match column:
        case Numbers() if column.low[at] == column.high[at] and np.isinf(column.low[at]):
            return Value(words=(NONE,), kind=kind)
        case Numbers():
            unit = op.unit if isinstance(op, Quantity) else BASE_UNIT[Dimension.COUNT]
            known = not column.flags[at] & (MISSING | STALE) or says_something(op, row)
            return number_value(column.low[at], column.best[at], column.high[at], unit, kind, known=known)
        case Words():
            words = _named(column.possible[at], column.domain)
            return Value(words=words, known=len(words) == 1, kind=kind)
        case Sets():
            surely = _named(column.surely[at], column.domain)
            return Value(words=surely, known=not column.flags[at], kind=kind)
        case Truths():
            truth = True if column.yes[at] else False if column.no[at] else None
            return Value(truth=truth, known=truth is not None, kind=kind)


def says_something(op: Op, row: Row) -> bool:
    """Return whether the range of a quantity of which something is missing tells more than that it is one.

    So a gap between two places told in words, of an animal whose width nobody knows.
    """
    column = row.frame.value(op)
    if isinstance(column, Numbers) and column.flags[row.at] & STALE:
        return False
    match op:
        case NumberCell():
            return not is_blank(op, column)[row.at]
        case Cases():
            return all(says_something(part, row) for part in possible_parts(op, row) if part in op.values)
        case NumberAggregate():
            return False
        case _:
            return all(says_something(part, row) for part in op.inputs)


def _named(mask: np.ndarray[tuple[int], np.dtype[np.bool_]], domain: tuple[str, ...]) -> tuple[str, ...]:
    """The words of a mask, in the order of the domain."""
    return tuple(word for word, there in zip(domain, mask, strict=True) if there)


def grounds_of(cell: Cell) -> tuple[Ground, ...]:
    """Return the supports of a cell ready to print."""
    return tuple(map(_ground, cell.supports))


@lru_cache(maxsize=50_000)
def _ground(item: Support) -> Ground:
    """One support ready to print; many cells share it."""
    return Ground(
        text=item.text,
        grade=item.grade.value if item.grade else "",
        on=item.on,
        age_days=item.age_days,
        source=item.source,
        file=item.span.file if item.span else "",
        line=item.span.line if item.span else 0,
    )


def key_of(op: CellOp, row: Row) -> Key:
    """Return which cell of the tables an operation reads at one row."""
    rows = row.rows(op.refs)
    both_ways = isinstance(op, NumberCell) and op.measure.symmetric
    return op.name, tuple(sorted(rows)) if both_ways else rows


def members_of(op: TruthAggregate | NumberAggregate, row: Row) -> list[Row]:
    """Return the rows of an aggregate's own bindings that belong to one row."""
    row.frame.value(op)
    found = row.frame.inner.get(op)
    if found is None and isinstance(op, StepsAway):  # its links are shared by many bindings
        return deciding_members(op, row)
    inner, segment = row.frame.inner[op]
    return [Row(inner, int(at)) for at in np.flatnonzero(segment == row.at)]


def deciding_members(op: TruthAggregate | NumberAggregate, row: Row) -> list[Row]:
    """Return the bindings of an aggregate that its value at one row turns on: of a chain its links."""
    if not isinstance(op, StepsAway):
        return members_of(op, row)
    inner, found = op.links(row.frame, row.at)
    return [Row(inner, at) for at in found]


def scale_of(op: Op) -> tuple[float, Unit] | None:
    """Return step and unit of a truth's margin; None where it mixes units or has none."""
    match op:
        case Compare(step=step, unit=unit) | Within(step=step, unit=unit):
            return step, unit
        case TruthAggregate(condition=condition):
            return scale_of(condition)
        case Exact() | Defined() | Negation() | Every() | Some():
            found = {scale for scale in map(scale_of, op.inputs) if scale is not None}
            return found.pop() if len(found) == 1 else None
        case _:
            return None


def margin_of(op: Op, row: Row) -> tuple[Value | None, float | None]:
    """Return the margin of a comparison in its own unit, and in steps."""
    column = row.frame.value(op)
    if not isinstance(column, Truths):
        return None, None
    best = float(column.best[row.at])
    steps = best if np.isfinite(best) else None
    scale = scale_of(op)
    if scale is None:
        return None, steps
    step, unit = scale
    return number_value(column.low[row.at] * step, best * step, column.high[row.at] * step, unit), steps


def cause_of(op: Op, row: Row) -> str:
    """Return why a truth is open, or a value unknown; empty where it is neither."""
    column = row.frame.value(op)
    flags = int(column.flags[row.at])
    if isinstance(column, Truths) and not (column.yes[row.at] or column.no[row.at]) and not flags:
        return "too close"
    if flags & ~STALE:
        return "missing"
    return "stale" if flags else ""


def describe(op: Op, row: Row) -> str:
    """Return what an operation is, in words."""
    match op:
        case (
            NumberCell(measure=measure, refs=refs)
            | WordCell(measure=measure, refs=refs)
            | SetCell(measure=measure, refs=refs)
        ):
            return row.frame.tables.say(measure.name, row.rows(refs))
        case RelationCell(relation=relation, refs=refs):
            return row.frame.tables.say(relation.name, row.rows(refs))
        case Constant(name=name, value=value, unit=unit):
            return name or format_quantity(value, unit)
        case Defined(name=name, refs=refs) | DefinedQuantity(name=name, refs=refs):
            said = row.frame.tables.library.defines[name].say
            if said is not None:
                return fill_say(name, refs, row)
            return f"{name} of {' and '.join(row.label(ref) for ref in refs)}"
        case Compare(op=kind, left=left, right=right):
            return f"{describe(left, row)} is {COMPARISON[kind]} {describe(right, row)}"
        case Within(value=value, low=low, high=high):
            return f"{describe(value, row)} is between {describe(low, row)} and {describe(high, row)}"
        case WordIs():
            return _describe_words(op, row)
        case Negation(of=of):
            return f"not: {describe(of, row)}"
        case Exact(formula=formula):
            return describe(formula, row)
        case Every(items=items):
            return " and ".join(describe(item, row) for item in items)
        case Some(items=items):
            return " or ".join(describe(item, row) for item in items)
        case Arithmetic(op=kind, left=left, right=right):
            return f"{describe(left, row)} {_OPERATION[kind]} {describe(right, row)}"
        case Minus(of=of):
            return f"minus {describe(of, row)}"
        case Extreme(largest=largest, items=items):
            listed = ", ".join(describe(item, row) for item in items)
            return f"the {'largest' if largest else 'smallest'} of {listed}"
        case Cases():
            return "the case that applies"
        case StepsAway(start=start, end=end, steps=steps, over=over):
            counted = "1 step" if steps == 1 else f"{steps} steps"
            return f"{row.label(end)} is within {counted} of {row.label(start)} over {over.replace('-', ' ')}"
        case NumberAggregate(op=kind) if NONE in value_of(op, row).words:
            return f"{kind.value} nobody"
        case TruthAggregate(op=kind) | NumberAggregate(op=kind):
            return kind.value
        case TruthConstant(value=plain):
            return "yes" if plain else "no"
        case _:
            return type(op).__name__.lower()


def _describe_words(op: WordIs, row: Row) -> str:
    """A comparison of words in words."""
    right = describe(op.right, row) if op.right is not None else ", ".join(op.words)
    verb = {IsOp.IS: "is", IsOp.ONE_OF: "is one of", IsOp.HAS: "has"}[op.op]
    if op.negated:
        verb = {IsOp.IS: "is not", IsOp.ONE_OF: "is none of", IsOp.HAS: "has not"}[op.op]
    return f"{describe(op.left, row)} {verb} {right}"


def fill_say(name: str, refs: tuple[Ref, ...], row: Row) -> str:
    """Return the phrase of a definition with its things named."""
    define = row.frame.tables.library.defines[name]
    named = {param.name: row.label(ref) for param, ref in zip(define.params, refs, strict=True)}
    pieces = define.say.pieces if define.say is not None else ()
    return "".join(
        piece if isinstance(piece, str) else named.get(getattr(piece, "name", ""), name) for piece in pieces
    )


def open_cells(op: Op, row: Row) -> Iterator[tuple[CellOp, Row]]:
    """Yield the cells (each with its row) that keep an operation from being decided at one row.

    Those that are not known, out of date or assumed, and ranges in which
    nothing singles one value out: a word, a place in words.
    """
    column = row.frame.value(op)
    if isinstance(column, Truths) and (column.yes[row.at] or column.no[row.at]):
        return
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        vague = isinstance(column, Numbers) and bool(np.isnan(column.best[row.at]))
        if column.flags[row.at] or vague:
            yield op, row
        return
    for child in possible_parts(op, row) if isinstance(op, Cases) else op.inputs:
        yield from open_cells(child, row)
    if isinstance(op, TruthAggregate | NumberAggregate):
        for member in deciding_members(op, row):
            for part in parts_of(op):
                yield from open_cells(part, member)


def possible_parts(op: Cases, row: Row) -> list[Op]:
    """Return the guards and values of the cases that may still apply at one row."""
    out: list[Op] = []
    for guard, value in zip(op.guards, op.values, strict=True):
        if guard is None:
            return [*out, value]
        holds = truth(row.frame, guard)
        out += [guard] if holds.no[row.at] else [guard, value]
        if holds.yes[row.at]:
            break
    return out


def parts_of(op: TruthAggregate | NumberAggregate) -> list[Op]:
    """Return the operations an aggregate runs over its own bindings."""
    of = op.of if isinstance(op, NumberAggregate) else None
    return [part for part in (op.condition, of) if part is not None]


def every_cell(op: Op) -> Iterator[CellOp]:
    """Yield every cell below an operation once, aggregates' own left out."""
    for each in ops_below(op):
        if isinstance(each, NumberCell | WordCell | SetCell | RelationCell):
            yield each


@lru_cache(maxsize=20_000)
def ops_below(op: Op) -> tuple[Op, ...]:
    """Return an operation and all below it, each once, aggregates' own left out."""
    found: dict[Op, None] = {op: None}
    for child in op.inputs:
        found.update(dict.fromkeys(ops_below(child)))
    return tuple(found)


@lru_cache(maxsize=20_000)
def names_below(op: Op) -> frozenset[str]:
    """Return what an operation reads in the tables, aggregates' own included."""
    found: set[str] = set()
    for each in ops_below(op):
        if isinstance(each, NumberCell | WordCell | SetCell | RelationCell):
            found.add(each.name)
        elif isinstance(each, TruthAggregate | NumberAggregate):
            found.update(*(names_below(part) for part in parts_of(each)))
    return frozenset(found)


def keys_below(op: Op, row: Row) -> Iterator[Key]:
    """Yield every cell an operation reads at one row, those of aggregates' members included."""
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        yield key_of(op, row)
    for child in op.inputs:
        yield from keys_below(child, row)
    if isinstance(op, TruthAggregate | NumberAggregate):
        for member in members_of(op, row):
            for part in parts_of(op):
                yield from keys_below(part, member)


def weakest_of(grounds: tuple[Ground, ...]) -> str:
    """Return the ground of the lowest grade in words; empty if none is graded."""
    graded = [ground for ground in grounds if ground.grade]
    if not graded:
        return ""
    worst = max(graded, key=lambda ground: Grade(ground.grade).rank)
    return f"{worst.text} ({worst.grade})" if worst.grade not in worst.text else worst.text
