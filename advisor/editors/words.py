"""The fixed words of the language by what they are for, out of its grammar: editors colour by this list."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from advisor.language.pieces import TOP_WORDS
from advisor.language.reader import keywords
from advisor.units import UNITS

_STARTS = (
    "measure_decl",
    "relation_decl",
    "word_decl",
    "let_decl",
    "lever_decl",
    "rule_decl",
    "prefer_decl",
    "define_decl",
    "example_decl",
    "card_decl",
    "house_decl",
    "action_decl",
    "handling_decl",
)
_WORD = re.compile(r"[a-z][a-z-]*")
_LOGIC = frozenset(
    (
        *("and", "or", "not", "is", "has", "one", "of", "between", "where"),
        *("any", "every", "count", "sum", "least", "most", "larger", "smaller"),
        *("within", "step", "steps", "over", "days", "since"),
    )
)
"""Words inside an expression; tests/editors/test_words.py compares them with the grammar."""
_FIXED = frozenset(
    (
        *("yes", "no", "unknown", "danger", "warning", "advice"),
        *("study", "maker", "experience", "guess", "gate", "always", "tonight", "settled"),
    )
)
"""Values the language itself knows."""


@dataclass(frozen=True, slots=True)
class Words:
    """Every fixed word of the language, in classes that do not overlap."""

    beginning: tuple[str, ...]
    """What a declaration begins with, in the first column."""
    logic: tuple[str, ...]
    """What joins and compares inside an expression."""
    values: tuple[str, ...]
    clause: tuple[str, ...]
    """All others: what begins or belongs to a clause."""
    units: tuple[str, ...]


@cache
def words() -> Words:
    """Return the words of the language; loads the grammar the first time."""
    by_start = {start: _plain(keywords(start)) for start in _STARTS}
    everything = set().union(*by_start.values())
    beginning = set(TOP_WORDS)
    return Words(
        beginning=tuple(sorted(beginning)),
        logic=tuple(sorted(_LOGIC)),
        values=tuple(sorted(everything & _FIXED)),
        clause=tuple(sorted(everything - _LOGIC - beginning - _FIXED)),
        units=tuple(sorted((name for name in UNITS if name != '"'), key=lambda name: (-len(name), name))),
    )


def _plain(found: dict[str, str]) -> set[str]:
    """The terminals that are words."""
    return {word for word in found.values() if _WORD.fullmatch(word)}
