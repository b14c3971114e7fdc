"""A house block cut into its lines, so that one that cannot be read hides none of the others."""

from __future__ import annotations

import re

from advisor.language.pieces import Piece

VERBS = ("change", "level", "accept", "switch")
"""Words that begin a line of a house block."""
_GOES_ON = frozenset(("because", "until", "on", "short", "for", "from", "to", "at", "by", "off"))
"""Words with which a line that is broken goes on."""
_WORD = re.compile(r"[^\W\d][\w-]*")


def cut_house(piece: Piece) -> list[Piece]:
    """Return each line of a house block as a block of its own, at the place where it stands.

    A line begins with a verb, or as far left as the first one with a word that
    goes on nothing: a mistyped verb.
    """
    starts = _starts(piece.lines)
    ends = (*starts[1:], len(piece.lines))
    head = piece.lines[0][: len(piece.word)]
    parts = []
    for start, end in zip(starts, ends, strict=True):
        above = [head, *[""] * (start - 1)] if start else []
        parts.append(Piece(piece.word, piece.first_line, [*above, *piece.lines[start:end]]))
    return parts


def _starts(lines: list[str]) -> list[int]:
    """Where the lines of a block start; what stands behind its head is one."""
    left: int | None = None
    starts = [0] if _word_of(lines[0].removeprefix("house")) else []
    for at, line in enumerate(lines[1:], start=1):
        word = _word_of(line)
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        indent = len(line) - len(line.lstrip())
        left = indent if left is None else left
        if word in VERBS or not starts or (indent <= left and word and word not in _GOES_ON):
            starts.append(at)
    return starts or [0]


def _word_of(line: str) -> str:
    """The word a line begins with; empty where it begins with something else."""
    found = _WORD.match(line.lstrip())
    return found.group() if found else ""


__all__ = ["VERBS", "cut_house"]
