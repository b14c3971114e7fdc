"""Wrapping, aligning and colour; nothing wider than it is told, for any text."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from advisor.reports.page import (
    Blank,
    Block,
    Cells,
    Grid,
    Labelled,
    Line,
    Part,
    Tone,
    Verbatim,
    labelled,
    line,
)
from advisor.reports.printer import Look, render

TEXTS = st.text(max_size=200)


def widest(text: str) -> int:
    return max((cell_len(each) for each in text.splitlines()), default=0)


def test_a_paragraph_wraps_under_its_indent() -> None:
    shown = render((line("one two three four", indent=2),), Look(width=12))
    assert shown == "  one two\n  three four\n"


def test_a_label_has_its_own_column() -> None:
    shown = render((labelled("CAUTION", "mild sting to thin skin"),), Look(width=24))
    assert shown == "CAUTION   mild sting to\n          thin skin\n"


def test_a_long_label_takes_the_room_it_needs() -> None:
    assert render((labelled("a-very-long-id", "x"),)) == "a-very-long-id x\n"


def test_cells_stand_under_each_other_and_the_last_takes_the_rest() -> None:
    rows = (
        Cells((Part("light"), Part("118"), Part("your meter"))),
        Cells((Part("gap to hammer-1"), Part("6"), Part("tape"))),
        Cells((Part("then"), Part("this one runs on to the edge of the page"))),
    )
    assert render((Grid(rows, caps=(20, 10), numbers=(1,)),)).splitlines() == [
        "light            118  your meter",
        "gap to hammer-1    6  tape",
        "then             this one runs on to the edge of the page",
    ]


def test_wide_letters_count_double() -> None:
    rows = (Cells((Part("珊瑚"), Part("a"))), Cells((Part("abcd"), Part("b"))))
    assert render((Grid(rows, caps=(10,)),)) == "珊瑚  a\nabcd  b\n"


def test_plain_has_no_codes_and_no_trailing_blanks() -> None:
    shown = render((line("x", Tone.BAD), labelled("a", "b", Tone.GOOD)))
    assert "\x1b" not in shown
    assert re.search(r" $", shown, re.MULTILINE) is None


def test_colour_marks_what_is_bad_and_good() -> None:
    shown = render(
        (Line((Part("bad", Tone.BAD), Part("good", Tone.GOOD), Part("plain"))),), Look(colour=True)
    )
    assert "\x1b[1;31mbad\x1b[0m\x1b[1;32mgood\x1b[0mplain" in shown


def test_without_unicode_the_columns_still_stand() -> None:
    rows = (Cells((Part("118 ±12 PAR"), Part("a"))), Cells((Part("10 PAR"), Part("b"))))
    shown = render((Grid(rows, caps=(20,)),), Look(unicode=False))
    assert shown == "118 +-12 PAR  a\n10 PAR        b\n"


def test_a_verbatim_line_is_never_wrapped() -> None:
    source = "x" * 200
    assert render((Verbatim((Part(source),)),)) == source + "\n"


def test_markup_of_the_printing_library_is_text() -> None:
    assert render((line("[bold red]loud[/] :smile:"),)) == "[bold red]loud[/] :smile:\n"


def test_an_empty_page_is_empty_text() -> None:
    assert render(()) == ""
    assert render((Blank(),)) == "\n"


@pytest.mark.parametrize("width", [40, 80])
@given(text=TEXTS, other=TEXTS, label=st.text(max_size=30))
def test_nothing_is_wider_than_told(width: int, text: str, other: str, label: str) -> None:
    blocks: tuple[Block, ...] = (
        line(text, indent=4),
        Labelled(label, (Part(text), Part(other))),
        Grid((Cells((Part(label), Part(text), Part(other))), Cells((Part(other), Part(label)))), (28, 20)),
    )
    assert widest(render(blocks, Look(width=width))) <= width


@given(text=TEXTS)
def test_without_unicode_all_is_ascii(text: str) -> None:
    assert render((line(text), labelled(text[:9], text)), Look(unicode=False)).isascii()
