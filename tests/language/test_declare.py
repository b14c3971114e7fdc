"""One piece read by itself."""

from __future__ import annotations

from advisor.language.declare import LINE_MARK, read_piece
from advisor.language.nodes import Card, Let
from advisor.language.pieces import Piece


def test_a_piece_is_read_at_its_place_in_the_file() -> None:
    shown = ["edition 1", "let x = 3 cm", "let y = 4 cm"]
    (found,), problems = read_piece("a.rules", Piece("let", 3, ["let y = 4 cm"]), shown)
    assert problems == ()
    assert isinstance(found, Let)
    assert (found.span.line, found.span.text) == (3, "let y = 4 cm")


def test_the_same_piece_is_not_read_again() -> None:
    shown = ["let x = 3 cm"]
    piece = Piece("let", 1, ["let x = 3 cm"])
    assert read_piece("a.rules", piece, shown) is read_piece("a.rules", piece, list(shown))
    assert read_piece("b.rules", piece, shown) is not read_piece("a.rules", piece, shown)


def test_a_line_of_a_card_ends_where_the_next_begins() -> None:
    lines = ["card x", '  light min 3 PAR source "a" kind guess', '  source "b" kind guess']
    (found,), problems = read_piece("a.rules", Piece("card", 1, lines), lines)
    assert problems == ()
    assert isinstance(found, Card)
    assert [value.source.text for value in found.values if value.source] == ["a"]
    assert LINE_MARK not in found.span.text


def test_what_is_refused_has_its_place() -> None:
    lines = ["let x = ", "  parsec"]
    built, (problem,) = read_piece("a.rules", Piece("let", 7, lines), [""] * 6 + lines)
    assert built == ()
    assert problem.span is not None
    assert (problem.span.line, problem.span.text) == (8, "  parsec")
