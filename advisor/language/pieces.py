"""A file cut at its column-1 words, so that one faulty piece spoils no other."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.errors import Problem, Span
from advisor.language.guess import nearest

TOP_WORDS = (
    "edition",
    "measure",
    "relation",
    "word",
    "let",
    "define",
    "rule",
    "prefer",
    "example",
    "card",
    "house",
    "lever",
    "action",
    "handling",
)
_LATER = {
    "sign": "what is seen is told in the tank file",
    "also": "a measure of one's own is declared with 'measure'",
}
_CLAUSE_WORDS = frozenset(
    (
        "for",
        "when",
        "expect",
        "expect-by-eye",
        "unless",
        "level",
        "stage",
        "because",
        "matters",
        "remedy",
        "then",
        "source",
        "want",
        "weight",
        "fade",
        "given",
        "say",
        "ask",
        "from",
        "taxon",
        "genus",
        "group",
        "light",
        "flow",
        "weapon",
        "defence",
        "contact",
        "toxins",
        "growth",
        "footing",
        "swells",
        "edge",
        "moves",
        "hazard",
        "difficulty",
        "feeding",
        "note",
        "change",
        "accept",
        "switch",
        "until",
        "between",
        "usual",
        "step",
        "error",
        "stale",
        "stricter",
        "assume",
        "at",
        "in",
        "or",
        "and",
        "not",
        "lives-on",
        "changes",
        "makes",
        "cost",
        "not-checked",
        "about",
        "never",
        "safe",
        "wait",
        "instead",
        "help",
        "defer",
    )
)
_OF_HOUSE = re.compile(
    r"\s*(?:change\s+[a-z][\w-]*\s.*\bfrom\b|switch\s+off\s|accept\s+[a-z]|level\s+[a-z][\w-]*\s+from\s)"
)
"""A line that only a house block has."""
_FIRST_WORD = re.compile(r"[^\W\d][\w-]*|\S")
MAX_PIECE = 60_000


@dataclass(slots=True)
class Piece:
    """One declaration as text: its first word, the line it starts on, and its lines."""

    word: str
    first_line: int
    lines: list[str]

    @property
    def text(self) -> str:
        """The piece as it is handed to the parser."""
        return "\n".join(self.lines)


def cut(name: str, lines: list[str], shown: list[str]) -> tuple[list[Piece], list[Problem]]:
    """Return the pieces of a file, and a problem for each column-1 word that starts none.

    `lines` are what is read, `shown` what a message prints.
    """
    pieces: list[Piece] = []
    problems: list[Problem] = []
    current: Piece | None = None
    headless: Piece | None = None
    for number, line in enumerate(lines, start=1):
        if _OF_HOUSE.match(line) and not _in_house(current, line):
            problems.append(_no_house(name, number, shown[number - 1]))
            current = headless = _house_from(number, line)
            pieces.extend([current] if current.word else [])
            continue
        if current is not None and current is headless and _first_word(line) not in TOP_WORDS:
            current.lines.append(line)
            continue
        if not line.strip() or line[0] in " \t#":
            if current is not None:
                current.lines.append(line)
            elif line.strip() and not line.lstrip().startswith("#"):
                problems.append(_homeless(name, number, shown[number - 1]))
                current = Piece("", number, [line])
            continue
        word = _first_word(line)
        if word in TOP_WORDS:
            current = Piece(word, number, [line])
            pieces.append(current)
        elif word in _CLAUSE_WORDS and current is not None:
            problems.append(_not_indented(name, number, shown[number - 1], word))
            current.lines.append(line)
        else:
            problems.append(_unknown(name, number, shown[number - 1], word))
            current = Piece("", number, [line])
            if problems[-1].mend == "house":  # its lines are read all the same, so that none hides another
                current = Piece("house", number, [line.replace(word, "house", 1)])
                pieces.append(current)
    return pieces, problems


def _first_word(line: str) -> str:
    """The word a line starts with."""
    found = _FIRST_WORD.match(line)
    return found.group() if found else line[:1]


def _span(name: str, number: int, line: str, word: str) -> Span:
    """The span of the first word of a line."""
    start = len(line) - len(line.lstrip()) + 1
    return Span(name, number, start, number, start + max(1, len(word)), line)


def _in_house(current: Piece | None, line: str) -> bool:
    """Whether a line of a house block stands in one, or below a word that is told as unknown already."""
    return current is not None and (current.word == "house" or (not current.word and line[0] in " \t"))


def _house_from(number: int, line: str) -> Piece:
    """A house block whose head was forgotten, read as if it stood on the line above."""
    return Piece("house", number - 1, ["house", line]) if number > 1 else Piece("", number, [line])


def _no_house(name: str, number: int, line: str) -> Problem:
    """A line of a house block that has no head above it."""
    return Problem(
        "word-134",
        f"'{_first_word(line.lstrip())}' changes what is shipped and stands below the word 'house'",
        _span(name, number, line, _first_word(line.lstrip())),
        "no house block begins above this line",
        f"house\n  {line.strip()}",
    )


def _homeless(name: str, number: int, line: str) -> Problem:
    """Text before anything was begun."""
    word = _first_word(line.lstrip())
    mend = (
        f"move '{word}' to the start of its line"
        if word in TOP_WORDS
        else "start a rule, a card or a house block"
    )
    return Problem(
        "word-103",
        "this belongs to nothing",
        _span(name, number, line, word),
        "only indented text so far; a declaration starts at the left edge",
        mend,
    )


def _not_indented(name: str, number: int, line: str, word: str) -> Problem:
    """A clause that stands at the left edge."""
    return Problem(
        "word-118",
        f"'{word}' continues a declaration and cannot start at the left edge",
        _span(name, number, line, word),
        "only a new declaration starts here",
        f"  {line}",
    )


def _unknown(name: str, number: int, line: str, word: str) -> Problem:
    """A column-1 word that starts nothing."""
    span = _span(name, number, line, word)
    if word in _LATER:
        return Problem(
            "word-102", f"'{word}' is kept for a later edition", span, _LATER[word], "remove this part"
        )
    guess = nearest(word, TOP_WORDS)
    return Problem(
        "word-101",
        f'"{word}" is not a word I know here',
        span,
        f"a declaration starts with: {', '.join(TOP_WORDS)}",
        guess,
    )
