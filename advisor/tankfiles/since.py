"""Since when something has been so: ``well since May 2026``, ``well for half a year``."""

from __future__ import annotations

import re
from datetime import date, timedelta

from advisor.errors import QuantityError
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Scalar
from advisor.units import Dimension, parse_quantity

_SINCE = re.compile(r"^(.*?)[,\s]+(since|for)\s+(.+)$", re.IGNORECASE)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = re.compile(rf"^(?:(\d{{1,2}})\.?\s+)?({'|'.join(_MONTHS)})[a-z]*\.?,?\s+(\d{{4}})$", re.I)
_AMOUNTS = {
    "a": "1",
    "an": "1",
    "one": "1",
    "two": "2",
    "three": "3",
    "six": "6",
    "half a": "0.5",
    "half an": "0.5",
}


def since_when(text: str) -> tuple[str, str] | None:
    """Return a word and the text of when it began, or None where no beginning is told."""
    found = _SINCE.match(text)
    if found is None or (found.group(2) == "for" and _days_of(found.group(3)) is None):
        return None
    return found.group(1), found.group(3).strip()


def read_begun(word: str, text: str, node: Scalar, on: date | None, ledger: Ledger) -> date | None:
    """Return the day something began, or None with the reason noted.

    Parameters
    ----------
    word
        What has been so since then.
    text
        A date, a month with its year, a year, or how long ago.
    node
        Where it stands.
    on
        The day it was told; how long ago is counted from it.
    ledger
        Where faults are noted.
    """
    begun = _date_of(text)
    days = _days_of(text)
    if begun is None and days is not None and on is not None:
        begun = on - timedelta(days=days)
    if begun is not None:
        return begun
    example = "2026-05-01"
    ledger.note(
        "value-134",
        f"'{text}' is not a date",
        node.span,
        label="counted from which day?" if days is not None else "expected year-month-day",
        mend=f"{word} since {_turned(text) or example}",
    )
    return None


def _date_of(text: str) -> date | None:
    """A day; of a month or a year its last day, which is the least that is sure."""
    try:
        head = re.split(r"[T ]", text, maxsplit=1)[0]
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", head):
            return date.fromisoformat(head)
        if (found := re.fullmatch(r"(\d{4})-(\d{2})", text)) is not None:
            return _last_of(int(found.group(1)), int(found.group(2)))
        if re.fullmatch(r"(?:19|20)\d{2}", text):
            return date(int(text), 12, 31)
        if (named := _MONTH.match(text)) is not None:
            month = _MONTHS.index(named.group(2).lower()[:3]) + 1
            year = int(named.group(3))
            return date(year, month, int(named.group(1))) if named.group(1) else _last_of(year, month)
    except ValueError:
        pass
    return None


def _last_of(year: int, month: int) -> date:
    return date(year + month // 12, month % 12 + 1, 1) - timedelta(days=1)


def _days_of(text: str) -> float | None:
    plain = re.sub(r"^(?:about|over|more than)\s+|\s+ago$", "", text.lower().strip())
    spoken = re.match(r"(half an?|an?|one|two|three|six)\s+(.*)$", plain)
    if spoken is not None:
        plain = f"{_AMOUNTS[spoken.group(1)]} {spoken.group(2)}"
    try:
        quantity = parse_quantity(plain)
    except QuantityError:
        return None
    return quantity.base if quantity.unit.dimension is Dimension.TIME and quantity.base < 36_525 else None


def _turned(text: str) -> str:
    """A date written day first or month first, as the dates it may be."""
    numbers = re.fullmatch(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})", text)
    if numbers is None:
        return ""
    first, second, year = (int(part) for part in numbers.groups())
    for month, day in ((second, first), (first, second)):
        try:
            return date(year, month, day).isoformat()
        except ValueError:
            continue
    return ""
