"""Dates, ages, grounds and sentences in a keeper's words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from advisor.model.results import Ground, Months

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_GRADES = {"study": "study", "maker": "maker's word", "experience": "keepers' word", "guess": "a guess"}
_GRADED = re.compile(r"\((study|maker|experience|guess)\)")


def day_text(day: date) -> str:
    """Return a day as ``2 Nov 2026``."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def month_text(day: date) -> str:
    """Return a month as ``Nov 2026``."""
    return f"{_MONTHS[day.month - 1]} {day.year}"


def months_text(until: Months) -> str:
    """Return when something begins: ``May 2027``, ``Mar-Jul 2027``, ``Sep 2027 or later``."""
    first = month_text(until.earliest)
    if until.latest is None:
        return f"{first} or later"
    last = month_text(until.latest)
    if first == last:
        return first
    if until.earliest.year == until.latest.year:
        return f"{_MONTHS[until.earliest.month - 1]}-{last}"
    return f"{first} to {last}"


def ago_text(days: int) -> str:
    """Return an age as a keeper says it: ``today``, ``9 days ago``, ``5 months ago``."""
    if days <= 0:
        return "today"
    if days == 1:
        return "yesterday"
    if days < 60:
        return f"{days} days ago"
    if days < 730:
        return f"{round(days / 30.4375)} months ago"
    return f"{round(days / 365.25)} years ago"


def ahead_text(months: float) -> str:
    """Return a time to come: ``in a year``, ``in 3 months``."""
    whole = round(months)
    if whole % 12 == 0 and whole:
        return "in a year" if whole == 12 else f"in {whole // 12} years"
    return "in a month" if whole == 1 else f"in {whole} months"


def grade_text(grade: str) -> str:
    """Return how sure a source is, in a keeper's words."""
    return _GRADES.get(grade, grade)


def grades_in_words(text: str) -> str:
    """Return `text` with each grade it names in brackets as a keeper says it."""
    return _GRADED.sub(lambda found: f"({grade_text(found.group(1))})", text)


def ground_text(ground: Ground, *, full: bool = False) -> str:
    """Return where a number comes from; `full` adds the date, the source and the file."""
    pieces = [ground.text]
    if ground.age_days is not None:
        told = f"{ground.age_days} days ago" in ground.text or ago_text(ground.age_days) in ground.text
        pieces.append("" if told else ago_text(ground.age_days))
    elif ground.on is not None:
        pieces.append(day_text(ground.on))
    text = ", ".join(piece for piece in pieces if piece)
    grade = f" ({grade_text(ground.grade)})" if ground.grade else ""
    return f"{text}{grade}{_full_ground(ground)}" if full else text + grade


def _full_ground(ground: Ground) -> str:
    dated = f", {day_text(ground.on)}" if ground.on is not None and ground.age_days is not None else ""
    source = f"; {ground.source}" if ground.source and ground.source != ground.text else ""
    place = f" ({ground.file}:{ground.line})" if ground.file else ""
    return f"{dated}{source}{place}"


def sentence(text: str) -> str:
    """Return `text` with a full stop and a capital first letter, unless it begins with an id."""
    stripped = text.strip()
    if not stripped:
        return ""
    ended = stripped if stripped[-1] in ".!?:" else f"{stripped}."
    first = ended.split(maxsplit=1)[0]
    is_id = "-" in first or any(letter.isdigit() for letter in first)
    return ended if is_id else ended[0].upper() + ended[1:]


def sentences(texts: Iterable[str]) -> str:
    """Return several texts as sentences of one paragraph."""
    return " ".join(filter(None, map(sentence, texts)))


def listed(names: Iterable[str], most: int = 6) -> str:
    """Return names joined by commas, the rest counted: ``a, b and 4 more``."""
    every = list(names)
    shown = ", ".join(every[:most])
    return shown if len(every) <= most else f"{shown} and {len(every) - most} more"


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun: ``1 place``, ``3 places``."""
    return f"{number} {one if number == 1 else many or one + 's'}"
