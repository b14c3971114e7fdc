"""Text from files made safe to show: no control codes, no hidden direction marks, ASCII on demand."""

from __future__ import annotations

import re
import unicodedata

_ESCAPES = re.compile(
    r"\x1b\[[0-?]*[ -/]*[@-~]"  # a terminal control sequence
    r"|\x1b[\]PX^_].*?(?:\x07|\x1b\\|\x9c|$)"  # a string handed to the terminal, such as a title
    r"|\x9b[0-?]*[ -/]*[@-~]"
    r"|\x1b[ -/]*[0-~]?",
    re.DOTALL,
)
_BIDI = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_JOINERS = frozenset("\u200c\u200d")
_SPACES = frozenset("\t\n\r\v\f\u0085\u2028\u2029")

_ASCII = {
    "±": "+-",
    "×": "x",
    "·": "|",
    "…": "...",
    "–": "-",
    "—": "-",
    "−": "-",
    "°": " deg ",
    "º": " deg ",
    "µ": "u",
    "μ": "u",
    "≥": ">=",
    "≤": "<=",
    "≠": "not",
    "“": '"',
    "”": '"',
    "„": '"',
    "‘": "'",
    "’": "'",
    "²": "2",
    "³": "3",
    "⁻": "-",
    "¹": "1",
    "½": "1/2",
    "→": "->",
    "‰": " per mille",
    "ß": "ss",
    "æ": "ae",
    "ø": "o",
    "œ": "oe",
    "ł": "l",
}


def _kept(letter: str) -> str:
    if letter in _SPACES:
        return " "
    category = unicodedata.category(letter)
    if category == "Cs":
        return "?"
    if category == "Cc" or letter in _BIDI:
        return ""
    return "" if category == "Cf" and letter not in _JOINERS else letter


def clean(text: str) -> str:
    """Return `text` without terminal escapes, control characters and direction marks."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(map(_kept, _ESCAPES.sub("", text)))


def to_ascii(text: str) -> str:
    """Return `text` in pure ASCII: signs spelled out, accents dropped, the rest as ``?``."""
    if text.isascii():
        return text
    spelled = "".join(_ASCII.get(letter, letter) for letter in text).replace(" deg C", " deg C")
    spelled = re.sub(r" +deg +", " deg ", spelled)
    bare = "".join(c for c in unicodedata.normalize("NFKD", spelled) if not unicodedata.combining(c))
    return bare.encode("ascii", "replace").decode("ascii")
