"""What the examples of rule files reach: published as the answer of ``advisor rules cover``."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.model.results import ANSWER_EDITION
from advisor.model.tank import Model


class Mark(Model):
    """One thing the examples should show, and how many outcomes show it."""

    what: str
    """``holds``, ``true``, ``met within a step`` …"""
    seen: int
    needed: bool = True

    @property
    def lacking(self) -> bool:
        """Whether it is needed and never seen."""
        return self.needed and not self.seen


class ConditionCover(Model):
    """One condition or case, as it is written, with its marks."""

    clause: str
    """``when``, ``expect``, ``unless``, ``case`` or the body of a definition: ``as``."""
    joined: str = ""
    """How it is joined with the one before: ``and``, ``or``, ``and not`` …"""
    depth: int = 0
    text: str
    file: str
    line: int
    marks: tuple[Mark, ...]


class Gap(Model):
    """One thing never seen, why, and an example that would show it."""

    where: str
    """The condition or case as it is written, or the clause that decides a verdict."""
    what: str
    why: str
    example: str = ""
    """A block to paste, its outcome left to the author; empty where none was found."""
    comes_out: str = ""
    """What the rule says of it today."""


class ThingCover(Model):
    """A rule, a preference or a definition."""

    name: str
    kind: str
    file: str
    line: int
    by_eye: bool = False
    verdicts: tuple[Mark, ...] = ()
    conditions: tuple[ConditionCover, ...] = ()
    gaps: tuple[Gap, ...] = ()

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Every mark of it."""
        return (*self.verdicts, *(mark for condition in self.conditions for mark in condition.marks))


class Tally(Model):
    """How many marks are needed, and how many of them are seen."""

    seen: int
    needed: int

    @property
    def percent(self) -> float:
        """Share of the needed marks that is seen; everything where nothing is needed. [%]"""
        return 100.0 * self.seen / self.needed if self.needed else 100.0


def tally(marks: Iterable[Mark]) -> Tally:
    """Return the count of marks: the one that pictures and percentages are made from."""
    wanted = [mark for mark in marks if mark.needed]
    return Tally(seen=sum(mark.seen > 0 for mark in wanted), needed=len(wanted))


class CoverAnswer(Model):
    """What the examples reach."""

    edition: int = ANSWER_EDITION
    question: str = "rules cover"
    examples: int
    outcomes: int
    failed: int
    """Outcomes that are not as their example says; what they reach counts all the same."""
    moved: int = 0
    """Shipped outcomes that are as their example says without the house files, and otherwise with them."""
    moved_by: tuple[str, ...] = ()
    """The house files whose lines move them."""
    things: tuple[ThingCover, ...]
    total: Tally
