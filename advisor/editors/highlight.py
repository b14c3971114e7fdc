"""A Pygments lexer made from the word list: for whatever shows rule files in colour."""

from __future__ import annotations

from typing import ClassVar

from pygments.lexer import RegexLexer, bygroups
from pygments.token import (
    Comment,
    Keyword,
    Literal,
    Name,
    Number,
    Operator,
    Punctuation,
    String,
    Text,
    Whitespace,
    _TokenType,
)

from advisor.editors.textmate import NAME, alternatives
from advisor.editors.words import words


def _each(*kinds: _TokenType) -> object:
    """One kind for each group of a pattern."""
    made: object = bygroups(*kinds)  # type: ignore[no-untyped-call]  # its stubs leave it out
    return made


def _rules() -> dict[str, list[object]]:
    """The states of the lexer."""
    known = words()
    before, after = r"(?<![\w-])", r"(?![\w-])"
    return {
        "root": [
            (r"#.*$", Comment.Single),
            (r'"[^"\n]*"|“[^“”"\n]*[”“"]|„[^“”"\n]*[”“"]', String.Double),
            (
                rf"^({alternatives(known.beginning)})\b([ \t]+)({NAME})",
                _each(Keyword.Declaration, Whitespace, Name.Class),
            ),
            (rf"^(?:{alternatives(known.beginning)})\b", Keyword.Declaration),
            (r"\d{4}-\d{2}-\d{2}(?![\w-])", Literal.Date),
            (
                rf"(\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)([ \t]*)({alternatives(known.units)})(?![\w%°])",
                _each(Number, Whitespace, Keyword.Type),
            ),
            (r"\d+(?:\.\d+)?(?:[eE][+-]?\d+)?", Number),
            (rf"{before}{NAME}(?=\()", Name.Function),
            (rf"{before}(?:{alternatives(known.logic)}){after}", Operator.Word),
            (rf"{before}(?:{alternatives(known.clause)}){after}", Keyword),
            (rf"{before}(?:{alternatives(known.values)}){after}", Keyword.Constant),
            (rf"{NAME}(?![\w])", Name),
            (alternatives(known.units), Keyword.Type),
            (r"[^\W\d]\w*(?:-\w+)*", Name),
            (r">=|<=|≥|≤|≠|!=|[-+*/<>=−–]", Operator),
            (r"[(),.]", Punctuation),
            (r"\s+", Whitespace),
            (r".", Text),
        ]
    }


class RulesLexer(RegexLexer):
    """Colours rule files of this package."""

    name = "Coral rules"
    aliases: ClassVar = ["coral-rules"]
    filenames: ClassVar = ["*.rules"]
    url = ""
    tokens: ClassVar = _rules()
