"""Cells keep unknown, stale and merely wide apart."""

from __future__ import annotations

import dataclasses

import pytest

from advisor.model.cells import Cause, CellKind, NumberCell, SetCell, Support, TruthCell, WordCell


def test_what_is_not_known_is_a_range_with_a_cause_and_no_best_value() -> None:
    cell = NumberCell(0.0, None, 500.0, CellKind.UNKNOWN, Cause.MISSING)
    assert cell.best is None
    assert cell.cause is Cause.MISSING
    assert cell.supports == ()


def test_any_word_at_all_differs_from_no_word() -> None:
    anything = WordCell(None, CellKind.UNKNOWN, Cause.MISSING)
    nothing = WordCell(frozenset(), CellKind.STATED)
    assert anything != nothing
    assert SetCell(frozenset(), None, CellKind.UNKNOWN) != SetCell(frozenset(), frozenset(), CellKind.STATED)


def test_no_is_not_the_same_as_not_known() -> None:
    assert TruthCell(False, CellKind.STATED) != TruthCell(None, CellKind.UNKNOWN, Cause.MISSING)


def test_cells_and_their_grounds_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        Support("tape").text = "guess"  # type: ignore[misc]  # the point of the test
