"""What an answer is made of. Published by ``advisor schema answer``; reports only print these."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from advisor.model.reason import Ground as Ground
from advisor.model.reason import Months as Months
from advisor.model.reason import Need as Need
from advisor.model.reason import Reason as Reason
from advisor.model.reason import Step as Step
from advisor.model.reason import Value as Value
from advisor.model.reason import Verdict as Verdict
from advisor.model.tank import Event, Model

ANSWER_EDITION = 1
"""Version of the published JSON form; raised whenever a consumer could break."""


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
    doing_badly: tuple[str, ...] = ()
    """The animals that are told to do badly, whatever the rules find."""
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
    understood: str = ""
    """How the name of what was added led to its card; empty where that is plain."""
