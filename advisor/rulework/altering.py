"""Examples altered a little: one fact told otherwise, left open, or moved to just beside a limit."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from advisor.errors import Span
from advisor.language.format_expr import digits
from advisor.language.library import Library
from advisor.language.nodes import Call, Example, Expr, Given, Name, Number, Then
from advisor.model.vocabulary import Kind, Measure, NumberType, SetType, Vocabulary, WordType
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.examples import Trial
from advisor.reasoning.frame import Ref
from advisor.reasoning.linear import terms_of
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell, numbers
from advisor.reasoning.record import CellOp, Row, members_of
from advisor.units import from_base, to_base, unit_named

NOWHERE = Span("")
_WIDE_STEPS = 3.0
"""How far a range given in place of a reading runs from the limit. [steps]"""


@dataclass(frozen=True, slots=True)
class Slot:
    """One fact of an example that a rule reads, told or not."""

    name: str
    subjects: tuple[str, ...]

    def matches(self, given: Given) -> bool:
        """Return whether a given is about this fact."""
        call = given.fact
        if call is None or call.name != self.name:
            return False
        told = tuple(map(subject_of, call.args))
        return told == self.subjects or (self.name == "gap" and told[::-1] == self.subjects)


@dataclass(frozen=True, slots=True)
class Value:
    """What a fact is said to be: a number or a range [base unit], a word, or open where all are None."""

    low: float | None = None
    high: float | None = None
    word: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One fact told otherwise; `value` None leaves it out."""

    slot: Slot
    value: Value | None


def subject_of(arg: Expr) -> str:
    """Return the thing an argument of a given is about, places as ``x.spot``."""
    match arg:
        case Name(name=name):
            return name
        case Call(name="spot", args=(Name(name=name),)):
            return f"{name}.spot"
        case _:
            return ""


def alone(example: Example, then: Then, *, crowd: bool) -> Example:
    """Return an example with one `then`, and (unless others matter) only what it names."""
    if crowd:
        return replace(example, thens=(then,))
    keep = {*then.entities, "tank"}
    givens = tuple(
        given
        for given in example.givens
        if (given.entity in keep if given.fact is None else _things(given.fact) <= keep)
    )
    return replace(example, givens=givens, thens=(then,))


def _things(call: Call) -> set[str]:
    """The things a fact is about."""
    return {subject_of(arg).removesuffix(".spot") for arg in call.args}


def cells_at(op: Op, row: Row, among: Collection[Op] = ()) -> Iterator[tuple[CellOp, Row]]:
    """Yield every cell below an operation at one row, those of an aggregate's members too.

    Parameters
    ----------
    among
        Only the cells below one of these; all of them, if left out.
    """
    if op in among:
        among = ()
    elif among and not isinstance(op, TruthAggregate | NumberAggregate) and not op.inputs:
        return
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        yield op, row
    for child in op.inputs:
        yield from cells_at(child, row, among)
    if isinstance(op, TruthAggregate | NumberAggregate):
        parts = (op.condition, op.of if isinstance(op, NumberAggregate) else None)
        for member in members_of(op, row):
            for part in parts:
                if part is not None:
                    yield from cells_at(part, member, among)


def slot_of(cell: CellOp, row: Row) -> Slot:
    """Return the fact a cell is read from."""
    return Slot(cell.name, tuple(_label(ref, row) for ref in cell.refs))


def _label(ref: Ref, row: Row) -> str:
    """What an example calls the thing a reference stands for."""
    return "tank" if ref.kind is Kind.TANK else row.label(ref)


def altered(example: Example, changes: Sequence[Change], library: Library) -> Example:
    """Return an example with some facts told otherwise."""
    givens = list(example.givens)
    for change in changes:
        at = next((index for index, given in enumerate(givens) if change.slot.matches(given)), None)
        if change.value is None:
            if at is not None:
                del givens[at]
            continue
        fresh = _given(change.slot, change.value, library)
        if at is None:
            givens.append(fresh)
        else:
            kept = givens[at]
            givens[at] = replace(fresh, fact=kept.fact, span=kept.span)
    return replace(example, givens=tuple(givens))


def _given(slot: Slot, value: Value, library: Library) -> Given:
    """A fact as an example tells it."""
    args = tuple(_argument(subject) for subject in slot.subjects)
    call = Call(NOWHERE, slot.name, args)
    measure = library.vocabulary.measures.get(slot.name)
    unit = measure.type.unit.name if measure is not None and isinstance(measure.type, NumberType) else ""
    ends = [None if end is None else _number(end, unit) for end in (value.low, value.high)]
    return Given(NOWHERE, fact=call, low=ends[0], high=ends[1] or ends[0], word=value.word)


def written_given(change: Change, vocabulary: Vocabulary) -> str:
    """Return a change as an example would tell it: ``light(torch-1.spot) = 46 PAR``."""
    call = f"{change.slot.name}({', '.join(change.slot.subjects)})"
    value = change.value
    if value is None:
        return f"{call} not told"
    measure = vocabulary.measures.get(change.slot.name)
    unit = measure.type.unit.name if measure is not None and isinstance(measure.type, NumberType) else ""
    ends = [digits(_number(end, unit).value) for end in (value.low, value.high) if end is not None]
    if ends:
        shown = ends[0] if len(set(ends)) == 1 else f"{ends[0]} to {ends[-1]}"
        return f"{call} = {shown} {unit}".rstrip()
    return f"{call} = {value.word}" if value.word else f"{call} unknown"


