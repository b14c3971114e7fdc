"""Quantities as a keeper reads them: rounded to what their error deserves, with unit and error."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from advisor.model.results import Reason, Value, Verdict
from advisor.units import counted_unit, error_digits, format_number, span_ends

_FEW = 2
_LOPSIDED = 1.6
_UNIT_GAP = {"": "", "%": ""}


@dataclass(frozen=True, slots=True)
class Figure:
    """A value in pieces, so that numbers can be set under each other."""

    number: str
    error: str = ""
    rest: str = ""
    aligned: bool = True
    """False for ranges and words, which start at the left edge."""

    def set_to(self, width: int) -> str:
        """Return the text with the number flush right in a column of this width."""
        if not self.aligned:
            return self.number + self.rest
        error = f" {self.error}" if self.error else ""
        return f"{self.number.rjust(width)}{error}{self.rest}"

    def __str__(self) -> str:
        """Return the text as it stands in a sentence."""
        return self.set_to(0)


def set_figures(figures: Iterable[Figure]) -> list[str]:
    """Return each figure as text, the numbers of all of them under each other."""
    shown = list(figures)
    width = max((len(figure.number) for figure in shown if figure.aligned), default=0)
    return [figure.set_to(width) for figure in shown]


def _rounded(value: float, places: int) -> str:
    shown = round(value, places)
    text = f"{shown:.{max(0, places)}f}"
    return "0" if float(text) == 0 else text


def with_error(best: float, error: float) -> tuple[str, str]:
    """Return a number and its error as text, both to the places the error deserves.

    >>> with_error(117.6, 11.76)
    ('118', '±12')
    >>> with_error(10.0, 2.0)
    ('10', '±2')
    """
    places = error_digits(error)
    error *= 1.0 + 1e-9  # a half that arithmetic has shaved is still rounded up
    shown = _rounded(error, places)
    while places > 0 and shown.endswith("0"):
        places -= 1
        shown = _rounded(error, places)
    small = 0 < abs(best) < 2 * error  # its sign and size must not be rounded away
    return _rounded(best, places + 1 if small else places), f"±{shown}"


def span_text(low: float, high: float) -> str:
    """Return a range such as ``20-35``, rounded outward to what its width deserves.

    >>> span_text(22.3, 89.7), span_text(0.5, 5.5), span_text(4.0, 4.0), span_text(-2, 5)
    ('22-90', '0.5-5.5', '4', '-2 to 5')
    """
    first, last = span_ends(low, high)
    if first == last:
        return first
    return f"{first} to {last}" if low < 0 or high < 0 else f"{first}-{last}"


def unit_text(unit: str, number: str) -> str:
    """Return the unit as it follows `number`, its gap included: `` cm``, ``%``, `` day``."""
    return _UNIT_GAP.get(unit, " ") + counted_unit(unit, number)


def figure(value: Value | None, missing: str = "not known") -> Figure:
    """Return a value in pieces; `missing` is what to say where nothing is known."""
    if value is None:
        return Figure("", aligned=False)
    if value.truth is not None:
        return Figure("yes" if value.truth else "no", aligned=False)
    if not value.known:
        return _unknown_figure(value, missing)
    if value.words and value.low is None and value.high is None:
        return Figure(" or ".join(value.words), aligned=False)
    if value.low is None or value.high is None:
        return _open_figure(value, missing)
    if value.words:
        said = " or ".join(f'"{word}"' for word in value.words)
        return Figure(
            f"{said} {span_text(value.low, value.high)}", rest=unit_text(value.unit, ""), aligned=False
        )
    return _number_figure(value, value.low, value.high)


def _unknown_figure(value: Value, missing: str) -> Figure:
    if value.best is None:
        few = 0 < len(value.words) <= _FEW and value.kind != "unknown"
        return Figure(" or ".join(value.words) if few else missing, aligned=False)
    number = format_number(value.best)
    return Figure(f"{number}{unit_text(value.unit, number)}, too old", aligned=False)


def _open_figure(value: Value, missing: str) -> Figure:
    if value.best is not None:
        number = format_number(value.best)
        return Figure(number, rest=unit_text(value.unit, number))
    if value.low is not None:
        return Figure(f"{format_number(value.low)}{unit_text(value.unit, '')} or more", aligned=False)
    if value.high is not None:
        return Figure(f"at most {format_number(value.high)}{unit_text(value.unit, '')}", aligned=False)
    return Figure(missing, aligned=False)


def _number_figure(value: Value, low: float, high: float) -> Figure:
    best = value.best
    if best is not None and math.isclose(low, high, rel_tol=1e-9, abs_tol=1e-9):
        number = format_number(best)
        return Figure(number, rest=unit_text(value.unit, number))
    below, above = (best - low, high - best) if best is not None else (0.0, 0.0)
    if best is None or min(below, above) <= 0 or max(below, above) > _LOPSIDED * min(below, above):
        text = span_text(low, high)
        return Figure(text, rest=unit_text(value.unit, text), aligned=False)
    number, error = with_error(best, max(below, above))
    return Figure(number, error, unit_text(value.unit, ""))


def value_text(value: Value | None, missing: str = "not known") -> str:
    """Return a value as it stands in a sentence: ``118 ±12 PAR``, ``20-35 cm``, ``rock or sand``."""
    return str(figure(value, missing))


def margin_figure(margin: Value | None, before: str, steps: float | None = None) -> str:
    """Return a margin after some words, with its steps: `` by 8 ±1 cm (8 steps)``; empty where there is none.

    After *by* it has no sign: the verdict tells which way it goes.
    """
    if margin is None or (margin.best is None and margin.low is None):
        return ""
    shown = _unsigned(margin) if before.strip() == "by" else margin
    number = format_number(abs(steps), 2) if steps is not None else ""
    counted = f" ({number} {'step' if number == '1' else 'steps'})" if number else ""
    return f"{before}{value_text(shown)}{counted}"


def _unsigned(margin: Value) -> Value:
    ends = sorted(abs(end) for end in (margin.low, margin.high) if end is not None)
    same_side = margin.low is not None and margin.high is not None and margin.low * margin.high >= 0
    if not same_side:
        return margin
    best = abs(margin.best) if margin.best is not None else None
    return margin.model_copy(update={"low": ends[0], "best": best, "high": ends[-1]})


def wanted_text(low: Value | None, high: Value | None) -> str:
    """Return what is wanted: ``80-150 PAR``, ``25 cm or more``, ``at most 250 PAR``."""
    if low is not None and low.low is None and low.high is None and low.best is None:
        return value_text(low)
    least, most = _limit(low, strict_high=True), _limit(high, strict_high=False)
    if least and most and low is not None and high is not None and low.unit == high.unit:
        if least == most:
            return least + unit_text(low.unit, least)
        return f"{least}-{most}{unit_text(low.unit, most)}"
    if least and low is not None:
        return f"{least}{unit_text(low.unit, least)} or more"
    if most and high is not None:
        return f"at most {most}{unit_text(high.unit, most)}"
    return "" if low is None and high is None else "not known"


def _limit(value: Value | None, strict_high: bool) -> str:
    if value is None or not value.known:
        return ""
    number = value.best if value.best is not None else value.high if strict_high else value.low
    return "" if number is None else format_number(number)


def margin_text(reason: Reason) -> str:
    """Return how much is missing or to spare: ``8 cm short``, ``37 PAR too much``, ``6 cm to spare``."""
    margin = reason.margin
    if margin is None or (margin.best is None and margin.low is None):
        return ""
    amount = margin.best if margin.best is not None else (margin.low or 0.0)
    number = _amount(amount)
    if margin.best is None and margin.high is not None and margin.high < 0:
        number = " to ".join(dict.fromkeys((_amount(margin.high), number)))  # what is sure, and what may be
    size = f"{number}{unit_text(margin.unit, number)}"
    if reason.verdict is Verdict.UNDECIDED:
        return ""
    if amount >= 0:
        return f"{size} to spare"
    return f"{size} {'too much' if _over(reason) else 'short'}"


def _amount(number: float) -> str:
    """How much, without its sign."""
    return format_number(abs(number), 2) if abs(number) < 10 else f"{abs(number):.0f}"


def _over(reason: Reason) -> bool:
    here, most = reason.here, reason.wanted_high
    if here is None or most is None or here.best is None:
        return reason.wanted_low is None and most is not None
    limit = most.best if most.best is not None else most.low
    return limit is not None and here.best > limit
