"""What would turn a rule's verdict to the good side at one binding, by things a keeper can change.

The flip point of a comparison is closed form where the cell that has a lever
is a linear term of it. Every proposal is only that: whoever uses it judges the
whole tank again.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from advisor.language.nodes import AggregateOp, CompareOp, Lever, LeverWay, Name, Text
from advisor.model.tank import Fact, Statement
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import ASSUMED, MISSING, STALE
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.linear import terms_of
from advisor.reasoning.logic_ops import Every, Exact, Negation, Some, TruthAggregate
from advisor.reasoning.ops import Defined, NumberCell, Op, RelationCell, WordCell, numbers, truth
from advisor.reasoning.record import CellOp, Row, members_of
from advisor.reasoning.step_ops import StepsAway
from advisor.reasoning.word_ops import WordIs
from advisor.units import BASE_UNIT, Dimension, Unit, format_quantity, to_base, unit_named

MOST_WAYS = 12
"""Ways followed for one binding; more would only be combinations of dear ones."""

_MOST_MORE_STEPS = 4
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Flip:
    """One lever used once: the fact it would make, and how that is said."""

    lever: Lever
    fact: Fact
    text: str
    not_checked: str
    steps: float
    """How many steps of the lever it takes; 0 for what is made so."""

    @property
    def key(self) -> tuple[str, frozenset[str]]:
        """What is changed: two flips of one key exclude each other."""
        return self.fact.measure, frozenset(self.fact.subjects)


Way = tuple[Flip, ...]
"""Flips that are needed together."""


def ways_of(compiled: CompiledRule, row: Row, levers: Mapping[str, Lever], about: str) -> list[Way]:
    """Return the ways to bring a rule's verdict at one row to the good side.

    Parameters
    ----------
    about
        Id of the animal that stays where it is: of two, the other one is moved.
    """
    finder = _Finder(tuple(levers.values()), about)
    found: dict[tuple[str, ...], Way] = {}
    for op, wanted in ((compiled.expect, True), (compiled.unless, True), (compiled.when, False)):
        for way in [] if op is None else finder.ways(op, row, wanted):
            if way:
                found.setdefault(tuple(sorted(flip.text for flip in way)), way)
    order = sorted(found.values(), key=lambda way: (cost_of(way), sum(flip.steps for flip in way)))
    return order[:MOST_WAYS]


def cost_of(way: Way) -> float:
    """Return what the flips of a way cost together."""
    return sum(flip.lever.cost for flip in way)


@dataclass(frozen=True, slots=True)
class _Finder:
    """Follows a formula down to the comparisons that would have to change."""

    levers: Sequence[Lever]
    about: str

    def ways(self, op: Op, row: Row, wanted: bool) -> list[Way]:
        """Ways to make a truth surely `wanted`; one empty way where it is already so."""
        column = truth(row.frame, op)
        if bool((column.yes if wanted else column.no)[row.at]):
            return [()]
        match op:
            case Exact(formula=of) | Defined(body=of):
                return self.ways(of, row, wanted)
            case Negation(of=of):
                return self.ways(of, row, not wanted)
            case Every(items=items) | Some(items=items):
                parts = [(item, row) for item in items]
                return self._of_many(parts, wanted, all_needed=isinstance(op, Every) is wanted)
            case StepsAway():
                return []
            case TruthAggregate(op=kind, condition=condition):
                parts = [(condition, member) for member in members_of(op, row)]
                return self._of_many(parts, wanted, all_needed=(kind is AggregateOp.EVERY) is wanted)
            case Compare():
                return [(flip,) for flip in self._of_comparison(op, row, wanted)]
            case Within() if wanted:
                return [(flip,) for flip in self._into_band(op, row)]
            case RelationCell() if wanted:
                return [(flip,) for flip in self._made(op, row)]
            case WordIs(left=WordCell() as left):
                return [(flip,) for flip in self._made(left, row) if _word_fits(op, flip.lever.word, wanted)]
            case _:
                return []

    def _of_many(self, parts: Sequence[tuple[Op, Row]], wanted: bool, *, all_needed: bool) -> list[Way]:
        """Ways for all of some truths together, or for any one of them."""
        each = [self.ways(op, row, wanted) for op, row in parts]
        if not all_needed:
            return [way for ways in each for way in ways][:MOST_WAYS]
        if not each or not all(each) or math.prod(len(ways) for ways in each) > MOST_WAYS:
            return []
        return [tuple(flip for way in choice for flip in way) for choice in product(*each)]

    def _of_comparison(self, op: Compare, row: Row, wanted: bool) -> Iterator[Flip]:
        """Moves of one linear term that bring an order comparison to the wanted side."""
        column = truth(row.frame, op)
        worst = float(column.low[row.at] if wanted else -column.high[row.at]) * op.step
        favours = (op.op in (CompareOp.AT_LEAST, CompareOp.MORE)) is wanted
        strict = (op.op in (CompareOp.MORE, CompareOp.LESS)) is wanted
        for term, factor in terms_of(op.left, op.right).items():
            if isinstance(term, NumberCell) and factor:
                slope = factor if favours else -factor
                yield from self._moved(term, row, abs(worst / slope), slope > 0, strict)

    def _into_band(self, op: Within, row: Row) -> Iterator[Flip]:
        """Moves of the value that bring it surely into its band, where it lies to one side of it."""
        if not isinstance(op.value, NumberCell):
            return
        value, low, high = (numbers(row.frame, part) for part in (op.value, op.low, op.high))
        below = float(low.high[row.at] - value.low[row.at])
        above = float(value.high[row.at] - high.low[row.at])
        if (below > 0) is not (above > 0):
            yield from self._moved(op.value, row, max(below, above), below > 0, strict=False)

    def _moved(self, cell: NumberCell, row: Row, by: float, upward: bool, strict: bool) -> Iterator[Flip]:
        """A cell moved by at least some amount, as far as each lever's steps ask. [base unit]"""
        column = numbers(row.frame, cell)
        if column.flags[row.at] & (MISSING | STALE | ASSUMED) or not math.isfinite(by):
            return
        was = (float(column.low[row.at]), float(column.best[row.at]), float(column.high[row.at]))
        end = was[0] + by if upward else was[2] - by
        for lever in self._levers(cell):
            if lever.step is None or lever.way is (LeverWay.DOWN if upward else LeverWay.UP):
                continue
            step = to_base(lever.step.value, _apart(lever))
            first = max(1, math.ceil(_aimed(cell, was, end, by, upward) / step - _ROUNDING))
            for count in range(first, first + _MOST_MORE_STEPS):
                amount = count * step if upward else -count * step
                said = _stated(cell, was, amount)
                if _reaches(said, end, upward, strict):
                    if _possible(said, cell):
                        yield self._flip(lever, cell, row, said, amount, count)
                    break

    def _made(self, cell: RelationCell | WordCell, row: Row) -> Iterator[Flip]:
        """A relation made true, or a word made another."""
        for lever in self._levers(cell):
            if lever.step is None:
                said = Statement(words=(lever.word,)) if lever.word else Statement(truth=True)
                yield self._flip(lever, cell, row, said, 0.0, 0)

    def _levers(self, cell: CellOp) -> Iterator[Lever]:
        """The levers of what a cell is read from."""
        return (lever for lever in self.levers if lever.target == cell.name)

    def _flip(
        self, lever: Lever, cell: CellOp, row: Row, said: Statement, amount: float, steps: float
    ) -> Flip:
        """One use of a lever at the things a cell is about."""
        subjects = _subjects(cell, row)
        both_ways = isinstance(cell, RelationCell) or (
            isinstance(cell, NumberCell) and cell.measure.symmetric
        )
        named = tuple(reversed(subjects)) if both_ways and self.about == subjects[0] else subjects
        ids = dict(zip(lever.args, named, strict=True))
        text = _filled(lever.say, ids)
        if isinstance(cell, NumberCell):
            best = said.best if said.best is not None else (said.low if amount > 0 else said.high)
            apart = format_quantity(abs(amount), _difference(cell.unit))
            text += f" by {apart}, to {format_quantity(best or 0.0, cell.unit)}"
        fact = Fact(
            measure=cell.name, subjects=subjects, said=said.model_copy(update={"written": "as changed"})
        )
        return Flip(lever, fact, text, _filled(lever.not_checked, ids), steps)


