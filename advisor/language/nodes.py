"""The checked tree of a rule file: what lark's parse becomes, spans kept.

Expressions are untyped here; `advisor.language.check` proves names, kinds and
units, and `advisor.reasoning.compile` turns them into column operations.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from advisor.errors import Span
from advisor.model.vocabulary import Kind, Measure, Param, Relation, Source

# --- expressions -----------------------------------------------------------


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
class Binder:
    """One variable of a rule: ``coral c`` or ``neighbour n of c`` (then kind is ANIMAL)."""

    span: Span
    kind: Kind
    name: str
    neighbour_of: str = ""


@dataclass(frozen=True, slots=True)
class Aggregate:
    """``any neighbour n of c where …``, ``sum of size(a) for animal a where …``."""

    span: Span
    op: AggregateOp
    binder: Binder
    where: Expr | None
    value: Expr | None


Expr = Number | Name | Call | Compare | Between | Is | Not | And | Or | Arith | Negative | Extreme | Aggregate

# --- declarations ----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Text:
    """A quoted template: literal pieces and ``{expr}`` holes, in order."""

    span: Span
    pieces: tuple[str | Expr, ...]


@dataclass(frozen=True, slots=True)
class Let:
    """A named number."""

    span: Span
    name: str
    value: Number
    because: str
    source: Source | None


@dataclass(frozen=True, slots=True)
class Case:
    """One line of a definition by cases; `when` is None for ``otherwise`` or a plain body."""

    span: Span
    value: Expr
    when: Expr | None


@dataclass(frozen=True, slots=True)
class Define:
    """A named truth (`unit` None) or quantity, perhaps with cases."""

    span: Span
    name: str
    params: tuple[Param, ...]
    unit: str | None
    cases: tuple[Case, ...]
    say: Text | None


class Level(StrEnum):
    """What failing a rule means, worst first."""

    DANGER = "danger"
    WARNING = "warning"
    ADVICE = "advice"


class Stage(StrEnum):
    """When a rule is asked.

    GATE      once per tank, before anything else
    ALWAYS    tonight and for good
    TONIGHT   only for the first nights
    SETTLED   only for a place for good
    """

    GATE = "gate"
    ALWAYS = "always"
    TONIGHT = "tonight"
    SETTLED = "settled"


@dataclass(frozen=True, slots=True)
class Rule:
    """One requirement. `expect` is None for a rule checked by eye."""

    span: Span
    name: str
    binders: tuple[Binder, ...]
    when: Expr | None
    expect: Expr | None
    by_eye: str
    until_horizon: bool
    unless: Expr | None
    level: Level
    stage: Stage
    because: Text
    matters: str
    remedy: Text
    duties: tuple[Text, ...]
    source: Source | None


@dataclass(frozen=True, slots=True)
class Prefer:
    """One comfort, with a weight and the number of steps over which it fades to nothing."""

    span: Span
    name: str
    binders: tuple[Binder, ...]
    when: Expr | None
    want: Expr
    weight: float
    fade_steps: float
    because: Text
    source: Source | None


@dataclass(frozen=True, slots=True)
class CardValue:
    """One value of a card with its own ground.

    `key` is the name a measure's ``from card KEY`` asks for. Exactly one of
    number, word, words or text is given; number is in the base unit.
    """

    span: Span
    key: str
    of: str = ""
    """The word that heads the line where a card may have several: the weapon's name."""
    number: float | None = None
    unit: str = ""
    word: str = ""
    words: tuple[str, ...] = ()
    text: str = ""
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class Card:
    """What is known of one taxon. Two values of one key are a disagreement, both kept."""

    span: Span
    name: str
    title: str
    also: tuple[str, ...]
    """Other names: trade names, synonyms, former names."""
    values: tuple[CardValue, ...]
    source: Source | None
    """The ground of every line that names none of its own."""


@dataclass(frozen=True, slots=True)
class WordMeaning:
    """What a loose word stands for: ``word "medium" of light from seller means 50 to 200 PAR``.

    `said_by` is a `Said` value or ``anyone``; low and high are in the base unit.
    """

    span: Span
    word: str
    measure: str
    said_by: str
    low: float
    high: float
    source: Source | None
    unit: str = ""
    """The unit as written, empty for plain numbers."""


class Outcome(StrEnum):
    """What an example says must come out."""

    HOLDS = "holds"
    FAILS = "fails"
    UNDECIDED = "undecided"
    EXCUSED = "excused"
    NOT_COVERED = "not covered"


@dataclass(frozen=True, slots=True)
class Given:
    """One fact of an example.

    `kind` set: ``torch-1 is coral with …`` introduces an entity; `fact` is None.
    Otherwise ``gap(a, b) = 12 cm`` sets a measure or relation: `fact` is the
    call, `low`/`high` a number or range, `word` a word, or all None: unknown.
    """

    span: Span
    entity: str = ""
    kind: Kind | None = None
    fact: Call | None = None
    low: Number | None = None
    high: Number | None = None
    word: str = ""


@dataclass(frozen=True, slots=True)
class Then:
    """One expected outcome for one binding of the rule."""

    span: Span
    entities: tuple[str, ...]
    outcome: Outcome
    by: Number | None = None
    """The amount: ``fails by 8 cm``, ``holds by 3 cm``."""
    needs: tuple[Call, ...] = ()
    """For undecided: which cells are missing."""
    too_close: bool = False
    leans: str = ""
    """``yes``, ``no`` or empty."""
    month: float = 0.0
    """``then at month 12, …``: how far ahead it is asked; 0 is now."""


@dataclass(frozen=True, slots=True)
class Example:
    """A case that a rule or preference must get right."""

    span: Span
    title: str
    rule: str
    givens: tuple[Given, ...]
    thens: tuple[Then, ...]


class HouseVerb(StrEnum):
    """What a house file may do to what is shipped."""

    CHANGE_LET = "change"
    CHANGE_CARD = "change card"
    LEVEL = "level"
    ACCEPT = "accept"
    SWITCH_OFF = "switch off"


@dataclass(frozen=True, slots=True)
class HouseEdit:
    """One line of a ``house`` block.

    CHANGE_LET    target = let, old/new numbers
    CHANGE_CARD   target = card name, key = card value, old/new, animal = '' or one animal's id
    LEVEL         target = rule, old_level/new_level
    ACCEPT        target = rule, entities, until
    SWITCH_OFF    target = rule
    """

    span: Span
    verb: HouseVerb
    target: str
    key: str = ""
    old: Number | None = None
    new: Number | None = None
    old_level: Level | None = None
    new_level: Level | None = None
    entities: tuple[str, ...] = ()
    animal: str = ""
    of: str = ""
    """CHANGE_CARD of a line a card may have several of: the weapon's name."""
    because: str = ""
    until: str = ""
    """ISO date or empty."""


@dataclass(frozen=True, slots=True)
class Comment:
    """A ``#`` comment, kept for the formatter."""

    span: Span
    text: str


Declaration = Measure | Relation | Let | Define | Rule | Prefer | Card | WordMeaning | Example | HouseEdit


@dataclass(frozen=True, slots=True)
class RuleFile:
    """One file, parsed. House blocks are flattened into their edits."""

    name: str
    edition: int
    declarations: tuple[Declaration, ...]
    comments: tuple[Comment, ...] = ()
