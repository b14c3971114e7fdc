"""The grammar made ready: the only module that loads lark."""

from __future__ import annotations

import pkgutil
import re
from collections.abc import Callable, Iterator
from functools import cache, lru_cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput

from advisor.units import UNITS

RESERVED = frozenset(
    (
        "when",
        "expect",
        "expect-by-eye",
        "unless",
        "because",
        "matters",
        "remedy",
        "until",
        "where",
        "otherwise",
        "and",
        "or",
        "not",
        "is",
        "between",
        "any",
        "every",
        "for",
        "given",
        "then",
        "rule",
        "measure",
        "relation",
        "define",
        "prefer",
        "example",
        "house",
        "want",
    )
)
"""Words no name may have: those that begin a clause or join an expression."""

_GROUPS = (
    ("measure_decl", "relation_decl", "word_decl", "let_decl", "lever_decl", "edition_decl"),
    ("rule_decl", "prefer_decl", "hole"),
    ("define_decl",),
    ("example_decl",),
    ("card_decl",),
    ("house_decl",),
    ("action_decl", "handling_decl"),
)
"""Kinds of pieces that share a parser. One for all would take `light` after a number for a card's line
where an example means the measure: the contextual lexer knows only what may follow somewhere."""
_ALWAYS = ("NAME", "NUMBER", "QUANTITY", "STRING", "WORD", "UNCLOSED", "JUNK", "COMPARE")
_UNIT_END = r"(?![\w%°]|\/[A-Za-z])"


class _RefuseReserved:
    """Lets no reserved word pass as a name, so that a missing operand is reported where it is missing."""

    always_accept = _ALWAYS

    def process(self, stream: Iterator[Token]) -> Iterator[Token]:
        """Pass the tokens on; a reserved word where a name stands becomes a token nothing accepts."""
        for token in stream:
            if token.type == "NAME" and token in RESERVED:
                yield Token.new_borrow_pos("RESERVED", str(token), token)
            else:
                yield token


def unit_pattern() -> str:
    """Return all unit names as one pattern, longest first; an inch mark would swallow the next text."""
    names = sorted((name for name in UNITS if name != '"'), key=lambda name: (-len(name), name))
    joined = "|".join(re.escape(name).replace("/", r"\/").replace("µ", "[µμ]") for name in names)
    # `min` before a number is the card's least, not minutes: `light max 250 min 50 PAR`
    return f"(?!min[ \\t]+\\d)(?:{joined}){_UNIT_END}"


@lru_cache(maxsize=1)
def _grammar() -> str:
    """The grammar with the units filled in."""
    grammar = pkgutil.get_data("advisor.language", "grammar.lark")
    if grammar is None:  # pragma: no cover - the package is broken without it
        raise RuntimeError("grammar.lark is missing from the package")
    return grammar.decode("utf-8").replace("UNITS_HERE", unit_pattern())


@cache
def _group(starts: tuple[str, ...]) -> Lark:
    """The parser of some kinds of pieces."""
    return Lark(
        _grammar(),
        parser="lalr",
        start=list(starts),
        propagate_positions=True,
        keep_all_tokens=True,
        maybe_placeholders=False,
        postlex=_RefuseReserved(),
    )


def _of(start: str) -> tuple[str, ...]:
    """The kinds of pieces that share a parser with one."""
    return next(group for group in _GROUPS if start in group)


def read(text: str, start: str, on_error: Callable[[UnexpectedInput], bool]) -> Tree[Token]:
    """Return the tree of one piece or of a ``{…}`` hole.

    Raises
    ------
    UnexpectedInput
        If the text cannot be read and `on_error` does not mend it.
    """
    return _group(_of(start)).parse(text, start=start, on_error=on_error)


@cache
def keywords(start: str) -> dict[str, str]:
    """Return terminal name -> the word or sign it stands for."""
    return {
        terminal.name: terminal.pattern.value
        for terminal in _group(_of(start)).terminals
        if terminal.pattern.type == "str"
    }


__all__ = ["RESERVED", "UnexpectedInput", "keywords", "read", "unit_pattern"]
