"""What one set of rules says otherwise than another: published as the answer of ``advisor rules diff``."""

from __future__ import annotations

from enum import StrEnum

from advisor.model.results import ANSWER_EDITION
from advisor.model.tank import Model


class Meaning(StrEnum):
    """What a change of an answer means to the keeper, what matters most first."""

    REFUSED = "now refused"
    ALLOWED = "now allowed"
    UNDECIDED = "newly undecided"
    DECIDED = "newly decided"
    UNASKED = "no longer asked"
    LESSER = "now with more against it"
    BETTER = "now with less against it"
    ELSEWHERE = "now sent elsewhere"
    OTHERWISE = "same answer for another reason"
    LESS = "same answer with less to spare"


class LineChange(Model):
    """One clause as it was and as it is; empty where there is none."""

    clause: str
    old: str = ""
    new: str = ""


class Declared(StrEnum):
    """What became of a declaration."""

    ADDED = "added"
    REMOVED = "removed"
    SWITCHED_OFF = "switched off"
    CHANGED = "changed"
    RENAMED = "renamed"


class DeclaredChange(Model):
    """One declaration that differs: the edit that verdicts are traced back to."""

    id: str
    """What kind of thing and which: ``let room-allowance``, ``card torch light-max``."""
    kind: str
    name: str
    what: Declared
    old_name: str = ""
    lines: tuple[LineChange, ...] = ()
    file: str = ""
    line: int = 0


class Side(Model):
    """What was said of one thing under one set of rules."""

    answer: str
    """A verdict, or the word for a place; empty where it was not asked."""
    told: str = ""
    """The same with the amount: ``holds by 3 cm``."""
    margin_steps: float | None = None
    lean: str = ""
    """Which way an undecided one leans: ``yes``, ``no`` or empty."""
    reasons: tuple[str, ...] = ()
    """For a place: the rules that decide."""


class Flip(Model):
    """One answer that changed, or shrank."""

    meaning: Meaning
    about: str
    """``place`` of a coral that waits, ``tank`` as it stands, or ``example``."""
    tank: str = ""
    rule: str = ""
    level: str = ""
    subjects: tuple[str, ...]
    """Ids in the order of the rule; of a place the coral and the place; of an example its title first."""
    before: Side
    after: Side
    sentence: str = ""
    causes: tuple[str, ...] = ()
    """Ids of the edits that bring it about; several only together."""
    traced: bool = True
    """Whether applying those edits alone was seen to bring it about."""

    @property
    def answers_change(self) -> bool:
        """Whether something is answered otherwise, not only with less to spare."""
        return self.meaning is not Meaning.LESS


class DiffAnswer(Model):
    """What one set of rules says otherwise than another."""

    edition: int = ANSWER_EDITION
    question: str = "rules diff"
    before: str
    after: str
    changes: tuple[DeclaredChange, ...] = ()
    flips: tuple[Flip, ...] = ()
    examples: int = 0
    """Outcomes of examples that were compared."""
    tanks: tuple[str, ...] = ()
    compared: int = 0
    """Verdicts and places of tanks that were compared."""
    notes: tuple[str, ...] = ()
