"""Cutting a file at its column-1 words."""

from __future__ import annotations

from advisor.language.pieces import cut


def cut_text(text: str) -> tuple[list[tuple[str, int, int]], list[str]]:
    """Pieces as word, first line and number of lines; and the codes of problems."""
    lines = text.split("\n")
    pieces, problems = cut("x", lines, lines)
    return [(p.word, p.first_line, len(p.lines)) for p in pieces], [p.code for p in problems]


def test_a_piece_reaches_to_the_next_word_at_the_left_edge() -> None:
    assert cut_text("let x = 3\n\nrule y\n  for tank\n# note\n  when z\nlet w = 2") == (
        [("let", 1, 2), ("rule", 3, 4), ("let", 7, 1)],
        [],
    )


def test_an_unknown_word_swallows_its_own_lines_only() -> None:
    assert cut_text("lett x\n  more\nlet y = 3") == ([("let", 3, 1)], ["word-101"])


def test_a_word_of_a_later_edition_is_named_as_such() -> None:
    assert cut_text("sign pale-tips\n  for coral c") == ([], ["word-102"])


def test_indented_text_before_everything_belongs_to_nothing() -> None:
    assert cut_text("  for coral c\n  when x")[1] == ["word-103"]


def test_a_clause_at_the_left_edge_goes_on_with_the_piece() -> None:
    assert cut_text("rule y\nfor tank") == ([("rule", 1, 2)], ["word-118"])


def test_house_lines_without_a_head_are_told_once_and_read_as_a_block() -> None:
    text = "edition 1\nchange a from 2 cm to 3 cm\nswitch off b\n  because c\n\n"
    text += "let x = 3\n  accept d for e\nlet y = 2"
    assert cut_text(text) == (
        [("edition", 1, 1), ("house", 1, 5), ("let", 6, 1), ("house", 6, 2), ("let", 8, 1)],
        ["word-134", "word-134"],
    )
    assert cut_text("switch off b\n  because c") == ([], ["word-134"])


def test_a_mistyped_house_is_told_once_and_its_lines_are_read() -> None:
    assert cut_text("edition 1\nhous\n  switch off b") == ([("edition", 1, 1), ("house", 2, 2)], ["word-101"])
    assert cut_text("edition 1\nqqqq\n  switch off b") == ([("edition", 1, 1)], ["word-101"])


def test_what_looks_like_a_house_line_and_is_none_stays_where_it_is() -> None:
    text = 'lever a\n  changes light(p)\nrule r\n  level danger\n  because "x"\nhouse\n  switch off b'
    assert cut_text(text) == ([("lever", 1, 2), ("rule", 3, 3), ("house", 6, 2)], [])
