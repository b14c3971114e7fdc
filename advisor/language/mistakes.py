"""From what the parser stumbled on to a problem a keeper can act on."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from lark import Token
from lark.exceptions import UnexpectedInput, UnexpectedToken

from advisor.errors import Problem, Span
from advisor.language.guess import nearest, several
from advisor.language.reader import RESERVED, keywords
from advisor.units import UNITS

_OPERATORS = frozenset(
    ("and", "or", "not", "is", "has", "between", "any", "every", "where", "of", "one", "to", "within", "days")
)
_HUMAN = {
    "NAME": "a name",
    "STRING": "a text in quotes",
    "NUMBER": "a number",
    "QUANTITY": "a number with its unit",
    "UNIT": "a unit",
    "DATE": "a date such as 2027-06-01",
    "WORD": "a name",
    "COMPARE": ">=, <=, > or <",
    "MINUS": "-",
    "NOT_EQUAL": "is not",
    "COUNT_OF": "count of",
    "SUM_OF": "sum of",
    "LEAST_OF": "least of",
    "MOST_OF": "most of",
    "LARGER_OF": "larger of",
    "SMALLER_OF": "smaller of",
}
_OUTCOMES = frozenset(("HOLDS", "FAILS", "UNDECIDED"))
NO_OUTCOME = "word-132"
_VALUE = frozenset(("NAME", "NUMBER", "QUANTITY", "COUNT_OF", "LARGER_OF"))
_AFTER_A_SIGN = frozenset("<>=≤≥+-*/(,")
"""Signs that a value follows, not a whole comparison."""
_KIND_WORDS = {
    "measure": "a measure",
    "relation": "a relation",
    "word": "a word's meaning",
    "let": "a let",
    "define": "a definition",
    "rule": "a rule",
    "prefer": "a preference",
    "example": "an example",
    "card": "a card",
    "house": "a house block",
    "edition": "the edition line",
    "lever": "a lever",
    "action": "an action",
    "handling": "a handling sheet",
    "hole": "a {…}",
}


def mistake(error: UnexpectedInput, piece: str, place: Span, read: str) -> Problem:
    """Return the problem for one thing the parser could not read.

    `piece` is the top-level word it happened in, `place` where it happened,
    `read` the text that was being read.
    """
    if not isinstance(error, UnexpectedToken):
        return Problem("word-100", "I cannot read this", place, "nothing I know starts like this")
    token = error.token
    expected = _expected(error)
    special = _special(token, expected, place, read)
    if special is not None:
        return special
    label = _label(piece, expected)
    if piece == "house" and token == "…":
        what = "a number, a day or a place belongs where … stands"
        return Problem("word-133", what, place, label, "fill in each … of this line")
    if expected >= _OUTCOMES and not keyword_meant(token, expected, start_of(piece)):
        return Problem(
            NO_OUTCOME,
            "say what should come out: holds, fails or undecided",
            place,
            "the outcome belongs here; it is yours to say",
            "holds, fails, undecided, excused or not covered",
        )
    if token.type == "$END":
        return Problem(
            "word-106", f"{_KIND_WORDS[piece]} ends too early", place, label, _first_mend(piece, expected)
        )
    if token in RESERVED:
        mend = _first_mend(piece, expected) or "take it out"
        return _reserved(token, expected, Problem("", "", place, label, mend), read)
    if token.type in ("NAME", "WORD"):
        guess = keyword_meant(token, expected, start_of(piece))
        return Problem("word-101", f'"{token}" is not a word I know here', place, label, guess)
    mend = _first_mend(piece, expected) or "take it out"
    return Problem("word-105", f"{_shown(token)} cannot stand here", place, label, mend)


def start_of(piece: str) -> str:
    """Return the grammar rule that reads a kind of piece."""
    return piece if piece == "hole" else f"{piece}_decl"


def keyword_meant(token: Token, expected: Iterable[str], start: str) -> str:
    """Return the keyword a mistyped word was probably meant to be, or nothing."""
    words = keywords(start)
    known = [words[name] for name in expected if name in words and words[name][:1].isalpha()]
    return nearest(str(token), known)


def _expected(error: UnexpectedToken) -> frozenset[str]:
    """The terminals that would really have been accepted."""
    return frozenset(str(name) for name in error.accepts or error.expected) - {"LINE", "JUNK"}


def _shown(token: Token) -> str:
    """A token as it is named in a sentence."""
    text = str(token)
    return f"'{text if len(text) <= 30 else text[:27] + '...'}'"


def _label(piece: str, expected: frozenset[str]) -> str:
    """What was expected: clause words if any, else signs and values."""
    words = keywords(start_of(piece))
    clauses = sorted(
        words[name]
        for name in expected
        if name in words and words[name][:1].isalpha() and words[name] not in _OPERATORS
    )
    others = sorted(
        {
            _HUMAN.get(name) or f"'{words.get(name, name)}'"
            for name in expected
            if name not in words or words[name] not in clauses
        }
        - {"'$END'"}
    )
    if expected >= _VALUE:
        return "a value is expected here: a number, a name or a call such as gap(a, b)"
    if clauses and len(clauses) >= len([o for o in others if o.startswith("a ")]):
        return f"{_KIND_WORDS[piece]} goes on with: {several(clauses, 12)}"
    return f"expected {several(others, 6)}" if others else f"{_KIND_WORDS[piece]} should end here"


def _first_mend(piece: str, expected: frozenset[str]) -> str:
    """The one thing that would do, if there is only one."""
    named = sorted(expected - {"$END"})
    if len(named) == 1:
        return keywords(start_of(piece)).get(named[0]) or _HUMAN.get(named[0], "")
    return ""


def _reserved(token: Token, expected: frozenset[str], found: Problem, read: str) -> Problem:
    """A word of the language where something else must stand; `found` knows the place and what to try."""
    word, place, label = str(token), found.span, found.label
    if expected >= _VALUE:
        before = read[: token.start_pos or 0].rstrip()
        mend = "5 cm" if before[-1:] in _AFTER_A_SIGN else "gap(a, b) >= 5 cm"
        return Problem("word-107", f"something is missing before '{word}'", place, label, mend)
    if "NAME" in expected:
        return Problem(
            "word-108",
            f"'{word}' is a word of the language and cannot be a name",
            place,
            "a name is expected here",
            f"{word}-1",
        )
    return replace(found, code="word-105", what=f"'{word}' cannot stand here")


def _special(token: Token, expected: frozenset[str], place: Span, read: str) -> Problem | None:
    """Mistakes that deserve a sentence of their own."""
    text = str(token)
    if token.type == "UNCLOSED":
        return Problem(
            "text-404",
            "this text is not closed",
            place,
            "from here to the end of the line",
            text.rstrip() + '"',
        )
    if token.type == "JUNK" and text == "'":
        return Problem("text-405", "texts stand in double quotes", place, "a single quote", '"…"')
    if text in ("-", "–", "−") and (found := _range(token, expected, place, read)) is not None:
        return found
    if _follows_number(read, token) or ("UNIT" in expected and token.type in ("NAME", "WORD", "JUNK")):
        return _unit_problem(read, token, place)
    if text in ("=", "==") and "COMPARE" in expected:
        return Problem(
            "word-109",
            "there is no = in a condition",
            place,
            "words are compared with 'is', numbers with >=, <=, > or <, or between",
            "is",
        )
    if token.type == "WORD" and "NAME" in expected:
        return Problem(
            "word-110",
            "names are written in small letters, digits and single hyphens",
            place,
            "not a name",
            re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-"),
        )
    if (
        token.type == "COMPARE"
        and not expected >= _VALUE
        and re.search("[<>≤≥]", read[: token.start_pos or 0]) is not None
    ):
        return Problem(
            "word-111",
            "two comparisons cannot be chained",
            place,
            "join them with 'and', or use between",
            "between … and …",
        )
    return None


def _range(token: Token, expected: frozenset[str], place: Span, read: str) -> Problem | None:
    """A dash between two numbers where a range is written with ``to``."""
    at = token.start_pos or 0
    before = re.search(r"[\d.]+$", read[:at].rstrip())
    after = re.match(r"[\d.]+(?:[ \t]*[^\W\d][\w/]*)?", read[at + 1 :].lstrip())
    if "TO" not in expected or before is None or after is None:
        return None
    return Problem(
        "word-131",
        "a dash between two numbers is a minus",
        place,
        "a range is written with 'to'",
        f"{before.group()} to {after.group()}",
    )


def _follows_number(text: str, token: Token) -> bool:
    """Whether a word follows a number on its line, as a unit would."""
    start = token.start_pos or 0
    return (
        token.type in ("NAME", "WORD", "JUNK")
        and str(token) not in RESERVED
        and re.search(r"(?<![\w-])\d+(?:\.\d+)?[ \t]*$", text[:start]) is not None
    )


def _unit_problem(read: str, token: Token, place: Span) -> Problem:
    """A unit nobody knows, with all that was written as one: ``mm/mnth``."""
    start = token.start_pos or 0
    written = re.match(r"[^\s,()\"#]+", read[start:])
    text = written.group() if written is not None else str(token)
    guess = nearest(text, (name for name in UNITS if name.isascii() and len(name) > 1))
    return Problem(
        "units-203",
        f"I do not know the unit '{text}'",
        replace(place, end_line=place.line, end_column=place.column + len(text)),
        "a unit is expected after the number",
        UNITS[guess].name if guess else "one of: cm, mm, PAR, cm/s, °C, L, days, months, mm/month, %",
    )
