"""What an answer is made of. Published by ``advisor schema answer``; reports only print these."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from pydantic import SerializerFunctionWrapHandler, model_serializer

from advisor.model.tank import Event, Model

ANSWER_EDITION = 1
"""Version of the published JSON form; raised whenever a consumer could break."""


class Verdict(StrEnum):
    """What a rule says of one binding."""

    HOLDS = "holds"
    FAILS = "fails"
    UNDECIDED = "undecided"
    EXCUSED = "excused"
    ACCEPTED = "accepted"
    NOT_COVERED = "not covered"
    BY_EYE = "by eye"


class Word(StrEnum):
    """The answer for one place, best first."""

    YES = "YES"
    YES_SLOWLY = "YES, SLOWLY"
    YES_UNTIL = "YES, UNTIL"
    YES_BUT = "YES, BUT"
    """No danger, but a warning fails now, or is open and leans that way."""
    LIKELY = "LIKELY"
    """A danger is open and leans well; nothing else speaks against it."""
    LIKELY_UNTIL = "LIKELY, UNTIL"
    LIKELY_BUT = "LIKELY, BUT"
    NOT_KNOWN = "NOT KNOWN YET"
    NO = "NO"


class Ground(Model):
    """Where a number comes from, ready to print."""

    text: str
    grade: str = ""
    on: date | None = None
    age_days: int | None = None
    source: str = ""
    file: str = ""
    line: int = 0


class Value(Model):
    """A quantity, words or a truth. Numbers are in `unit`, as a 90 % range."""

    low: float | None = None
    best: float | None = None
    high: float | None = None
    unit: str = ""
    words: tuple[str, ...] = ()
    truth: bool | None = None
    known: bool = True
    kind: str = ""
    """measured, stated, computed, card, vouched, assumed or unknown."""


class Step(Model):
    """One node of the recorded evaluation; as JSON, keys that would say nothing are left out."""

    id: str
    """Stable: rule, binding and path, such as ``keep-clear(torch-1,zoa-2)/expect/1``.

    A path goes by the numbers of a formula's parts and by the names of what an
    aggregate binds; an animal that is only thought to stand somewhere has its
    place behind it: ``torch-1@left-ledge``.
    """
    op: str
    """measure, relation, define, let, number, compare, between, is, and, or, not, aggregate …"""
    text: str
    """What this node is, in words: ``gap between torch-1 and zoa-2``."""
    value: Value
    margin: Value | None = None
    margin_steps: float | None = None
    cause: str = ""
    grounds: tuple[Ground, ...] = ()
    house: tuple[str, ...] = ()
    """What the keeper's own files changed right here, and lines of them that do not count."""
    decides: bool = False
    """Whether the verdict rests on this cell: were it not known, the verdict would not stand."""
    same_as: str = ""
    """Id of an earlier step of the same document that says the same; grounds and inputs stand there."""
    inputs: tuple[Step, ...] = ()

    @model_serializer(mode="wrap")
    def _without_what_says_nothing(self, dump: SerializerFunctionWrapHandler) -> dict[str, object]:
        """The step without empty keys, also of its values and grounds: there may be thousands."""
        told = {key: _telling(value) for key, value in dump(self).items() if not _is_nothing(value)}
        return told if self.decides else {key: value for key, value in told.items() if key != "decides"}


def _telling(value: object) -> object:
    """A part of a step without keys that are empty."""
    if isinstance(value, dict):
        return {key: each for key, each in value.items() if not _is_nothing(each)}
    if isinstance(value, list | tuple):
        return [_telling(each) for each in value]
    return value


def _is_nothing(value: object) -> bool:
    """Whether a value is the empty one of its kind; 0 and no are values like any other."""
    return value is None or (isinstance(value, str | list | tuple) and not value)


class Need(Model):
    """A reading or look that would settle something."""

    measure: str
    subjects: tuple[str, ...]
    ask: str
    settles: int = 1
    command: str = ""
    """What to type once it is known, the value left as ``…``; empty where no command takes it."""


class Months(Model):
    """When something to come begins: earliest, expected, latest month. None: not within the horizon."""

    earliest: date
    expected: date | None
    latest: date | None


