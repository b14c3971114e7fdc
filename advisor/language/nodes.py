"""The checked tree of a rule file: what lark's parse becomes, spans kept.

Expressions are untyped here; `advisor.language.check` proves names, kinds and
units, and `advisor.reasoning.compile` turns them into column operations.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from advisor.errors import Span
from advisor.language.expressions import Aggregate as Aggregate
from advisor.language.expressions import AggregateOp as AggregateOp
from advisor.language.expressions import And as And
from advisor.language.expressions import Arith as Arith
from advisor.language.expressions import ArithOp as ArithOp
from advisor.language.expressions import Between as Between
from advisor.language.expressions import Binder as Binder
from advisor.language.expressions import Call as Call
from advisor.language.expressions import Chain as Chain
from advisor.language.expressions import Compare as Compare
from advisor.language.expressions import CompareOp as CompareOp
from advisor.language.expressions import Expr as Expr
from advisor.language.expressions import Extreme as Extreme
from advisor.language.expressions import Is as Is
from advisor.language.expressions import IsOp as IsOp
from advisor.language.expressions import Name as Name
from advisor.language.expressions import Negative as Negative
from advisor.language.expressions import Not as Not
from advisor.language.expressions import Number as Number
from advisor.language.expressions import Or as Or
from advisor.language.expressions import Since as Since
from advisor.language.expressions import StepsAway as StepsAway
from advisor.language.sheets import Action as Action
from advisor.language.sheets import Handling as Handling
from advisor.language.sheets import HandlingKind as HandlingKind
from advisor.language.sheets import HandlingLine as HandlingLine
from advisor.model.vocabulary import Kind, Measure, Param, Relation, Source


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


class LeverWay(StrEnum):
    """Which way a lever moves a quantity."""

    UP = "up"
    DOWN = "down"
    EITHER = ""


@dataclass(frozen=True, slots=True)
class Lever:
    """Something a keeper can change; what has no lever is fixed.

    A quantity is moved by `step` (a literal); without one a relation is made
    true, or a measure of words made `word`. `args` are names of `params`.
    """

    span: Span
    name: str
    params: tuple[Param, ...]
    target: str
    args: tuple[str, ...]
    target_span: Span
    cost: float
    say: Text
    step: Number | None = None
    way: LeverWay = LeverWay.EITHER
    word: str = ""
    not_checked: Text | None = None
    """What also changes and cannot be reckoned: printed with every use."""


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
    A weapon also names its animal: ``sweeper is weapon of torch-1``.
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
    of: str = ""


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
    CHANGE_CARD   target = card name, key = card value, old/new numbers (both ends of a band: also
                  old_high/new_high) or old_words/new_words, animal = '' or one animal's id
    LEVEL         target = rule, old_level/new_level
    ACCEPT        target = rule, entities, stood, short, on, until
    SWITCH_OFF    target = rule or preference

    Every line may carry `because`, and counts from `on` until `until`.
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
    """ISO date or empty: the last day this line counts."""
    on: str = ""
    """ISO date or empty: the day this was decided; before it the line does not count."""
    old_words: tuple[str, ...] = ()
    new_words: tuple[str, ...] = ()
    old_high: Number | None = None
    new_high: Number | None = None
    stood: tuple[str, ...] = ()
    """ACCEPT: where each entity stood, its spot or its position as written; empty where not said."""
    short: Number | None = None
    """ACCEPT: the shortfall that was accepted; its unit is ``steps`` where the rule mixes units, and
    ``unknown`` where nobody knows it for want of a reading."""


@dataclass(frozen=True, slots=True)
class Comment:
    """A ``#`` comment, kept for the formatter."""

    span: Span
    text: str


Declaration = (
    Measure
    | Relation
    | Let
    | Define
    | Rule
    | Prefer
    | Card
    | WordMeaning
    | Example
    | HouseEdit
    | Lever
    | Action
    | Handling
)


@dataclass(frozen=True, slots=True)
class RuleFile:
    """One file, parsed. House blocks are flattened into their edits."""

    name: str
    edition: int
    declarations: tuple[Declaration, ...]
    comments: tuple[Comment, ...] = ()
