"""Which small changes of the rules their examples notice: the answer of ``advisor rules mutate``."""

from __future__ import annotations

from advisor.model.results import ANSWER_EDITION
from advisor.model.tank import Model


class Change(Model):
    """One small change of a rule, a preference or a definition."""

    thing: str
    kind: str
    clause: str
    file: str
    line: int
    before: str
    after: str
    """How it would read; empty where it is left out."""


class Survivor(Model):
    """A change no example notices, with one that would."""

    change: Change
    example: str = ""
    """A block to paste, its outcome left to the author; empty where none was found."""
    comes_out: str = ""
    """What the rule says of it today."""
    changed: str = ""
    """What it would say with the change."""
    rule: str = ""
    """The rule the example is for."""


class SameMeaning(Model):
    """A change that changes nothing, and why."""

    change: Change
    why: str


class MutateAnswer(Model):
    """Which changes the examples notice."""

    edition: int = ANSWER_EDITION
    question: str = "rules mutate"
    tried: int
    """Changes that change something."""
    noticed: int
    survivors: tuple[Survivor, ...] = ()
    same: tuple[SameMeaning, ...] = ()
    left_out: tuple[str, ...] = ()
    """Rules, preferences and definitions that could not be tried, with the reason."""

    @property
    def percent(self) -> float:
        """Share of the changes that are noticed. [%]"""
        return 100.0 * self.noticed / self.tried if self.tried else 100.0
