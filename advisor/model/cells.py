"""One value the survey holds: an interval, a set of words, or a truth, with its grounds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from advisor.errors import Span
from advisor.model.vocabulary import Grade


class Cause(StrEnum):
    """Why something is not known well enough."""

    MISSING = "missing"
    STALE = "stale"
    TOO_CLOSE = "too close"


class CellKind(StrEnum):
    """Where a value comes from."""

    MEASURED = "measured"
    STATED = "stated"
    COMPUTED = "computed"
    CARD = "card"
    VOUCHED = "vouched"
    ASSUMED = "assumed"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Support:
    """One ground of a value, in words: "your meter", "tape", "card torch"."""

    text: str
    grade: Grade | None = None
    on: date | None = None
    age_days: int | None = None
    source: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class NumberCell:
    """A quantity as a 90 % two-sided range; `best` is None where nothing singles one out. [base unit]"""

    low: float
    best: float | None
    high: float
    kind: CellKind
    cause: Cause | None = None
    supports: tuple[Support, ...] = ()


@dataclass(frozen=True, slots=True)
class WordCell:
    """The words still possible; None means any word at all."""

    possible: frozenset[str] | None
    kind: CellKind
    cause: Cause | None = None
    supports: tuple[Support, ...] = ()


@dataclass(frozen=True, slots=True)
class SetCell:
    """A set of words: those surely in it, and those possibly in it (None: any)."""

    surely: frozenset[str]
    possibly: frozenset[str] | None
    kind: CellKind
    cause: Cause | None = None
    supports: tuple[Support, ...] = ()


@dataclass(frozen=True, slots=True)
class TruthCell:
    """A relation that holds, does not, or is not known (None)."""

    value: bool | None
    kind: CellKind
    cause: Cause | None = None
    supports: tuple[Support, ...] = ()


Cell = NumberCell | WordCell | SetCell | TruthCell
