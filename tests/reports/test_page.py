"""The parts of a page."""

from __future__ import annotations

from advisor.reports.page import Blank, Labelled, Line, Part, Tone, join_pages, labelled, line


def test_short_ways_make_the_same_blocks() -> None:
    assert line("x", Tone.BAD, indent=2) == Line((Part("x", Tone.BAD),), 2)
    assert labelled("NOTE", "x", width=6) == Labelled("NOTE", (Part("x"),), Tone.HEAD, 0, 6)


def test_pages_are_joined_with_one_empty_line() -> None:
    one, two = (line("one"),), (line("two"),)
    assert join_pages((one, two)) == (*one, Blank(), *two)


def test_an_empty_page_leaves_no_gap() -> None:
    assert join_pages(((), (line("one"),), ())) == (line("one"),)
