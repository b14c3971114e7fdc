"""A house block cut into its lines."""

from __future__ import annotations

import pytest

from advisor.language.house_pieces import VERBS, cut_house
from advisor.language.nodes import HouseEdit
from advisor.language.parse import parse_file
from advisor.language.pieces import Piece
from advisor.language.reader import keywords
from tests.language.texts import codes

SOUND = "  switch off b\n"


def of(text: str) -> tuple[list[str], list[tuple[str, int, int]]]:
    """What can be read of a file, and the code and place of each problem."""
    file, problems = parse_file("house.rules", f"edition 1\n{text}")
    edits = [item.target for item in file.declarations if isinstance(item, HouseEdit)]
    return edits, [(p.code, p.span.line, p.span.column) for p in problems if p.span is not None]


@pytest.mark.parametrize(
    ("faulty", "code", "column"),
    [
        ('  chnge a from 2 cm to 3 cm\n    because "x"\n', "word-101", 3),
        ("  change a from 2 cm too 3 cm\n", "word-101", 22),
        ("  accept a for b short by … on 2026-11-02\n", "word-133", 27),
        ("  accept a for b at …, c at … short by 3 cm\n", "word-133", 21),
        ("  switch off a until …\n", "word-133", 22),
        ('  change a from 2 cm to 3 cm\n  because "x\n', "text-404", 11),
        ("  a from 2 cm to 3 cm\n", "word-101", 3),
    ],
)
def test_a_line_that_cannot_be_read_hides_no_other(faulty: str, code: str, column: int) -> None:
    line = 3 + faulty.count("\n") - 1
    for text, at in ((faulty + SOUND, 3), (SOUND + faulty, 4)):
        edits, problems = of("house\n" + text)
        assert edits == ["b"]
        assert [found for found, *_ in problems] == [code]
        assert problems[0][1] in range(at, at + line)
        assert problems[0][2] == column


def test_two_faulty_lines_are_both_told() -> None:
    _, problems = of("house\n  chnge a from 2 cm to 3 cm\n" + SOUND + "  levl c from advice to danger\n")
    assert problems == [("word-101", 3, 3), ("word-101", 5, 3)]


def test_a_block_is_cut_where_its_lines_begin_and_each_keeps_its_place() -> None:
    lines = [
        "house change a from 1 to 2",
        "  # why",
        "",
        '  because "x"',
        "    until 2027-01-01",
        "  accept b",
        "  odd",
    ]
    parts = cut_house(Piece("house", 4, lines))
    assert [part.lines for part in parts] == [
        lines[:5],
        ["house", "", "", "", "", "  accept b"],
        ["house", *[""] * 5, "  odd"],
    ]
    assert {part.first_line for part in parts} == {4}


def test_a_block_of_nothing_is_one_part() -> None:
    assert [part.lines for part in cut_house(Piece("house", 1, ["house", "  # none"]))] == [
        ["house", "  # none"]
    ]


def test_the_verbs_are_those_of_the_grammar() -> None:
    assert set(VERBS) <= set(keywords("house_decl").values())
    file, problems = parse_file("x.rules", "edition 1\nhouse\n  x\n")
    assert codes(problems) == ["word-101"]
    assert all(verb in problems[0].label for verb in VERBS)
    assert file.declarations == ()
