"""The parts of a page."""

from __future__ import annotations

from advisor.reports.page import Labelled, Line, Part, Tone, labelled, line


def test_short_ways_make_the_same_blocks() -> None:
    assert line("x", Tone.BAD, indent=2) == Line((Part("x", Tone.BAD),), 2)
    assert labelled("NOTE", "x", width=6) == Labelled("NOTE", (Part("x"),), Tone.HEAD, 0, 6)
