"""The grounds of a value in a keeper's words, short enough for a narrow column."""

from __future__ import annotations

from datetime import date

from advisor.language.nodes import CardValue, HouseEdit, WordMeaning
from advisor.model.cells import Support
from advisor.model.tank import Said, Statement
from advisor.model.vocabulary import Assumption, Measure, NumberType, Source
from advisor.reasoning.survey_facts import said_on
from advisor.units import format_number, format_quantity, from_base

HARDLY_POSSIBLE = "hardly possible"
"""What is said of a number outside what is usual for its measure."""

FACTOR_NOT_KNOWN = "the factor of its meter under water is not known"
"""The step of a reading whose error is that of a factor nobody knows."""

HOUSE_FILE = "your house file"
"""The ground of a card value that a house line has set."""


def days_ago(age_days: int) -> str:
    """Return an age as a keeper says it.

    >>> [days_ago(age) for age in (0, 1, 9, 143)]
    ['today', 'yesterday', '9 days ago', '143 days ago']
    """
    return {0: "today", 1: "yesterday"}.get(age_days, f"{age_days} days ago")


def said_support(said: Statement, on: date, measure: Measure | None = None) -> Support:
    """Return who says it, how and when."""
    day = said_on(said)
    age = (on - day).days if day is not None else None
    text = _who(said)
    if age is not None and said.on is not None:
        text = f"{text}, {days_ago(age)}"
    if measure is not None and _is_odd(said, measure):
        text = f"{text}, {HARDLY_POSSIBLE}"
    return Support(text, None, day, age, _details(said, measure), said.span)


def _is_odd(said: Statement, measure: Measure) -> bool:
    """Whether the number told is hardly possible."""
    low, high = (said.low, said.high) if said.best is None else (said.best, said.best)
    return low is not None and high is not None and measure.is_unusual(low, high)


def _who(said: Statement) -> str:
    """Who says it: ``your meter``, ``tape``, ``seller's word 'medium'``."""
    who = {Said.SELLER: "seller's", Said.SHOP: "shop's"}.get(said.by, "your")
    if said.words and said.how == "":
        return f"{who} word '{' '.join(said.words)}'"
    head = said.how.split(",")[0].strip()
    if head == "meter":
        return f"{who} meter"
    if head:
        return head
    by = {Said.SELLER: "seller", Said.SHOP: "shop", Said.INSTRUMENT: "instrument"}.get(said.by)
    return by or ("your reading" if said.best is not None else "you say so")


def _details(said: Statement, measure: Measure | None) -> str:
    """What else is known of a statement: the whole of it, and its error."""
    parts = []
    if said.written and said.written.split(" since ")[0] != " ".join(said.words):
        parts.append(f"written as {said.written}")
    if "," in said.how:
        parts.append(said.how)
    parts += said.reckoned
    if said.best is not None and measure is not None and (error := _error_text(said, measure)):
        parts.append(error)
    if said.since is not None:
        parts.append(f"since {said.since.isoformat()}")
    return "; ".join(parts)


def _error_text(said: Statement, measure: Measure) -> str:
    """The error of a reading and whose it is."""
    if said.error is not None:
        return f"error ±{_amount(said.error, measure)} as stated"
    if measure.error_is_fraction and measure.error:
        whose = "for that factor" if FACTOR_NOT_KNOWN in said.reckoned else "the usual one"
        return f"error ±{format_number(measure.error * 100.0)} %, {whose}"
    return f"error ±{_amount(measure.error, measure)}, the usual one" if measure.error else ""


def _amount(base_value: float, measure: Measure) -> str:
    """A difference of a measure as text in its own unit."""
    if not isinstance(measure.type, NumberType):
        return format_number(base_value)
    unit = measure.type.unit
    number = format_number(base_value / unit.factor)
    return f"{number} {unit.name}".strip()


def quantity(base_value: float, measure: Measure) -> str:
    """Return a value of a measure as text in its own unit."""
    if not isinstance(measure.type, NumberType):
        return format_number(base_value)
    return format_quantity(base_value, measure.type.unit)


def span_of(low: float, high: float, measure: Measure) -> str:
    """Return a range of a measure as text: ``50-200 PAR``."""
    if not isinstance(measure.type, NumberType):
        return f"{format_number(low)}-{format_number(high)}"
    unit = measure.type.unit
    ends = f"{format_number(from_base(low, unit))}-{format_number(from_base(high, unit))}"
    return f"{ends} {unit.name}".strip()


def word_support(said: Statement, meaning: WordMeaning, on: date, measure: Measure) -> Support:
    """Return what a loose word stands for, and who says so."""
    base = said_support(said, on)
    source = meaning.source
    stands = f"stands for {span_of(meaning.low, meaning.high, measure)}"
    ground = f" ({source.text})" if source is not None else ""
    return Support(base.text, source.grade if source else None, base.on, base.age_days,
                   f"{stands}{ground}", base.span)  # fmt: skip


def stale_support(said: Statement, on: date, measure: Measure) -> Support:
    """Return that a reading is too old to count, and what it was."""
    base = said_support(said, on, measure)
    was = quantity(said.best, measure) if said.best is not None else " ".join(said.words)
    if said.best is None and said.low is not None and said.high is not None:
        was = span_of(said.low, said.high, measure)
    good = f"good for {format_number(measure.stale_days or 0.0)} days"
    return Support(
        f"too old: {was}".rstrip(": "), None, base.on, base.age_days, f"{base.text}; {good}", base.span
    )


def card_support(
    card: str, value: CardValue, fallback: Source | None, edit: HouseEdit | None, disputed: bool
) -> Support:
    """Return which card says it, on what ground, and whether the house has changed it."""
    source = value.source or fallback
    if edit is not None:
        reason = f": {edit.because}" if edit.because else ""
        said = f"instead of {_before(edit, value)} of card {card}{reason}"
        return Support(HOUSE_FILE, None, source=said, span=edit.span)
    text = f"card {card}, disputed" if disputed else f"card {card}"
    return Support(text, source.grade if source is not None else None,
                   source=source.text if source is not None else "", span=value.span)  # fmt: skip


def _before(edit: HouseEdit, value: CardValue) -> str:
    """What a house line changed, as it stood: of a band the end that is meant."""
    old = edit.old_high if edit.old_high is not None and value.key.endswith("-high") else edit.old
    return f"{old.value:g} {old.unit}".rstrip() if old is not None else ", ".join(edit.old_words)


def assumed_support(assumption: Assumption) -> Support:
    """Return that something is only reckoned with, and why."""
    return Support("a guess, not told", assumption.grade, source=assumption.because)


def plain(text: str, source: str = "") -> Support:
    """Return a ground that has no date and no grade."""
    return Support(text, source=source)