class Reason(Model):
    """One rule at one binding: its verdict and both numbers."""

    id: str
    rule: str
    level: str
    stage: str
    verdict: Verdict
    cause: str = ""
    lean: str = ""
    subjects: tuple[str, ...]
    """Ids of the bound things, in the order of the rule's binders."""
    quantity: str = ""
    """Short row label: ``light``, ``gap to hammer-1``."""
    here: Value | None = None
    wanted_low: Value | None = None
    wanted_high: Value | None = None
    margin: Value | None = None
    margin_steps: float | None = None
    sentence: str
    matters: str = ""
    remedy: str = ""
    duties: tuple[str, ...] = ()
    source: str = ""
    grade: str = ""
    weakest: str = ""
    """The weakest ground this reason rests on, in words."""
    grounds: tuple[Ground, ...] = ()
    """Grounds of what the verdict rests on, conditions included; of an open one also of its numbers."""
    how: tuple[Ground, ...] = ()
    """Grounds of the two numbers alone: those of `here` first, then those of what is wanted."""
    needs: tuple[Need, ...] = ()
    house: tuple[str, ...] = ()
    accept: str = ""
    """The whole line by which a keeper could accept this, told where the steps are."""
    until: Months | None = None
    """Set where the rule holds now and fails later."""
    disputed: bool = False
    """Whether two lines of a card disagree and the one that does not govern would change the verdict."""
    number: str = ""
    """The number it is printed under, the same however deep the answer is read; empty where it has none."""
    controllable: bool = True
    """Whether it turns on something in the tank, not only on what cards say."""
    decides: tuple[Step, ...] = ()
    """From level 2: the cells the verdict rests on, the most telling first.

    With nothing else known the verdict would be the same; without any one of
    them it would not.
    """
    apart_cm: float | None = None
    """Of a rule about two animals: how far apart they are, edge to edge, as far as that is known. [cm]"""
    months_ahead: int = 0
    """0 where the numbers are of today, otherwise for how many months ahead they are reckoned."""
    step: Step | None = None
    """From level 3: the way to those cells, and to what would settle it; from level 4 all there is."""


class Comfort(Model):
    """One term of the comfort sum."""

    preference: str
    low: float
    best: float
    high: float
    weight: float
    sentence: str
    quantity: str = ""
    """Short row label, as that of a reason: ``light``."""
    here: Value | None = None
    wanted_low: Value | None = None
    wanted_high: Value | None = None


class PlaceAnswer(Model):
    """One coral at one place."""

    place: str
    name: str
    word: Word
    rank: int
    reasons: tuple[Reason, ...] = ()
    """Deciding ones first, in the order of explanation."""
    comforts: tuple[Comfort, ...] = ()
    duties: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    """What it would change for others: ``then zoa-2 loses its light``."""
    holds: int = 0
    light_steps: str = ""
    """How the light compares with what the coral is used to, or what to do about it."""


class Caution(Model):
    """Advice that touches a person's safety; printed first and unasked."""

    text: str
    source: str = ""
    grade: str = ""
    about: tuple[str, ...] = ()
    """The animals it is about, where an answer is about several."""


class CoralSummary(Model):
    """Who is being asked about."""

    id: str
    title: str
    card: str
    known_as: str = ""
    """How the name that was asked for led to this card, if not plainly."""
    size: Value | None = None
    origin_light: Value | None = None
    origin_note: str = ""
    not_in_tank: bool = False
    place: str = ""


class Loosened(Model):
    """A danger that the keeper's own files keep from speaking here, or have switched off or accepted."""

    rule: str
    subjects: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    """Where it would speak; empty where it is switched off and would say nothing."""
    shipped: Verdict | None = None
    """What it says as the rules are shipped: fails or undecided; None where it would say nothing here."""
    lines: tuple[str, ...] = ()
    """What the house lines do by which this is so, with their reasons and days."""
    accepted: bool = False


class Answer(Model):
    """What every answer carries."""

    edition: int = ANSWER_EDITION
    question: str
    tank: str
    on: date
    horizon_months: int
    cautions: tuple[Caution, ...] = ()
    gates: tuple[Reason, ...] = ()
    weakest: str = ""
    more: tuple[str, ...] = ()
    given: str = ""
    """The options that were given and that every command to go on with carries: ``--tank examples/x``."""
    notes: tuple[str, ...] = ()
    loosened: tuple[Loosened, ...] = ()
    """Dangers that house lines end, soften, switch off or accept here; told at every level."""


