"""A coral's line and a number as they are typed, put into the forms the readers know; nothing is guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass

_UNIT = r"(?:mm|cm|m|in|inch|inches|ft|feet|par|\"|µmol)(?![a-z])"
_TO = r"(?:(?:-|–|to)\s*\d+(?:[.,]\d+)?\s*)?"
_COMMA = re.compile(rf"(?<![\d.,])(\d+),(\d+)(?=\s*{_TO}{_UNIT})", re.IGNORECASE)
_THOUSANDS = 3
_ABOUT = re.compile(
    r"(?<![\w.])(?:(?:about|around|roughly|circa|approx\.?|ca\.?)\s+|[~≈]\s*)(?=(\d[\d.]*))", re.IGNORECASE
)
_SIGNS = {"¼": "1/4", "½": "1/2", "¾": "3/4"}
_SIGN = re.compile(rf"(\d?)\s*([{''.join(_SIGNS)}])")
_FRACTION = re.compile(r"(?<![\d./,])(?:(\d+)(?:\s+|-))?(\d{1,2})/(2|4|8|16)(?![\d./])")
_WORD = (
    r"(?:very\s+(?:low|dim|high|bright)|low\s*(?:-|to)\s*medium|medium\s*(?:-|to)\s*high|low|dim|medium|moderate|"
    r"high|bright)"
)
_OF_FLOW = rf"(?:{_WORD}|strong|gentle|weak)"
LIGHT_WORD = re.compile(rf"^{_WORD}$", re.IGNORECASE)
"""A word, standing alone, for the light a coral comes from."""
_SAYS = re.compile(r"[\s,;]*\b(?:the\s+)?(?:shop|seller|store)\s+says\b\s*:?\s*", re.IGNORECASE)
_NAMED_WORD = re.compile(
    rf"(?<!\bvery)(?<!\bto)(?:\s*[,;/&]\s*|\s+(?:and\s+)?)(?={_OF_FLOW}\s+(?:light|flow)\b)",
    re.IGNORECASE,
)
_AFTER_AMOUNT = re.compile(rf"(\d\s*{_UNIT})\s+(?={_WORD}\s*(?:$|[,;|\t]))", re.IGNORECASE)
_IN_BRACKETS = re.compile(r"\s*[,;]?\s*\(\s*([~<>≈]?\s*\d[^()]*?)\s*\)\s*[,;]?\s*")


@dataclass(frozen=True, slots=True)
class Tidied:
    """A line in the forms the readers know, and what was read otherwise than it is written."""

    text: str
    remarks: tuple[str, ...] = ()


def without_fractions(text: str) -> str:
    """Return a text with halves, quarters, eighths and sixteenths as decimals.

    Examples
    --------
    >>> [without_fractions(text) for text in ("1 1/2 inch", "3/4 in", "1½ inch", "110 PAR")]
    ['1.5 inch', '0.75 in', '1.5 inch', '110 PAR']
    """
    spelt = _SIGN.sub(lambda found: f"{found.group(1)} {_SIGNS[found.group(2)]}".lstrip(), text)
    return _FRACTION.sub(_decimal, spelt)


def tidied_line(text: str) -> Tidied:
    """Return a coral's line with plain numbers and a comma between whatever it tells.

    Examples
    --------
    >>> tidied_line("GSP 8,5 cm")
    Tidied(text='GSP 8.5 cm', remarks=("'8,5' is read as 8.5",))
    >>> tidied_line("zoas (5 cm) medium").text
    'zoas, 5 cm, medium'
    """
    remarks = [f"'{found.group()}' is read as {_pointed(found)}" for found in _COMMA.finditer(text)]
    text = without_fractions(_COMMA.sub(_pointed, text))
    remarks += [
        f"'{found.group()}{found.group(1)}' is read as {found.group(1)}, with its usual error"
        for found in _ABOUT.finditer(text)
    ]
    text = _IN_BRACKETS.sub(r", \1, ", _SAYS.sub(", ", _ABOUT.sub("", text)))
    text = _AFTER_AMOUNT.sub(r"\1, ", _NAMED_WORD.sub(", ", text))
    return Tidied(text.strip(" ,;"), tuple(remarks))


def _pointed(found: re.Match[str]) -> str:
    """A comma between digits as a decimal point; before three digits it parts the thousands."""
    whole, rest = found.groups()
    return f"{whole}{rest}" if len(rest) == _THOUSANDS and int(whole) else f"{whole}.{rest}"


def _decimal(found: re.Match[str]) -> str:
    whole, part, of = found.groups()
    return f"{int(whole or 0) + int(part) / int(of):g}"
