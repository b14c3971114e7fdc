"""One piece of a rule file to its declarations, every mistake in it found; a piece is read once."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from advisor.errors import Problem, Span
from advisor.language.nodes import Declaration, Expr
from advisor.language.pieces import MAX_PIECE, Piece

if TYPE_CHECKING:
    from advisor.language.build import Branch, Site

LINE_MARK = "\x1e"
"""Stands before each line of a card that starts something new; no file holds it."""
PLACE_FOR_OUTCOME = "…"
"""Stands in a pasted example where its author has yet to say what should come out."""
_MOST_MISTAKES = 5
_DEEPEST_TREE = 120
_KEPT = 4096
"""How many pieces are kept: more than all shipped files have, so that an editor reads only what changed."""

Read = tuple[tuple[Declaration, ...], tuple[Problem, ...]]


def read_piece(name: str, piece: Piece, shown: list[str]) -> Read:
    """Return the declarations of one piece and its problems.

    Parameters
    ----------
    name
        What messages call the file.
    piece
        The piece as it was cut.
    shown
        All lines of the file, as messages show them.
    """
    own = tuple(shown[piece.first_line - 1 : piece.first_line - 1 + len(piece.lines)])
    return _read(name, piece.word, piece.first_line, tuple(piece.lines), own)


@lru_cache(maxsize=_KEPT)
def _read(name: str, word: str, first_line: int, lines: tuple[str, ...], shown: tuple[str, ...]) -> Read:
    """The piece with these lines; what it says hangs on nothing else."""
    problems: list[Problem] = []
    before = [""] * (first_line - 1)
    built = _read_piece(name, Piece(word, first_line, list(lines)), [*before, *shown], problems)
    return tuple(built), tuple(problems)


def _marked(piece: Piece) -> str:
    """The text of a piece; in a card, a mark stands before each line that starts something new."""
    if piece.word != "card":
        return piece.text
    body = [line for line in piece.lines[1:] if line.strip() and not line.lstrip().startswith("#")]
    indent = len(body[0]) - len(body[0].lstrip()) if body else 0
    lines = piece.lines[:1]
    for line in piece.lines[1:]:
        own = len(line) - len(line.lstrip())
        new = line.strip() and not line.lstrip().startswith("#") and 0 < own <= indent
        lines.append(line[: own - 1] + LINE_MARK + line[own:] if new else line)
    return "\n".join(lines)


def _read_piece(name: str, piece: Piece, shown: list[str], problems: list[Problem]) -> list[Declaration]:
    """The declarations of one piece; its problems are appended."""
    from advisor.language.build import Refused, Site

    site = Site(name, shown, piece.first_line, lambda text, span: None)
    site.read_hole = lambda text, span: _read_hole(site, text, span)
    first = Span(
        name, piece.first_line, 1, piece.first_line, len(piece.word) + 1, shown[piece.first_line - 1]
    )
    if len(piece.text) > MAX_PIECE:
        problems.append(
            Problem(
                "size-122",
                "this declaration is too long",
                first,
                f"at most {MAX_PIECE} characters",
                "split it",
            )
        )
        return []
    tree = _tree(_marked(piece), piece.word, site)
    built: list[Declaration] = []
    if tree is None and piece.word == "house":
        built = _line_by_line(piece, site)
    if tree is not None and not _too_deep(tree):
        try:
            built = _build(site, piece.word, tree)
        except Refused as refused:
            site.problems.append(refused.problem)
    elif tree is not None:
        site.problems.append(
            Problem(
                "size-123",
                "this is nested too deeply",
                first,
                "brackets within brackets",
                "name a part of it with define",
            )
        )
    problems.extend(site.problems)
    return built


def _line_by_line(piece: Piece, site: Site) -> list[Declaration]:
    """The declarations of a house block that cannot be read as a whole: those of its readable lines."""
    from advisor.language.house_pieces import cut_house

    site.problems.clear()
    built: list[Declaration] = []
    for part in cut_house(piece):
        tree = _tree(part.text, piece.word, site)
        if tree is not None:
            built.extend(_build(site, piece.word, tree))
    return built


def _tree(text: str, piece: str, site: Site) -> Branch | None:
    """The parser's tree of a text; a mistyped keyword is reported and read as what was meant."""
    from lark import Token

    from advisor.language.mistakes import NO_OUTCOME, keyword_meant, mistake, start_of
    from advisor.language.reader import UnexpectedInput, keywords, read

    start = start_of(piece)
    seen: list[int] = []

    def go_on(error: UnexpectedInput) -> bool:
        """Report one mistake; go on where the word meant is clear."""
        token = getattr(error, "token", None)
        where = site.span(token) if isinstance(token, Token) and token.type != "$END" else _end_of(site, text)
        problem = mistake(error, piece, where, text)
        if problem.code == NO_OUTCOME and isinstance(token, Token) and token.type != "$END":
            marked = token == PLACE_FOR_OUTCOME
            problem = problem if marked else replace(problem, span=_end_of(site, text[: token.start_pos]))
        site.problems.append(problem)
        position = getattr(error, "pos_in_stream", None) or 0
        if len(seen) >= _MOST_MISTAKES or position in seen or not isinstance(token, Token):
            return False
        seen.append(position)
        accepts = getattr(error, "accepts", None) or set()
        meant = keyword_meant(token, accepts, start) if token.type in ("NAME", "WORD") else ""
        parser = getattr(error, "interactive_parser", None)
        if problem.code == NO_OUTCOME and token == PLACE_FOR_OUTCOME and parser is not None:
            parser.feed_token(Token.new_borrow_pos("HOLDS", "holds", token))
            return True
        if not meant or parser is None or site.problems[-1].code != "word-101":
            return False
        kind = next(name for name in sorted(accepts) if keywords(start).get(name) == meant)
        parser.feed_token(Token.new_borrow_pos(kind, meant, token))
        return True

    before = len(site.problems)
    try:
        tree = read(text, start, go_on)
    except UnexpectedInput:
        return None
    return tree if len(site.problems) == before else None