def _argument(subject: str) -> Expr:
    """A thing as an argument of a given."""
    name = Name(NOWHERE, subject.removesuffix(".spot"))
    return Call(NOWHERE, "spot", (name,), dotted=True) if subject.endswith(".spot") else name


def _number(base: float, unit: str) -> Number:
    """A base value written in a unit, without the dust of floating point."""
    shown = from_base(base, unit_named(unit)) if unit else base
    return Number(NOWHERE, float(f"{shown:.10g}"), unit)


def told(example: Example, slot: Slot) -> Value | None:
    """Return what an example tells of a fact, None if nothing."""
    for given in example.givens:
        if slot.matches(given):
            ends = [None if end is None else _base(end) for end in (given.low, given.high)]
            return Value(ends[0], ends[1], given.word)
    return None


def _base(number: Number) -> float:
    """A literal in base units."""
    return to_base(number.value, unit_named(number.unit)) if number.unit else number.value


def pool_of(examples: Iterable[Example]) -> dict[str, tuple[Value, ...]]:
    """Return for each measure every value that some examples tell of it."""
    found: dict[str, dict[Value, None]] = {}
    for example in examples:
        for given in example.givens:
            if given.fact is not None:
                ends = [None if end is None else _base(end) for end in (given.low, given.high)]
                value = Value(ends[0], ends[1], given.word)
                found.setdefault(given.fact.name, {})[value] = None
    return {name: tuple(values) for name, values in found.items()}


def choices(
    slot: Slot, library: Library, pool: dict[str, tuple[Value, ...]], beside: Sequence[Value]
) -> tuple[Value | None, ...]:
    """Return what else a fact may be said to be: beside a limit first, then as elsewhere, then open."""
    relation = library.vocabulary.relations.get(slot.name)
    if relation is not None:
        return (Value(word="yes"), Value(word="no"), Value())
    measure = library.vocabulary.measures[slot.name]
    match measure.type:
        case NumberType():
            named = tuple(beside)
        case WordType(words=words):
            named = tuple(Value(word=word) for word in words or ("another",))
        case SetType(words=words):
            named = tuple(Value(word=word) for word in words)
        case _:
            named = ()
    return tuple(dict.fromkeys((*named, *pool.get(slot.name, ()), None)))


def beside_limits(trial: Trial, at: int, ops: Iterable[Op]) -> dict[Slot, list[Value]]:
    """Return for each number that stands in a comparison the values just beside where it turns."""
    found: dict[Slot, list[Value]] = {}
    for op, row in _comparisons(ops, Row(trial.frame, at)):
        sides = (
            ((op.left, op.right),) if isinstance(op, Compare) else ((op.value, op.low), (op.high, op.value))
        )
        for left, right in sides:
            for cell, where, factor in _linear(left, right, row):
                values = _beside(cell, where, factor, (left, right), op.step)
                found.setdefault(slot_of(cell, where), []).extend(values)
    return found


def _comparisons(ops: Iterable[Op], row: Row) -> Iterator[tuple[Compare | Within, Row]]:
    """Every comparison of quantities below some operations."""
    for op in ops:
        if isinstance(op, Compare | Within):
            yield op, row
        yield from _comparisons(op.inputs, row)
        if isinstance(op, TruthAggregate | NumberAggregate) and op.condition is not None:
            for member in members_of(op, row):
                yield from _comparisons((op.condition,), member)


def _linear(left: Op, right: Op, row: Row) -> Iterator[tuple[NumberCell, Row, float]]:
    """The numbers of a difference with the factor each has in it; 1 or -1 where it is no plain sum."""
    terms = terms_of(left, right)
    for side, sign in ((left, 1.0), (right, -1.0)):
        for cell, where in cells_at(side, row):
            if isinstance(cell, NumberCell):
                factor = terms.get(cell, sign)
                yield cell, where, factor or sign


def _beside(cell: NumberCell, row: Row, factor: float, sides: tuple[Op, Op], step: float) -> list[Value]:
    """Values of one number that put a difference just beside zero, its error reckoned in. [base unit]"""
    left, right = (numbers(row.frame, side) for side in sides)
    at = row.at if len(left.best) > row.at else 0
    now = numbers(row.frame, cell)
    value, gap = float(now.best[at]), float(left.best[at] - right.best[at])
    if not (math.isfinite(value) and math.isfinite(gap)):
        return []
    own = cell.measure
    zero = value - gap / factor
    up, down = _spread(own, zero)
    small = step / abs(factor)
    near = [zero + up + share * small for share in (0.0, 0.5, 1.0)]
    near += [zero - down - share * small for share in (0.0, 0.5, 1.0)]
    near += [zero, zero + small, zero - small]
    points = [Value(_tidy(point, own), _tidy(point, own)) for point in near if own.low <= point <= own.high]
    wide = _WIDE_STEPS * small
    ranges = [(zero, zero + wide), (zero - wide, zero)]
    return points + [Value(*ends) for ends in ranges if own.low <= ends[0] and ends[1] <= own.high]


def _spread(measure: Measure, value: float) -> tuple[float, float]:
    """How far above and below a limit a reading must stand for its nearer end to touch it. [base unit]"""
    if not measure.error_is_fraction:
        return measure.error, measure.error
    return value * measure.error, value * measure.error / (1.0 + measure.error)


def _tidy(value: float, measure: Measure) -> float:
    """A value a person would write: no finer than a tenth of a step."""
    fine = measure.step / 10.0
    return round(round(value / fine) * fine, 9)
