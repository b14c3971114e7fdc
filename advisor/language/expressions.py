"""The expressions of the rule language: one grammar level set, untyped until checked."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from advisor.errors import Span
from advisor.model.vocabulary import Kind


@dataclass(frozen=True, slots=True)
class Number:
    """A literal; `unit` is the unit as written, empty for a plain number."""

    span: Span
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Name:
    """A let, a bound variable, a word, `yes`, `no` or `tank`."""

    span: Span
    name: str


@dataclass(frozen=True, slots=True)
class Call:
    """A measure, relation or definition applied: ``gap(c, n)``.

    ``c.kind`` is written as ``kind(c)`` here, with `dotted` set; ``n is
    down-flow of c`` is ``down-flow(n, c)``.
    """

    span: Span
    name: str
    args: tuple[Expr, ...]
    dotted: bool = False
    name_span: Span | None = None


class CompareOp(StrEnum):
    """The four order comparisons; equality of a reading is not in the language."""

    AT_LEAST = ">="
    AT_MOST = "<="
    MORE = ">"
    LESS = "<"


@dataclass(frozen=True, slots=True)
class Compare:
    """An order comparison of two quantities of one dimension."""

    span: Span
    op: CompareOp
    left: Expr
    right: Expr


@dataclass(frozen=True, slots=True)
class Between:
    """``light(p) between a and b``; both ends count."""

    span: Span
    value: Expr
    low: Expr
    high: Expr


class IsOp(StrEnum):
    """Comparisons of words."""

    IS = "is"
    ONE_OF = "is one of"
    HAS = "has"


@dataclass(frozen=True, slots=True)
class Is:
    """A comparison of words.

    IS       word against word: ``n.group is not c.group``, ``c.kind is mushroom``
    ONE_OF   word against a list of words or a set-valued measure
    HAS      set-valued measure against one word: ``weapons(a) has sweeper-tentacles``
    """

    span: Span
    op: IsOp
    left: Expr
    right: tuple[Expr, ...]
    negated: bool


@dataclass(frozen=True, slots=True)
class Not:
    """Strong Kleene negation."""

    span: Span
    of: Expr


@dataclass(frozen=True, slots=True)
class And:
    """Strong Kleene conjunction of two or more."""

    span: Span
    items: tuple[Expr, ...]


@dataclass(frozen=True, slots=True)
class Or:
    """Strong Kleene disjunction of two or more."""

    span: Span
    items: tuple[Expr, ...]


class ArithOp(StrEnum):
    """The four operations."""

    ADD = "+"
    SUBTRACT = "-"
    MULTIPLY = "*"
    DIVIDE = "/"


@dataclass(frozen=True, slots=True)
class Arith:
    """Arithmetic on quantities, units checked."""

    span: Span
    op: ArithOp
    left: Expr
    right: Expr


@dataclass(frozen=True, slots=True)
class Negative:
    """Unary minus."""

    span: Span
    of: Expr


@dataclass(frozen=True, slots=True)
class Extreme:
    """``larger of a, b, c`` (largest) or ``smaller of a, b``."""

    span: Span
    largest: bool
    items: tuple[Expr, ...]


class AggregateOp(StrEnum):
    """What is made of many bindings."""

    ANY = "any"
    EVERY = "every"
    COUNT = "count of"
    SUM = "sum of"
    LEAST = "least of"
    MOST = "most of"


@dataclass(frozen=True, slots=True)
class Chain:
    """``within 2 steps of a over touching``: at most so many links of a relation, each step one more."""

    span: Span
    steps: int
    of: str
    """The variable the steps are counted from."""
    over: str
    """The relation or truth of two animals that makes a step: the next one is so of the one before."""
    over_span: Span


@dataclass(frozen=True, slots=True)
class Binder:
    """One variable: ``coral c``, ``neighbour n of c`` (then kind is ANIMAL) or ``weapon w of c``."""

    span: Span
    kind: Kind
    name: str
    neighbour_of: str = ""
    weapon_of: str = ""
    """The animal whose weapon it is."""
    chain: Chain | None = None
    """Only those within some steps of another animal."""


@dataclass(frozen=True, slots=True)
class Aggregate:
    """``any neighbour n of c where …``, ``sum of size(a) for animal a where …``."""

    span: Span
    op: AggregateOp
    binder: Binder
    where: Expr | None
    value: Expr | None


@dataclass(frozen=True, slots=True)
class Since:
    """``days since fixed of c``: how long ago the journal last tells of an event."""

    span: Span
    event: str
    of: Expr
    event_span: Span


@dataclass(frozen=True, slots=True)
class StepsAway:
    """``b is within 2 steps of a over touching``; nothing is a step away from itself."""

    span: Span
    thing: Expr
    chain: Chain


Expr = (
    Number
    | Name
    | Call
    | Compare
    | Between
    | Is
    | Not
    | And
    | Or
    | Arith
    | Negative
    | Extreme
    | Aggregate
    | Since
    | StepsAway
)
