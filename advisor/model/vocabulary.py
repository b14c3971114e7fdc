"""The words a rule may use: measures, relations, and what each is measured in."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from advisor.errors import Span
from advisor.units import Dimension, Unit


class Kind(StrEnum):
    """What a variable of a rule can stand for."""

    ANIMAL = "animal"
    CORAL = "coral"
    PLACE = "place"
    WEAPON = "weapon"
    ROCK = "rock"
    LAMP = "lamp"
    PUMP = "pump"
    FISH = "fish"
    TANK = "tank"

    def fits(self, wanted: Kind) -> bool:
        """Return whether a thing of this kind may stand where `wanted` is asked for."""
        return self is wanted or (self is Kind.CORAL and wanted is Kind.ANIMAL)

    @property
    def lives(self) -> bool:
        """Whether it is an animal that stands somewhere, of whatever kind."""
        return self in (Kind.ANIMAL, Kind.CORAL)


CARRIES = "carries"
"""The relation of an animal and each weapon it has, or may have where its species is not certain."""
WEAPONS_CARRIED = "weapons-carried"
"""What computes `CARRIES`."""
LISTED = (Kind.ROCK, Kind.LAMP, Kind.PUMP, Kind.FISH)
"""Things that have a list of their own in a tank file."""


class EventKind(StrEnum):
    """What a journal line can tell."""

    ADDED = "added"
    PLACED = "placed"
    MOVED = "moved"
    SEEN = "seen"
    MEASURED = "measured"
    TESTED = "tested"
    FED = "fed"
    TRIMMED = "trimmed"
    FIXED = "fixed"
    REMOVED = "removed"
    CHANGED = "changed"
    NOTED = "noted"


class Grade(StrEnum):
    """How sure a source is, best first."""

    STUDY = "study"
    MAKER = "maker"
    EXPERIENCE = "experience"
    GUESS = "guess"

    @property
    def rank(self) -> int:
        """0 for the best grade."""
        return list(Grade).index(self)


@dataclass(frozen=True, slots=True)
class NumberType:
    """A quantity of one dimension, shown in one unit."""

    dimension: Dimension
    unit: Unit


@dataclass(frozen=True, slots=True)
class WordType:
    """One word out of a set; an empty tuple of words means open names (taxa, clones)."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetType:
    """Several words out of a set: the footings a coral accepts."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TruthType:
    """True, false or not known."""


ValueType = NumberType | WordType | SetType | TruthType

YES_NO = WordType(("yes", "no"))


class Supplier(StrEnum):
    """Where the value of a measure comes from, in order of precedence as declared."""

    CARD = "card"
    KEEPER = "keeper"
    COMPUTED = "computed"


@dataclass(frozen=True, slots=True)
class Source:
    """Where a number or a rule comes from, and how sure that is."""

    text: str
    grade: Grade
    dated: str = ""


@dataclass(frozen=True, slots=True)
class Assumption:
    """What a rule reckons with when the keeper has said nothing. [base unit]"""

    low: float
    high: float
    because: str
    grade: Grade
    groups: tuple[str, ...] = ()
    """Words of the measure ``group`` it is meant for; empty: any."""


@dataclass(frozen=True, slots=True)
class Param:
    """One argument of a measure, relation or definition."""

    kind: Kind
    name: str


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing that can be read, stated, computed or looked up on a card."""

    name: str
    params: tuple[Param, ...]
    type: ValueType
    suppliers: tuple[Supplier, ...]
    card_line: str = ""
    """For `Supplier.CARD`: the key of the card value, such as ``light-min``.

    Where a card has several weapons, the largest value over them counts.
    """
    stricter: str = ""
    """``lower`` or ``higher``: which of two disagreeing card lines governs a danger."""
    computed_by: str = ""
    """For `Supplier.COMPUTED`: a name out of the survey's closed list."""
    low: float = 0.0
    high: float = float("inf")
    """Physical range; an unknown value is exactly this interval. [base unit]"""
    usual: tuple[float, float] | None = None
    """What is met with in tanks; a value told outside it counts, and is asked about. [base unit]"""
    step: float = 1.0
    """Smallest meaningful difference. [base unit]"""
    error: float = 0.0
    """Default error of one reading: absolute [base unit], or a fraction if `error_is_fraction`."""
    error_is_fraction: bool = False
    stale_days: float | None = None
    at_a_month: bool = False
    say: str = ""
    ask: str = ""
    assumptions: tuple[Assumption, ...] = ()
    """The first whose groups fit the animal counts."""
    span: Span | None = None

    @property
    def symmetric(self) -> bool:
        """Whether the measure is the same both ways round, as a gap is."""
        return self.name == "gap"

    def is_unusual(self, low: float, high: float) -> bool:
        """Return whether a range, or one number as both its ends, lies wholly outside what is usual."""
        return self.usual is not None and (high < self.usual[0] or low > self.usual[1])


@dataclass(frozen=True, slots=True)
class Relation:
    """Something that does or does not hold between two things (or of one)."""

    name: str
    params: tuple[Param, ...]
    suppliers: tuple[Supplier, ...]
    computed_by: str = ""
    given: bool = False
    """False unless the keeper states it; otherwise not knowing stays not knowing."""
    say: str = ""
    ask: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Every measure and relation, by name."""

    measures: dict[str, Measure] = field(default_factory=dict)
    relations: dict[str, Relation] = field(default_factory=dict)
