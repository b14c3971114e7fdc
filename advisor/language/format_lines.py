"""A file as it stands, line by line: where it is empty, and which word each line begins with.

The tree keeps no empty lines and not the line of every clause; the formatter
looks both up here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.language.format_clause import Clause

_BLANKS = "\ufeff\x00 \t\u00a0\u202f\u2007\u200b"
_WORD = re.compile(r"[^\W\d][\w-]*")


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of a file; none where only its tree is known."""

    texts: tuple[str, ...] = ()

    @classmethod
    def of(cls, text: str) -> Lines:
        """Return the lines of a text."""
        return cls(tuple(text.replace("\r\n", "\n").replace("\r", "\n").split("\n")) if text else ())

    def empty(self) -> list[int]:
        """Return the numbers of all empty lines."""
        return [number for number, line in enumerate(self.texts, 1) if not line.strip(_BLANKS)]

    def after_gap(self, line: int) -> bool:
        """Return whether the line before this one is empty."""
        return 1 < line <= len(self.texts) + 1 and not self.texts[line - 2].strip(_BLANKS)

    def starting(self, word: str) -> list[int]:
        """Return the numbers of the lines that begin with a word at the left edge."""
        return [
            number
            for number, line in enumerate(self.texts, 1)
            if line.lstrip("\ufeff").startswith(word) and self._word(number) == word
        ]

    def locate(self, clauses: Sequence[Clause], end: int) -> None:
        """Give each clause of unknown line the fitting one between its neighbours' and `end`.

        The least indented counts: deeper ones go on with the clause above.
        """
        low = clauses[0].start
        for index, clause in enumerate(clauses):
            if not clause.start and clause.lines:
                word = _first(clause.lines[0])
                later = next((other.start for other in clauses[index + 1 :] if other.start), end)
                fitting = [at for at in range(low + 1, later) if self._word(at) == word]
                clause.start = min(fitting, key=self._indent, default=0)
            low = max(low, clause.start, clause.end)

    def _indent(self, number: int) -> int:
        """How deep a line stands."""
        line = self.texts[number - 1]
        return len(line) - len(line.lstrip(_BLANKS))

    def _word(self, number: int) -> str:
        """The word a line begins with."""
        return _first(self.texts[number - 1]) if 0 < number <= len(self.texts) else ""


def _first(line: str) -> str:
    """The first word of a line, empty where it begins with a sign or a number."""
    found = _WORD.match(line.lstrip(_BLANKS))
    return found.group() if found else ""
