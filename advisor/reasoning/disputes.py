"""Whether a disagreement of two sources matters: the same bindings judged again with the other line.

Of two lines of a card the stricter one governs; a verdict is disputed only
where it would be another one if the other line stood alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol, runtime_checkable

import numpy as np

from advisor.language.library import Library
from advisor.model.vocabulary import Supplier
from advisor.reasoning.columns import Bools
from advisor.reasoning.compiled_rule import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import Plane, judge_bindings
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.open_names import open_words
from advisor.reasoning.ops import NumberCell, Op
from advisor.reasoning.record import Row, members_of, parts_of
from advisor.reasoning.survey_disputes import Dispute
from advisor.reasoning.tables import Tables


@runtime_checkable
class WithDisputes(Protocol):
    """Tables that rest on cards, and can be had with another line of one of them."""

    @property
    def library(self) -> Library:
        """The checked rules and vocabulary."""

    def disputes_at(self, measure: str, rows: tuple[int, ...]) -> Sequence[Dispute]:
        """Return the disputed card lines that a value of some rows rests on."""

    def as_told(self, dispute: Dispute) -> Sequence[Tables]:
        """Return the tables with each number of a disputed line standing alone; rows stay."""


def disputed(compiled: CompiledRule, frame: Frame, plane: Plane) -> Bools:
    """Return the bindings of a judged frame whose verdict another line of a card would change."""
    found = np.zeros(frame.size, np.bool_)
    tables = frame.tables
    if not isinstance(tables, WithDisputes):
        return found
    rows_of: dict[Dispute, list[int]] = {}
    for at in range(frame.size):
        for dispute in _met(compiled, Row(frame, at), tables):
            rows_of.setdefault(dispute, []).append(at)
    for dispute, at_rows in rows_of.items():
        rows = np.array(at_rows, np.int64)
        for other in tables.as_told(dispute):
            for measure, words in open_words(tables.library).items():
                other.set_domain(measure, words)
            again = judge_bindings(
                compiled, other, frame.population, plane.bindings.take(rows), frame.months[rows]
            )
            found[rows] |= again.verdict != plane.verdict[rows]
    return found


def _met(compiled: CompiledRule, row: Row, tables: WithDisputes) -> dict[Dispute, None]:
    """The disputed lines that a rule reads at one binding."""
    parts = [op for op in (compiled.when, compiled.expect, compiled.unless) if op is not None]
    return {
        dispute: None
        for part in parts
        for cell, where in _quantities(part, row)
        for dispute in tables.disputes_at(cell.name, where.rows(cell.refs))
    }


def _quantities(op: Op, row: Row) -> Iterator[tuple[NumberCell, Row]]:
    """Every quantity below an operation that cards may have a share in, those of members included."""
    if isinstance(op, NumberCell) and _rests_on_cards(op):
        yield op, row
    for child in op.inputs:
        yield from _quantities(child, row)
    if isinstance(op, TruthAggregate | NumberAggregate) and any(map(_reads_cards, parts_of(op))):
        for member in members_of(op, row):
            for part in parts_of(op):
                yield from _quantities(part, member)


def _rests_on_cards(op: NumberCell) -> bool:
    """Whether a quantity is told by cards, by animals that do well by theirs, or grows by them."""
    measure = op.measure
    told = Supplier.CARD in measure.suppliers or measure.computed_by.startswith("vouched-")
    return told or measure.at_a_month


def _reads_cards(op: Op) -> bool:
    """Whether some quantity below an operation rests on cards."""
    if isinstance(op, NumberCell):
        return _rests_on_cards(op)
    nested = parts_of(op) if isinstance(op, TruthAggregate | NumberAggregate) else ()
    return any(_reads_cards(child) for child in (*op.inputs, *nested))
