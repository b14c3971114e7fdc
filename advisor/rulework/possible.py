"""Whether a formula can ever be true: a case found by trying, or a proof over regions that it never is.

Everything is judged by the compiled operations of the rule language: on points
to find a case, and on ranges (which hold every value in them) to prove that
there is none. Where quantities are linked with each other and neither
succeeds, the question stays open and nothing is claimed.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from advisor.language.library import Library
from advisor.reasoning import truths
from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import Bools, Column, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.frame import Frame
from advisor.reasoning.givens import Givens
from advisor.reasoning.linear import terms_of
from advisor.reasoning.logic_ops import Every, Exact, Negation, Some
from advisor.reasoning.ops import Defined, NumberCell, Op, RelationCell, WordCell, numbers, truth
from advisor.rulework.cardindex import CardIndex, index_of
from advisor.rulework.cellspace import (
    CellOp,
    Choice,
    choices_of,
    comparisons_in,
    ends_of,
    held_column,
    number_column,
    take_column,
    unknown_column,
)
from advisor.rulework.decks import Deck, decks_of
from advisor.rulework.formulas import Formula, as_rule

FIRST = 96
"""Cases tried blindly before anything else."""
TRIED = 1024
"""Cases tried at a time after that."""
_SEED = 20260101
_ROUNDS = 4
_ANEW = 0.2
_ROOMY_STEPS = 6.0
"""How far off its limits a shown case should be. [steps]"""
_KEPT = 48
"""Best cases that the next round varies."""
FEW_BOXES = 400
MOST_BOXES = 6000
"""Boxes a proof may look at before it gives up: at first, and at last."""

Columns = dict[CellOp, Column]


class Settled(StrEnum):
    """What is known of a formula."""

    POSSIBLE = "possible"
    NEVER = "never"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Case:
    """One case in which a formula is true: a column of one row for each cell that matters."""

    columns: Mapping[CellOp, Column]


@dataclass(frozen=True, slots=True)
class Found:
    """What became of one question, with a case where there is one."""

    settled: Settled
    case: Case | None = None


class Space:
    """One formula compiled, and the cells it is made of.

    Parameters
    ----------
    told
        What cards give of each line, as values worth trying.
    blank
        Measures and relations of which nothing is ever known.
    cards
        Every animal is one of those on the cards, so that what cards tell of it
        goes together.
    """

    def __init__(
        self,
        formula: Formula,
        library: Library,
        told: CardIndex | None = None,
        *,
        blank: Collection[str] = (),
        cards: bool = False,
    ) -> None:
        compiled = compile_rule(as_rule(formula), library)
        if compiled.expect is None:
            raise TypeError("a formula without a condition")
        self.op: Op = compiled.expect
        index = index_of(library) if told is None else told
        every = choices_of(self.op, index)
        self.decks: tuple[Deck, ...] = decks_of(every, index) if cards else ()
        dealt = {cell for deck in self.decks for cell in deck.columns}
        free = [each for each in every if each.cell not in dealt]
        self.every: tuple[Choice, ...] = every
        self.choices: tuple[Choice, ...] = tuple(each for each in free if each.cell.name not in blank)
        self._blank = tuple(each for each in free if each.cell.name in blank)
        self._tables = Givens(library, (), {})
        self._population = population_of(self._tables)

    def frame(self, columns: Mapping[CellOp, Column], size: int) -> Frame:
        """Return a frame whose cells are as given."""
        worlds = np.zeros(size, np.int64)
        frame = Frame(self._tables, self._population, worlds, {}, np.zeros(size))
        frame.columns.update(dict(columns.items()))
        frame.columns.update({each.cell: unknown_column(each, size) for each in self._blank})
        return frame

    def judged(self, columns: Mapping[CellOp, Column], size: int) -> Truths:
        """Return the truth of the formula in some cases."""
        return truth(self.frame(columns, size), self.op)


def settle(space: Space) -> Found:
    """Return whether a formula can be true, with the shortest case met."""
    found = _settled(space)
    return found if found.case is None else Found(found.settled, shortened(space, found.case))


def can_be(space: Space) -> Settled:
    """Return what is known of a formula, without looking for a short case."""
    return _settled(space).settled


def is_met(space: Space) -> bool:
    """Return whether a case was met in which a formula is surely true."""
    chance = np.random.default_rng(_SEED)
    columns = _dealt(space, FIRST, chance)
    return bool(space.judged(columns, FIRST).yes.any()) or _searched(space, chance) is not None


def _settled(space: Space) -> Found:
    """What is known of a formula: the cheap ways first, a case and a proof by turns."""
    chance = np.random.default_rng(_SEED)
    columns = _dealt(space, FIRST, chance)
    found = space.judged(columns, FIRST)
    if found.yes.any():
        return Found(Settled.POSSIBLE, _true_case(columns, found))
    if _never(space, FEW_BOXES):
        return Found(Settled.NEVER)
    case = _searched(space, chance)
    if case is not None:
        return Found(Settled.POSSIBLE, case)
    return Found(Settled.NEVER if _never(space, MOST_BOXES) else Settled.OPEN)


# --- trying ---------------------------------------------------------------------------


def _searched(space: Space, chance: np.random.Generator) -> Case | None:
    """A case in which the formula is true, searched for beside its limits; None if none was met."""
    columns = _dealt(space, TRIED, chance)
    parts = _conjuncts(space.op)
    for _ in range(_ROUNDS):
        size = TRIED
        for round_ in (columns, *_nudged(space, columns, chance)):
            found = space.judged(round_, size)
            if found.yes.any():
                return _true_case(round_, found)
            columns = round_
        frame = space.frame(columns, size)
        met = np.sum([truth(frame, part).yes for part in parts], axis=0)
        best = np.argsort(-met, kind="stable")[:_KEPT]
        columns = _varied(space, columns, np.resize(best, TRIED), chance)
    return None


def _dealt(space: Space, size: int, chance: np.random.Generator) -> Columns:
    """Cases picked blindly: every free cell by itself, what a card tells all at once."""
    columns: Columns = {choice.cell: _random(choice, size, chance) for choice in space.choices}
    for deck in space.decks:
        drawn = chance.integers(0, deck.size, size)
        columns.update({cell: take_column(column, drawn) for cell, column in deck.columns.items()})
    return columns


def _true_case(columns: Columns, found: Truths) -> Case:
    """Of the true cases one that is off its limits, and off the ends of what is possible."""
    margin = np.where(found.yes, np.minimum(found.low, _ROOMY_STEPS), -np.inf)
    for cell, column in columns.items():
        if isinstance(cell, NumberCell) and isinstance(column, Numbers):
            low, high = ends_of(cell)
            margin = margin - ((column.low <= low) | (column.high >= high))
    row = np.array([int(np.argmax(margin))], np.int64)
    return Case({cell: take_column(column, row) for cell, column in columns.items()})


def _conjuncts(op: Op) -> list[Op]:
    """What a formula asks for at once."""
    match op:
        case Exact(formula=body) | Defined(body=body):
            return _conjuncts(body)
        case Every(items=items):
            return [part for item in items for part in _conjuncts(item)]
        case Negation(of=Some(items=items)):
            return [Negation(op.span, item) for item in items]
        case _:
            return [op]


def _random(choice: Choice, size: int, chance: np.random.Generator) -> Column:
    """Values of one cell, picked blindly from those worth trying."""
    match choice.cell:
        case NumberCell():
            return number_column(chance.choice(np.array(choice.points), size))
        case RelationCell():
            return held_column(choice, chance.integers(0, 2, size).astype(np.bool_))
        case WordCell():
            held = np.zeros((size, len(choice.words)), np.bool_)
            held[np.arange(size), chance.choice(choice.tried, size)] = True
            return held_column(choice, held)
        case _:
            some = chance.integers(0, 2, (size, len(choice.tried))).astype(np.bool_)
            some[~some.any(axis=1), -1] = True  # an example cannot tell of a set with nothing in it
            held = np.zeros((size, len(choice.words)), np.bool_)
            held[:, choice.tried] = some
            return held_column(choice, held)


def _nudged(space: Space, columns: Columns, chance: np.random.Generator) -> list[Columns]:
    """The cases again, quantities moved to just beside where a comparison turns."""
    out = []
    free = {choice.cell for choice in space.choices}
    for left, right, step in comparisons_in(space.op):
        frame = space.frame(columns, TRIED)
        margin = numbers(frame, left).best - numbers(frame, right).best
        if not np.isfinite(margin).all():
            continue
        for cell, factor in terms_of(left, right).items():
            if not isinstance(cell, NumberCell) or not factor or cell not in free:
                continue
            aim = chance.choice(np.array([-2.0, -1.0, 0.0, 1.0, 2.0]), TRIED) * step
            now = numbers(frame, cell).best
            low, high = ends_of(cell)
            moved = np.clip(now - (margin - aim) / factor, low, high)
            kept = np.where(chance.random(TRIED) < 0.7, moved, now)
            out.append({**columns, cell: number_column(kept)})
    return out


def _varied(space: Space, columns: Columns, rows: Ints, chance: np.random.Generator) -> Columns:
    """Some cases again, each cell picked anew in about every fifth."""
    fresh = _dealt(space, TRIED, chance)
    out: Columns = {}
    for together in (*((choice.cell,) for choice in space.choices), *(deck.columns for deck in space.decks)):
        anew = chance.random(TRIED) < _ANEW
        for cell in together:
            out[cell] = _mixed(take_column(columns[cell], rows), fresh[cell], anew)
    return out


def _mixed(old: Column, new: Column, fresh: Bools) -> Column:
    """The rows of `new` where `fresh`, else those of `old`."""
    pick = np.where(fresh, np.arange(len(fresh)) + len(fresh), np.arange(len(fresh)))
    return take_column(_stacked(old, new), pick)


def _stacked(a: Column, b: Column) -> Column:
    """Two columns of one cell, one below the other."""
    match a, b:
        case Numbers(), Numbers():
            return Numbers(
                np.concatenate([a.low, b.low]),
                np.concatenate([a.best, b.best]),
                np.concatenate([a.high, b.high]),
                np.concatenate([a.flags, b.flags]),
            )
        case Words(), Words():
            return Words(
                np.concatenate([a.possible, b.possible]), a.domain, np.concatenate([a.flags, b.flags])
            )
        case Sets(), Sets():
            return Sets(
                np.concatenate([a.surely, b.surely]),
                np.concatenate([a.possibly, b.possibly]),
                a.domain,
                np.concatenate([a.flags, b.flags]),
            )
        case Truths(), Truths():
            yes, no = np.concatenate([a.yes, b.yes]), np.concatenate([a.no, b.no])
            return truths.of_bools(yes, no, np.concatenate([a.flags, b.flags]))
        case _:
            raise TypeError("two columns of different cells")


def shortened(space: Space, case: Case) -> Case:
    """Return a case without the cells that do not matter: with them unknown the formula is still true."""
    kept = {choice.cell: unknown_column(choice) for choice in space.every} | dict(case.columns)
    told = dict(case.columns)
    for choice in space.every:
        if choice.cell in told:
            trial = {**kept, choice.cell: unknown_column(choice)}
            if space.judged(trial, 1).yes[0]:
                kept = trial
                del told[choice.cell]
    return Case(told)


# --- proving --------------------------------------------------------------------------


def _never(space: Space, most: int) -> bool:
    """Whether the formula is false over regions that together cover every case."""
    if len(space.decks) > 1:
        return False
    size = space.decks[0].size if space.decks else 1
    columns: Columns = {choice.cell: unknown_column(choice, size) for choice in space.choices}
    columns.update(space.decks[0].columns if space.decks else {})
    seen = size
    for choice in space.choices:
        open_rows = np.flatnonzero(~space.judged(columns, size).no)
        if not len(open_rows):
            return True
        seen += len(open_rows) * choice.parts
        if seen > most:
            return False
        columns = {cell: take_column(column, open_rows) for cell, column in columns.items()}
        columns, size = _split(columns, choice, len(open_rows))
    return bool(space.judged(columns, size).no.all())


def _split(columns: Columns, choice: Choice, size: int) -> tuple[Columns, int]:
    """Every box cut along one cell."""
    regions = _regions_of(choice)
    parts = len(regions.flags)
    rows = np.repeat(np.arange(size), parts)
    cut = {cell: take_column(column, rows) for cell, column in columns.items()}
    cut[choice.cell] = take_column(regions, np.tile(np.arange(parts), size))
    return cut, len(rows)


def _regions_of(choice: Choice) -> Column:
    """The regions one cell falls into, one row each."""
    match choice.cell:
        case NumberCell():
            low = np.array([region[0] for region in choice.regions])
            high = np.array([region[1] for region in choice.regions])
            best = np.where(low == high, low, np.nan)
            return Numbers(low, best, high, np.where(low == high, 0, 1).astype(np.uint8))
        case WordCell():
            return held_column(choice, np.eye(len(choice.words), dtype=np.bool_))
        case RelationCell():
            return held_column(choice, np.array([True, False]))
        case _:
            return _sets_of(choice)


def _sets_of(choice: Choice) -> Sets:
    """A set of words by which of the named ones it has; the others may be in it or not."""
    asked = [word for word in choice.named if word in choice.words][:6]
    count = 2 ** len(asked)
    surely = np.zeros((count, len(choice.words)), np.bool_)
    possibly = np.ones((count, len(choice.words)), np.bool_)
    for bit, word in enumerate(asked):
        at = choice.words.index(word)
        has = (np.arange(count) >> bit) & 1 == 1
        surely[:, at], possibly[:, at] = has, has
    return Sets(surely, possibly, choice.words, np.zeros(count, np.uint8))
