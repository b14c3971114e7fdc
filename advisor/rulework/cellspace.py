"""What the cells of a formula can be: values worth trying, and regions between the limits that occur."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from advisor.model.vocabulary import SetType, WordType
from advisor.reasoning import ops, truths
from advisor.reasoning.columns import MISSING, Bools, Column, Floats, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.linear import constant_of, terms_of
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell
from advisor.reasoning.word_ops import WordIs
from advisor.rulework.cardindex import CardIndex

CellOp = NumberCell | WordCell | SetCell | RelationCell
OTHERS = ("one-name", "another-name")
"""Names that no rule speaks of, for a word that may be any name."""
_FAR_STEPS = 1000.0
"""How far a quantity without an upper end is followed. [steps]"""
_APART = 1e-9
"""How far beside a limit the region next to it begins, as a share of the limit."""


class NotAnalysedError(Exception):
    """A formula that asks something of many things at once, or is not made of cells."""


def all_ops(op: Op) -> Iterator[Op]:
    """Yield an operation and everything below it, each as often as it stands there."""
    todo = [op]
    while todo:
        item = todo.pop()
        yield item
        todo.extend(reversed(item.inputs))


def cells_in(op: Op) -> dict[CellOp, int]:
    """Return the cells of a formula with how often each stands in it.

    Raises
    ------
    NotAnalysedError
        If it holds an operation that is neither a cell nor made of its inputs.
    """
    found: dict[CellOp, int] = {}
    for item in all_ops(op):
        if isinstance(item, NumberCell | WordCell | SetCell | RelationCell):
            found[item] = found.get(item, 0) + 1
        elif not item.inputs and not isinstance(item, ops.Constant | ops.TruthConstant):
            raise NotAnalysedError(type(item).__name__)
    return found


def ends_of(cell: NumberCell) -> tuple[float, float]:
    """Return the physical range of a quantity, cut off far out where it has no upper end. [base unit]"""
    low, high = cell.measure.low, cell.measure.high
    return low, high if math.isfinite(high) else low + _FAR_STEPS * (cell.measure.step or 1.0)


def cuts_in(op: Op) -> dict[NumberCell, tuple[float, ...]]:
    """Return for each quantity the limits that it alone is compared with. [base unit]"""
    found: dict[NumberCell, set[float]] = {}
    for item in all_ops(op):
        for left, right in _sides(item):
            terms = {cell: factor for cell, factor in terms_of(left, right).items() if factor}
            if len(terms) != 1:
                continue
            ((cell, factor),) = terms.items()
            if isinstance(cell, NumberCell):
                low, high = ends_of(cell)
                limit = -constant_of(left, right) / factor
                if low <= limit <= high:
                    found.setdefault(cell, set()).add(limit)
    return {cell: tuple(sorted(limits)) for cell, limits in found.items()}


def _sides(op: Op) -> tuple[tuple[Op, Op], ...]:
    """The pairs of quantities that an operation compares."""
    if isinstance(op, Compare):
        return ((op.left, op.right),)
    return ((op.value, op.low), (op.high, op.value)) if isinstance(op, Within) else ()


def comparisons_in(op: Op) -> list[tuple[Op, Op, float]]:
    """Return the pairs of quantities a formula compares, each with the step of the comparison."""
    return [
        (left, right, item.step)
        for item in all_ops(op)
        if isinstance(item, Compare | Within)
        for left, right in _sides(item)
    ]


@dataclass(frozen=True, slots=True)
class Choice:
    """What one cell can be: points worth trying and, for a proof, regions that cover its whole range."""

    cell: CellOp
    words: tuple[str, ...] = ()
    named: tuple[str, ...] = ()
    """The words a rule names, and one it does not."""
    points: tuple[float, ...] = ()
    regions: tuple[tuple[float, float], ...] = ()

    @property
    def tried(self) -> Ints:
        """Where the words to try stand among all words."""
        return np.array([self.words.index(word) for word in self.named], np.int64)

    @property
    def parts(self) -> int:
        """How many regions it falls into."""
        return len(self.regions) if isinstance(self.cell, NumberCell) else max(2, len(self.words))


def choices_of(formula: Op, told: CardIndex) -> tuple[Choice, ...]:
    """Return what each cell of a formula can be, those that stand in it most often first."""
    counts = cells_in(formula)
    cuts = cuts_in(formula)
    named = _named_words(formula)
    compared = _compared_words(formula)
    cells = sorted(counts, key=lambda cell: -counts[cell])
    return tuple(_choice(cell, cuts, named, compared, told) for cell in cells)


def _choice(
    cell: CellOp,
    cuts: dict[NumberCell, tuple[float, ...]],
    named: dict[str, dict[str, None]],
    compared: frozenset[str],
    told: CardIndex,
) -> Choice:
    """What one cell can be."""
    match cell:
        case NumberCell():
            limits = cuts.get(cell, ())
            return Choice(cell, points=_points(cell, limits, told), regions=_regions(cell, limits))
        case WordCell() | SetCell():
            declared = cell.measure.type
            words = declared.words if isinstance(declared, WordType | SetType) else ()
            own = tuple(named.get(cell.name, ()))
            domain = words or (*own, *OTHERS)
            spare = [word for word in domain if word not in own]
            spare = spare if cell.name in compared else spare[: 1 if words else 2]
            return Choice(cell, domain, (*own, *spare))
        case _:
            return Choice(cell)


def _named_words(formula: Op) -> dict[str, dict[str, None]]:
    """The words that each measure is compared with."""
    found: dict[str, dict[str, None]] = {}
    for item in all_ops(formula):
        if isinstance(item, WordIs):
            for side in (item.left, item.right):
                if isinstance(side, WordCell | SetCell):
                    found.setdefault(side.name, {}).update(dict.fromkeys(item.words))
    return found


def _compared_words(formula: Op) -> frozenset[str]:
    """The measures of words that are compared with each other."""
    return frozenset(
        side.name
        for item in all_ops(formula)
        if isinstance(item, WordIs) and item.right is not None
        for side in (item.left, item.right)
        if isinstance(side, WordCell | SetCell)
    )


def _points(cell: NumberCell, limits: tuple[float, ...], told: CardIndex) -> tuple[float, ...]:
    """Values worth trying: beside every limit, between them, at both ends, and as cards have it."""
    low, high = ends_of(cell)
    step = cell.measure.step or 1.0
    marks = [low, *limits, high]
    between = [(one + other) / 2.0 for one, other in pairwise(marks)]
    beside = [limit + way * step for limit in limits for way in (-2.0, -1.0, 0.0, 1.0, 2.0)]
    spread = [low + share * (high - low) for share in (0.02, 0.05, 0.1, 0.2, 0.4, 0.7)]
    wanted = [*marks, *between, *beside, *spread, *told.samples(cell.measure.card_line)]
    return tuple(sorted({_tidy(value, step) for value in wanted if low <= value <= high}))


def _tidy(value: float, step: float) -> float:
    """A value that a person would write: no finer than a tenth of a step."""
    fine = step / 10.0
    return round(round(value / fine) * fine, 9)


def _regions(cell: NumberCell, limits: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
    """The whole range as points at the limits and open stretches between them."""
    low, high = ends_of(cell)
    if not math.isfinite(cell.measure.high):
        high = math.inf
    marks = sorted({low, *limits})
    found: list[tuple[float, float]] = []
    for at, mark in enumerate(marks):
        found.append((mark, mark))
        after = marks[at + 1] if at + 1 < len(marks) else high
        apart = _APART * max(1.0, abs(mark))
        end = after - _APART * max(1.0, abs(after)) if at + 1 < len(marks) else high
        if mark + apart < end:
            found.append((mark + apart, end))
    return tuple(found)


def number_column(values: Floats) -> Numbers:
    """Return a column of exact quantities. [base unit]"""
    return Numbers(values, values, values, np.zeros(len(values), np.uint8))


def held_column(choice: Choice, held: Bools) -> Column:
    """Return the column of a cell of words, or of a relation, from what each row has.

    Parameters
    ----------
    held
        For words, shape (n, words): which ones; for a relation, shape (n,): whether.
    """
    none = np.zeros(len(held), np.uint8)
    match choice.cell:
        case WordCell():
            return Words(held, choice.words, none)
        case SetCell():
            return Sets(held, held, choice.words, none)
        case _:
            return truths.of_bools(held, ~held, none)


def take_column(column: Column, rows: Ints) -> Column:
    """Return some rows of a column."""
    match column:
        case Numbers(low=low, best=best, high=high, flags=flags):
            return Numbers(low[rows], best[rows], high[rows], flags[rows])
        case Words(possible=possible, domain=domain, flags=flags):
            return Words(possible[rows], domain, flags[rows])
        case Sets(surely=surely, possibly=possibly, domain=domain, flags=flags):
            return Sets(surely[rows], possibly[rows], domain, flags[rows])
        case Truths():
            return truths.take(column, rows)


def unknown_column(choice: Choice, size: int = 1) -> Column:
    """Return the column of a cell nothing is known of."""
    flags = np.full(size, MISSING, np.uint8)
    match choice.cell:
        case NumberCell(measure=measure):
            full = np.ones(size)
            return Numbers(full * measure.low, full * np.nan, full * measure.high, flags)
        case WordCell():
            return Words(np.ones((size, len(choice.words)), np.bool_), choice.words, flags)
        case SetCell():
            shape = (size, len(choice.words))
            return Sets(np.zeros(shape, np.bool_), np.ones(shape, np.bool_), choice.words, flags)
        case RelationCell():
            no = np.zeros(size, np.bool_)
            return truths.of_bools(no, no, flags)