class WhereAnswer(Answer):
    """Where a coral should go."""

    coral: CoralSummary
    tonight: PlaceAnswer | None
    tonight_note: str = ""
    places: tuple[PlaceAnswer, ...]
    no_counts: tuple[tuple[int, str], ...] = ()
    """How many places are out for which group of reasons."""
    needs: tuple[Need, ...] = ()


class WhyAnswer(Answer):
    """Why a coral may or may not stand at a place."""

    coral: CoralSummary
    place: PlaceAnswer
    cures: tuple[Cure, ...] = ()
    by_eye: tuple[str, ...] = ()


class Cure(Model):
    """One small change that would make it a yes, with what else it changes."""

    text: str
    changes: tuple[str, ...] = ()
    makes: Word


class Finding(Model):
    """One thing the audit found, with its cure where one is known."""

    number: int
    reason: Reason
    do: str = ""
    others: int = 0
    """How many more bindings of the same rule stand behind this line."""


class AuditAnswer(Answer):
    """What is wrong in the tank."""

    animals: int
    harmed_now: int
    harmed_later: int
    harmed: tuple[str, ...] = ()
    """The animals being harmed now."""
    harmed_then: tuple[str, ...] = ()
    """Those that will be, and are not yet."""
    now: tuple[Finding, ...]
    later: tuple[Finding, ...]
    open: tuple[Reason, ...]
    open_advice: tuple[Reason, ...] = ()
    """Advice that is open, told from level 2 on; no question of a keeper hangs on it."""
    accepted: tuple[Reason, ...] = ()
    by_eye: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()
    """Animals no rule spoke about."""
    move_first: tuple[str, ...] = ()
    """A smallest set of animals that is part of every danger between two."""
    moves: tuple[str, ...] = ()
    """Moves that are a yes, judged together in this order."""
    nowhere: tuple[str, ...] = ()
    """Those of `move_first` for which no free place is a yes once the moves are made."""
    needs: tuple[Need, ...] = ()


class CardLine(Model):
    """One line of a note card."""

    label: str
    text: str
    topic: str = ""
    """The part of the card it stands in: light, flow, aggression, reach, growth, footing, food, hazard …"""
    grade: str = ""
    source: str = ""
    disputed: bool = False
    low: float | None = None
    """Lower of the numbers that can be drawn: best from, least it stands, usual reach, a rank. [`unit`]"""
    high: float | None = None
    """Upper of them; of a rank the same. [`unit`]"""
    unit: str = ""


class CardAnswer(Model):
    """What is known of one coral."""

    edition: int = ANSWER_EDITION
    question: str = "card"
    card: str
    title: str
    called: tuple[str, ...] = ()
    """What was asked for: names, or ids of animals in a tank; empty where it is the card's own name."""
    taxon: str = ""
    group: str = ""
    known_as: str = ""
    cautions: tuple[Caution, ...] = ()
    lines: tuple[CardLine, ...] = ()
    also: tuple[str, ...] = ()


class ExampleResult(Model):
    """What came of one example of a rule file."""

    title: str
    rule: str
    ok: bool
    expected: str
    got: str
    file: str = ""
    line: int = 0
    reason: Reason | None = None


class NodeAnswer(Model):
    """One node of an answer, opened; what touches a person's safety comes with it."""

    edition: int = ANSWER_EDITION
    question: str = "node"
    cautions: tuple[Caution, ...] = ()
    node: Reason | Step


class MovedExample(Model):
    """A shipped example that comes out otherwise with a house file."""

    title: str
    rule: str
    file: str = ""
    line: int = 0
    shipped: str
    here: str
    because: str = ""
    """The house line that moved it; empty where no single one did."""
    because_file: str = ""
    because_line: int = 0


class ExamplesAnswer(Model):
    """What came of the examples of the rule files."""

    edition: int = ANSWER_EDITION
    question: str = "rules test"
    examples: tuple[ExampleResult, ...]
    moved: tuple[MovedExample, ...] = ()
    """Those that a house file moves; no fault of either."""


class EventAnswer(Model):
    """A change that was written down."""

    edition: int = ANSWER_EDITION
    question: str = "event"
    event: Event
    lapsed: tuple[str, ...] = ()
    """What the keeper had accepted and no longer counts by this."""
