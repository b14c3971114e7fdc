"""Mends that leave the meaning of a rule file as it is: signs that are read as others are written so.

Nothing is mended here that needs a decision: a decimal comma, a misspelt word
and a missing clause are left to the person. Whatever is mended, the file is read
again, and must say the same.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from functools import cache

from advisor.errors import Problem
from advisor.language.format import same_tree
from advisor.language.parse import EDITION, parse_file
from advisor.language.pasted import PIECES
from advisor.model.fixes import FixedPlace

_MARK = "\ufeff"
_LINE_END = re.compile(r"(\r\n|\r|\n)")
_PLAIN = {"≥": ">=", "≤": "<=", "≠": "is not", "–": "-", "−": "-", "μ": "µ"}
_CODES = {
    "string": "paste-110",
    "compare": "paste-111",
    "dash": "paste-113",
    "blank": "paste-114",
    "micro": "paste-115",
}
_NO_EDITION = "word-115"
_MENDED = frozenset({*_CODES.values(), _NO_EDITION})


@dataclass(frozen=True, slots=True)
class Fixed:
    """A text with what could be mended, and the places that were."""

    text: str
    places: tuple[FixedPlace, ...]
    same: bool
    """Whether it still says what it said; if not, it must not be written."""


def fixed(name: str, text: str) -> Fixed:
    """Return the text of a rule file with every mend that changes no meaning.

    Everything else stays byte for byte, a byte order mark and the kind of line
    ends among it.
    """
    mark = _MARK if text.startswith(_MARK) else ""
    parts = _LINE_END.split(text.removeprefix(_MARK))
    before, found = parse_file(name, text)
    places: list[FixedPlace] = []
    for index in range(0, len(parts), 2):
        edits = _edits(parts[index])
        places.extend(
            FixedPlace(line=index // 2 + 1, column=edit.start + 1, code=edit.code, was=edit.was, now=edit.now)
            for edit in edits
        )
        for edit in reversed(edits):
            parts[index] = edit.made_in(parts[index])
    first = ""
    if any(problem.code == _NO_EDITION for problem in found):
        first = f"edition {EDITION}{parts[1] if len(parts) > 1 else chr(10)}"
        places.insert(0, FixedPlace(line=1, column=1, code=_NO_EDITION, was="", now=f"edition {EDITION}"))
    new = f"{mark}{first}{''.join(parts)}"
    after, left = parse_file(name, new)
    return Fixed(new, tuple(places), _others(found) == _others(left) and same_tree(before, after))


def _others(problems: tuple[Problem, ...]) -> Counter[tuple[str, str]]:
    """The problems that no mend here is about."""
    return Counter((problem.code, problem.what) for problem in problems if problem.code not in _MENDED)


@dataclass(frozen=True, slots=True)
class _Edit:
    """One mend within a line."""

    start: int
    was: str
    now: str
    code: str = ""

    def made_in(self, line: str) -> str:
        """The line with the mend made."""
        return line[: self.start] + self.now + line[self.start + len(self.was) :]


def _edits(line: str) -> list[_Edit]:
    """The mends of one line, from left to right, none over another."""
    edits: list[_Edit] = []
    quiet = [False] * len(line)
    for match in PIECES.finditer(line):
        kind, found = match.lastgroup or "", match.group()
        if kind in ("string", "comment", "unclosed"):
            quiet[match.start() : match.end()] = [True] * len(found)
        now = _now(line, match) if kind in _CODES else found
        if now != found:
            edits.append(_Edit(match.start(), found, now, _CODES[kind]))
    edits.extend(
        _Edit(match.end(), "", " ")
        for match in _together().finditer(line)
        if not quiet[match.start()] and match.end() < len(line)
    )
    return sorted(edits, key=lambda edit: (edit.start, len(edit.was)))


def _now(line: str, match: re.Match[str]) -> str:
    """What a pasted sign is written as; a text that could not be written so stays."""
    found = match.group()
    match match.lastgroup:
        case "string":
            return found if '"' in found[1:-1] else f'"{found[1:-1]}"'
        case "blank":
            return " " * len(found)
        case "dash" | "compare" as kind:
            around = line[: match.start()][-1:], line[match.end() :][:1]
            before, after = (" " if re.match(r"[\w.)]", side) else "" for side in around)
            joins = (kind == "dash" and before and after) or found == "≠"
            return f"{before}{_PLAIN[found]}{after}" if joins else _PLAIN[found]
        case _:
            return _PLAIN[found]


@cache
def _together() -> re.Pattern[str]:
    """A number that runs into its unit: ``5cm``."""
    from advisor.language.reader import unit_pattern

    return re.compile(rf"(?<![\w.,-])\d+(?:\.\d+)?(?:[eE][+-]?\d+)?(?={unit_pattern()})")