def _subjects(cell: CellOp, row: Row) -> tuple[str, ...]:
    """The ids a fact about a cell is stated of."""
    rows = row.rows(cell.refs)
    typed = row.frame.tables.asked_of(cell.name, rows)
    return tuple(
        typed[at] if ref.target in (Kind.PLACE, Kind.TANK) else row.label(ref)
        for at, ref in enumerate(cell.refs)
    )


def _filled(text: Text | None, ids: Mapping[str, str]) -> str:
    """A sentence of a lever with its things named."""
    pieces = text.pieces if text is not None else ()
    return "".join(
        ids.get(piece.name, piece.name) if isinstance(piece, Name) else str(piece) for piece in pieces
    )


def _word_fits(op: WordIs, word: str, wanted: bool) -> bool:
    """Whether a comparison with listed words comes out as wanted once this word is made."""
    return op.right is None and ((word in op.words) is not op.negated) is wanted


def _apart(lever: Lever) -> Unit:
    """The unit of a lever's step."""
    return _difference(unit_named(lever.step.unit) if lever.step is not None else BASE_UNIT[Dimension.COUNT])


def _difference(unit: Unit) -> Unit:
    """The unit in which two values of a unit are apart."""
    return BASE_UNIT[Dimension.TEMPERATURE_STEP] if unit.dimension is Dimension.TEMPERATURE else unit


def _stated(cell: NumberCell, was: tuple[float, float, float], by: float) -> Statement:
    """What a cell would be stated as once it is moved; its error goes with it. [base unit]"""
    low, best, high = was
    if not math.isfinite(best):
        return Statement(low=low + by, high=high + by)
    scale = abs((best + by) / best) if cell.measure.error_is_fraction and best else 1.0
    return Statement(best=best + by, error=max(best - low, high - best) * scale)


def _aimed(cell: NumberCell, was: tuple[float, float, float], end: float, by: float, upward: bool) -> float:
    """How far to move so that the nearer end comes to `end`; an error in percent goes along."""
    low, best, high = was
    if not cell.measure.error_is_fraction or not math.isfinite(best) or best <= 0:
        return by
    share = max(best - low, high - best) / best
    if not upward:
        return best - end / (1.0 + share)
    return min(end / (1.0 - share) - best, cell.measure.high) if share < 1.0 else cell.measure.high


def _range(said: Statement) -> tuple[float, float]:
    """Both ends of what is stated. [base unit]"""
    if said.best is not None:
        return said.best - (said.error or 0.0), said.best + (said.error or 0.0)
    return (-np.inf if said.low is None else said.low), (np.inf if said.high is None else said.high)


def _reaches(said: Statement, end: float, upward: bool, strict: bool) -> bool:
    """Whether the nearer end of a statement is as far as it must be."""
    low, high = _range(said)
    spare = low - end if upward else end - high
    return spare > _ROUNDING if strict else spare >= 0.0


def _possible(said: Statement, cell: NumberCell) -> bool:
    """Whether a statement lies within what is physically possible."""
    low, high = _range(said)
    return cell.measure.low <= low and high <= cell.measure.high
