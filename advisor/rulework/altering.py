"""Examples altered a little: one fact told otherwise, left open, or moved to just beside a limit."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from advisor.errors import Span
from advisor.language.format_expr import digits
from advisor.language.library import Library
from advisor.language.nodes import Call, Example, Expr, Given, Name, Number, Then
from advisor.model.vocabulary import Kind, NumberType, SetType, Vocabulary, WordType
from advisor.reasoning.frame import Ref
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell
from advisor.reasoning.record import CellOp, Row, members_of
from advisor.units import from_base, to_base, unit_named

NOWHERE = Span("")


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
        if (given.entity in keep if given.fact is None else things_of(given.fact) <= keep)
    )
    return replace(example, givens=givens, thens=(then,))


def things_of(call: Call) -> set[str]:
    """Return the things a fact is about."""
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
    args = tuple(argument_of(subject) for subject in slot.subjects)
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


def argument_of(subject: str) -> Expr:
    """Return a thing as an argument of a given."""
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
