"""Text of a rule file to its tree, every mistake found in one go. Loads lark only when called."""

from __future__ import annotations

from advisor.errors import Problem, Severity, Span
from advisor.language.declare import LINE_MARK, read_piece
from advisor.language.ending import told_of_the_end
from advisor.language.nodes import Declaration, RuleFile
from advisor.language.pasted import scan
from advisor.language.pieces import Piece, cut

EDITION = 1
"""The edition of the language this package reads."""
MAX_BYTES = 1_000_000
MAX_DECLARATIONS = 5_000
MOST_TOLD = 200
"""How many problems of one file are told at once; a file with more is mostly no rule file."""


def parse_file(name: str, text: str) -> tuple[RuleFile, tuple[Problem, ...]]:
    """Read one rule file.

    Parameters
    ----------
    name
        What messages call the file.
    text
        Its content, as it stands; any text is accepted without an exception.

    Returns
    -------
    What could be read, and every problem found. A faulty declaration is left
    out; the others stay usable.
    """
    if len(text.encode("utf-8", "replace")) > MAX_BYTES:
        return RuleFile(name, EDITION, ()), (_too("this file is too large", name, "at most 1 MB"),)
    shown = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    found = scan(name, [line.replace(LINE_MARK, " ") for line in shown])
    pieces, cut_problems = cut(name, found.lines, shown)
    problems = [*found.problems, *cut_problems]
    if len(pieces) > MAX_DECLARATIONS:
        problems.append(_too("this file declares too much", name, f"at most {MAX_DECLARATIONS} declarations"))
        pieces = pieces[:MAX_DECLARATIONS]
    declarations: list[Declaration] = []
    problems.extend(_edition(name, pieces, shown))
    for piece in pieces:
        if piece.word != "edition":
            built, found_here = read_piece(name, piece, shown)
            declarations.extend(built)
            problems.extend(found_here)
    problems = told_of_the_end(problems, name, shown)
    return RuleFile(name, EDITION, tuple(declarations), tuple(found.comments)), _most(problems)


def _too(what: str, name: str, limit: str) -> Problem:
    """A refusal of what is too much."""
    return Problem("size-121", what, Span(name), limit, "split the file by topic")


def _most(problems: list[Problem]) -> tuple[Problem, ...]:
    """The problems in the order of the file; of a heap of them the first ones, the rest counted."""
    ordered = sorted(problems, key=lambda p: (p.span.line, p.span.column) if p.span else (0, 0))
    if len(ordered) <= MOST_TOLD:
        return tuple(ordered)
    rest = ordered[MOST_TOLD:]
    worst = Severity.ERROR if any(p.severity is Severity.ERROR for p in rest) else Severity.WARNING
    counted = Problem(
        "size-124",
        f"{len(rest)} more problems in this file are not shown",
        rest[0].span,
        f"the first {MOST_TOLD} come before this one",
        "mend those, then check again",
        worst,
    )
    return (*ordered[:MOST_TOLD], counted)


def _edition(name: str, pieces: list[Piece], shown: list[str]) -> list[Problem]:
    """The edition line: first, once, and one we know."""
    found = [piece for piece in pieces if piece.word == "edition"]
    if not found:
        if not pieces:
            return []
        line = pieces[0].first_line
        return [
            Problem(
                "word-115",
                "the file does not say its edition",
                Span(name, line, 1, line, 2, shown[line - 1]),
                "read as edition 1",
                "begin the file with: edition 1",
                Severity.WARNING,
            )
        ]
    problems = []
    for index, piece in enumerate(found):
        words = [word for line in piece.lines for word in line.split("#")[0].split()]
        line = piece.first_line
        span = Span(name, line, 1, line, len(shown[line - 1]) + 1, shown[line - 1])
        if words != ["edition", str(EDITION)]:
            problems.append(
                Problem(
                    "word-116",
                    "this edition of the language is not known",
                    span,
                    "I know edition 1",
                    "edition 1",
                )
            )
        elif index:
            problems.append(
                Problem(
                    "word-117", "the edition is said twice", span, "the first one counts", "remove this line"
                )
            )
    return problems
