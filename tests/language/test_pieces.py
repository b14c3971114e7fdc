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
