"""Whether a disagreement of two sources matters: the same bindings judged again with the other line.

Of two lines of a card the stricter one governs; a verdict is disputed only
where it would be another one if the other line stood alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol, runtime_checkable

import numpy as np

from advisor.language.library import Library
from advisor.model.computed import rests_on_cards
from advisor.reasoning.columns import Bools, Ints
from advisor.reasoning.compiled_rule import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import Plane, judge_bindings
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.open_names import open_words
from advisor.reasoning.ops import Op, word_of
from advisor.reasoning.record import CellOp, Row, members_of, parts_of
from advisor.reasoning.survey_disputes import Dispute
from advisor.reasoning.tables import Tables


@runtime_checkable
class WithDisputes(Protocol):
    """Tables that rest on cards, and can be had with another line of one of them."""

    @property
    def library(self) -> Library:
        """The checked rules and vocabulary."""

    def disputes_at(self, word: str, rows: tuple[int, ...]) -> Sequence[Dispute]:
        """Return the disputed card lines that a measure or relation of some rows rests on."""

    def as_told(self, dispute: Dispute) -> Sequence[Tables]:
        """Return the tables with each value of a disputed line standing alone; rows stay."""


def disputed(compiled: CompiledRule, frame: Frame, plane: Plane) -> Bools:
    """Return the bindings of a judged frame whose verdict another line of a card would change."""
    found = np.zeros(frame.size, np.bool_)
    tables = frame.tables
    if not isinstance(tables, WithDisputes):
        return found
    for dispute, met in _met(compiled, frame, tables).items():
        rows = np.array(list(met), np.int64)
        for other in tables.as_told(dispute):
            for measure, words in open_words(tables.library).items():
                other.set_domain(measure, words)
            again = judge_bindings(
                compiled, other, frame.population, plane.bindings.take(rows), frame.months[rows]
            )
            found[rows] |= again.verdict != plane.verdict[rows]
    return found


def _met(compiled: CompiledRule, frame: Frame, tables: WithDisputes) -> dict[Dispute, dict[int, None]]:
    """The disputed lines that a rule reads, each with the bindings at which it does."""
    found: dict[Dispute, dict[int, None]] = {}
    every = np.arange(frame.size)
    for part in (compiled.when, compiled.expect, compiled.unless):
        for cell, where, at, owners in () if part is None else _cells(part, frame, every, every):
            columns = [where.resolve(ref)[at].tolist() for ref in cell.refs]
            for owner, *rows in zip(owners.tolist(), *columns, strict=True):
                for dispute in tables.disputes_at(cell.name, tuple(rows)):
                    found.setdefault(dispute, {})[owner] = None
    return found


def _cells(op: Op, frame: Frame, at: Ints, owners: Ints) -> Iterator[tuple[CellOp, Frame, Ints, Ints]]:
    """Every cell below an operation that cards may have a share in, those of members included.

    Each with the rows of a frame at which it is read, and the binding each of them belongs to.
    """
    if isinstance(op, CellOp) and rests_on_cards(word_of(op)):
        yield op, frame, at, owners
    for child in op.inputs:
        yield from _cells(child, frame, at, owners)
    if isinstance(op, TruthAggregate | NumberAggregate) and any(map(_reads_cards, parts_of(op))):
        for inner, rows, whose in _members(op, frame, at):
            for part in parts_of(op):
                yield from _cells(part, inner, rows, owners[whose])


def _members(
    op: TruthAggregate | NumberAggregate, frame: Frame, at: Ints
) -> Iterator[tuple[Frame, Ints, Ints]]:
    """The members of an aggregate at some rows: their frame, their rows in it, and whose each of them is."""
    frame.value(op)
    if op in frame.inner:
        inner, segment = frame.inner[op]
        place = np.full(frame.size, -1)
        place[at] = np.arange(len(at))
        rows = np.flatnonzero(place[segment] >= 0)
        yield inner, rows, place[segment[rows]]
        return
    for index, row in enumerate(at.tolist()):  # links of chains, which many bindings share
        links = members_of(op, Row(frame, row))
        if links:
            yield links[0].frame, np.array([link.at for link in links]), np.full(len(links), index)


def _reads_cards(op: Op) -> bool:
    """Whether some cell below an operation rests on cards."""
    if isinstance(op, CellOp):
        return rests_on_cards(word_of(op))
    nested = parts_of(op) if isinstance(op, TruthAggregate | NumberAggregate) else ()
    return any(_reads_cards(child) for child in (*op.inputs, *nested))
