"""Marks and the one count they are counted by."""

from __future__ import annotations

from advisor.model.coverage import Mark, Tally, tally


def test_only_needed_marks_are_counted_and_once_each() -> None:
    marks = [
        Mark(what="holds", seen=3),
        Mark(what="fails", seen=0),
        Mark(what="excused", seen=0, needed=False),
        Mark(what="not covered", seen=2, needed=False),
    ]
    assert tally(marks) == Tally(seen=1, needed=2)
    assert tally(marks).percent == 50.0
    assert [mark.lacking for mark in marks] == [False, True, False, False]


def test_where_nothing_is_needed_nothing_is_lacking() -> None:
    assert tally(()).percent == 100.0