def _end_of(site: Site, text: str) -> Span:
    """The span just after the last word of a piece."""
    lines = text.rstrip().split("\n")
    number = site.first_line + len(lines) - 1
    column = len(lines[-1]) + 1
    shown = site.shown[number - 1] if number <= len(site.shown) else ""
    return Span(site.file, number, column, number, column + 1, shown)


def _too_deep(tree: Branch) -> bool:
    """Whether a tree is nested deeper than a person could read."""
    level: list[Branch] = [tree]
    for _ in range(_DEEPEST_TREE):
        level = [child for branch in level for child in branch.children if not isinstance(child, str)]
        if not level:
            return False
    return True


def _read_hole(site: Site, text: str, span: Span) -> Expr | None:
    """The expression in a ``{…}``; a faulty one is reported and None."""
    from advisor.language.build import Site as InnerSite
    from advisor.language.build import branches
    from advisor.language.build_expr import expr

    padding = " " * span.column
    shown = [""] * (span.line - 1) + [span.text]
    inner = InnerSite(span.file, shown, span.line, lambda text, span: None)
    tree = _tree(padding + text, "hole", inner)
    for problem in inner.problems:
        site.problems.append(
            Problem(
                "text-402",
                "this {…} cannot be read: " + problem.what,
                problem.span,
                problem.label,
                problem.mend,
            )
        )
    if tree is None or _too_deep(tree):
        return None
    return expr(inner, branches(tree)[0])


def _build(site: Site, word: str, tree: Branch) -> list[Declaration]:
    """The declarations a tree stands for."""
    from advisor.language import (
        build_cards,
        build_handling,
        build_house,
        build_levers,
        build_rules,
        build_words,
    )

    match word:
        case "measure":
            return [build_words.measure(site, tree)]
        case "relation":
            return [build_words.relation(site, tree)]
        case "word":
            return [build_words.word_meaning(site, tree)]
        case "let":
            return [build_words.let(site, tree)]
        case "define":
            return [build_words.define(site, tree)]
        case "rule":
            return [build_rules.rule(site, tree)]
        case "prefer":
            return [build_rules.prefer(site, tree)]
        case "example":
            return [build_rules.example(site, tree)]
        case "card":
            return [build_cards.card(site, tree)]
        case "lever":
            return [build_levers.lever(site, tree)]
        case "action":
            return [build_handling.action(site, tree)]
        case "handling":
            return [build_handling.handling(site, tree)]
        case _:
            return list(build_house.house(site, tree))
