"""A TextMate grammar, made from the word list: what most editors colour a file by."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable

from advisor.editors.words import words

SCOPE = "source.coral-rules"
NAME = r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*"
_NOT_IN_NAME = r"(?<![\w-])"
_NAME_ENDS = r"(?![\w-])"


def alternatives(found: Iterable[str]) -> str:
    """Return words as one pattern, the longest first."""
    return "|".join(re.escape(word) for word in sorted(found, key=lambda word: (-len(word), word)))


def textmate_grammar() -> str:
    """Return the grammar as JSON."""
    known = words()
    grammar = {
        "name": "Coral rules",
        "scopeName": SCOPE,
        "fileTypes": ["rules"],
        "patterns": [
            {"include": "#comment"},
            {"include": "#text"},
            {
                "match": rf"^({alternatives(known.beginning)})\b(?:[ \t]+({NAME}))?",
                "captures": {
                    "1": {"name": "keyword.declaration.coral-rules"},
                    "2": {"name": "entity.name.coral-rules"},
                },
            },
            {"name": "constant.other.date.coral-rules", "match": r"\b\d{4}-\d{2}-\d{2}\b"},
            {
                "match": rf"(?<![\w.-])(\d+(?:\.\d+)?)[ \t]*({alternatives(known.units)})?(?![\w%°-])",
                "captures": {
                    "1": {"name": "constant.numeric.coral-rules"},
                    "2": {"name": "keyword.other.unit.coral-rules"},
                },
            },
            {"name": "entity.name.function.coral-rules", "match": rf"{_NOT_IN_NAME}{NAME}(?=\()"},
            _words("keyword.operator.word.coral-rules", known.logic),
            _words("keyword.control.clause.coral-rules", known.clause),
            _words("constant.language.coral-rules", known.values),
            {"name": "keyword.operator.coral-rules", "match": r">=|<=|≥|≤|≠|!=|[-+*/<>=−–]"},
            _words("keyword.other.unit.coral-rules", known.units),
            {"name": "variable.other.coral-rules", "match": rf"{_NOT_IN_NAME}{NAME}{_NAME_ENDS}"},
        ],
        "repository": {
            "comment": {"name": "comment.line.number-sign.coral-rules", "match": "#.*$"},
            "text": {
                "name": "string.quoted.double.coral-rules",
                "begin": '["“„]',
                "end": '["”“]|$',
                "patterns": [{"name": "meta.hole.coral-rules", "match": r"\{[^{}\n]*\}"}],
            },
        },
    }
    return json.dumps(grammar, indent=2, ensure_ascii=False) + "\n"


def _words(scope: str, found: Iterable[str]) -> dict[str, str]:
    """A pattern that colours some words."""
    return {"name": scope, "match": rf"{_NOT_IN_NAME}(?:{alternatives(found)}){_NAME_ENDS}"}
