"""The cards as one thing an animal can be: what one card tells of it goes together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.model.vocabulary import Measure, Supplier
from advisor.reasoning.columns import MISSING, Bools, Column, Numbers, Sets, Words
from advisor.reasoning.ops import NumberCell, RelationCell, SetCell, WordCell
from advisor.rulework.cardindex import CardIndex
from advisor.rulework.cellspace import CellOp, Choice


@dataclass(frozen=True, slots=True)
class Deck:
    """What every card tells of one variable of a rule: a row for each card."""

    columns: Mapping[CellOp, Column]
    size: int


def decks_of(choices: Sequence[Choice], told: CardIndex) -> tuple[Deck, ...]:
    """Return the deck of each variable that cards tell something of; without cards there is none."""
    by_var: dict[str, dict[CellOp, Column]] = {}
    for choice in choices if told.names else ():
        cell = choice.cell
        if isinstance(cell, RelationCell) or Supplier.CARD not in cell.measure.suppliers:
            continue
        if len(cell.refs) == 1 and not cell.refs[0].spot:
            by_var.setdefault(cell.refs[0].var, {})[cell] = _column(choice, cell.measure, told)
    return tuple(Deck(columns, len(told.names)) for columns in by_var.values())


def _column(choice: Choice, measure: Measure, told: CardIndex) -> Column:
    """What each card tells of one measure; what it does not tell is unknown."""
    if isinstance(choice.cell, NumberCell):
        return _numbers(measure, told)
    held = np.zeros((len(told.names), len(choice.words)), np.bool_)
    for row, word in told.words.get(measure.card_line, ()):
        if word in choice.words:
            held[row, choice.words.index(word)] = True
        elif isinstance(choice.cell, WordCell):
            held[row, -1] = True  # a name that no rule speaks of
    said: Bools = np.logical_or.reduce(held, axis=1)
    flags = np.where(said, 0, MISSING).astype(np.uint8)
    if isinstance(choice.cell, SetCell):
        return Sets(held, held | ~said[:, None], choice.words, flags)
    return Words(held | ~said[:, None], choice.words, flags)


def _numbers(measure: Measure, told: CardIndex) -> Numbers:
    """The range of each card's values of one line."""
    size = len(told.names)
    low, high = np.full(size, np.inf), np.full(size, -np.inf)
    for row, value in told.numbers.get(measure.card_line, ()):
        low[row], high[row] = min(low[row], value), max(high[row], value)
    silent = low > high
    low, high = np.where(silent, measure.low, low), np.where(silent, measure.high, high)
    return Numbers(
        low, np.where(low == high, low, np.nan), high, np.where(silent, MISSING, 0).astype(np.uint8)
    )
