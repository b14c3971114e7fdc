from __future__ import annotations

import numpy as np

from advisor.model.cells import Cause, Cell, CellKind, NumberCell, SetCell, WordCell
from advisor.reasoning.columns import ASSUMED, MISSING, STALE
from advisor.reasoning.survey_pack import (
    flag_of,
    pack_numbers,
    pack_sets,
    pack_words,
    take_numbers,
    take_sets,
    take_words,
    words_in,
)
from tests.reasoning.survey_samples import rows

POINT = NumberCell(1.0, 1.0, 1.0, CellKind.CARD)
OPEN = NumberCell(0.0, None, 9.0, CellKind.UNKNOWN, Cause.MISSING)
OLD = NumberCell(0.0, 3.0, 9.0, CellKind.UNKNOWN, Cause.STALE)


def test_numbers_keep_ends_best_and_why_they_are_not_known() -> None:
    column = pack_numbers([POINT, OPEN, OLD])
    assert column.low.tolist() == [1.0, 0.0, 0.0]
    assert column.high.tolist() == [1.0, 9.0, 9.0]
    assert np.isnan(column.best).tolist() == [False, True, False]
    assert column.flags.tolist() == [0, MISSING, STALE]


def test_what_is_assumed_is_flagged_as_such_and_nothing_else() -> None:
    assert pack_numbers([POINT, OPEN], [False, True]).flags.tolist() == [0, ASSUMED]
    assert [flag_of(OPEN), flag_of(OPEN, True)] == [MISSING, ASSUMED]


def test_rows_are_taken_in_any_order_and_number() -> None:
    column = take_numbers(pack_numbers([POINT, OPEN]), rows(1, 0, 1))
    assert column.high.tolist() == [9.0, 1.0, 9.0]
    assert take_numbers(pack_numbers([POINT]), rows()).low.tolist() == []


def test_words_are_marked_over_the_domain_and_any_word_marks_all() -> None:
    cells = [WordCell(frozenset({"b"}), CellKind.STATED), WordCell(None, CellKind.UNKNOWN, Cause.MISSING)]
    column = take_words(pack_words(cells, ("a", "b")), rows(0, 1))
    assert column.possible.tolist() == [[False, True], [True, True]]
    assert column.flags.tolist() == [0, MISSING]
    assert column.domain == ("a", "b")


def test_sets_tell_what_is_sure_from_what_is_possible() -> None:
    cells = [
        SetCell(frozenset({"a"}), frozenset({"a", "b"}), CellKind.CARD),
        SetCell(frozenset(), None, CellKind.UNKNOWN, Cause.MISSING),
    ]
    column = take_sets(pack_sets(cells, ("a", "b", "c")), rows(0, 1))
    assert column.surely.tolist() == [[True, False, False], [False, False, False]]
    assert column.possibly.tolist() == [[True, True, False], [True, True, True]]


def test_the_words_of_cells_are_those_that_are_possible() -> None:
    cells: list[Cell] = [WordCell(frozenset({"b"}), CellKind.STATED), WordCell(None, CellKind.UNKNOWN),
             SetCell(frozenset(), frozenset({"c"}), CellKind.CARD), POINT]  # fmt: skip
    assert words_in(cells) == {"b", "c"}
