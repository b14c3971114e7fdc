"""Faults as values, and the few exceptions the package raises."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum


class Severity(StrEnum):
    """How much a problem matters to the question that was asked."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of one file. Lines and columns count from 1; the end column is exclusive."""

    file: str
    line: int = 1
    column: int = 1
    end_line: int = 0
    end_column: int = 0
    text: str = ""
    """The source line itself, so that a message can show it with a caret."""


@dataclass(frozen=True, slots=True)
class Related:
    """Another place that matters to a problem, with what is to be seen there."""

    span: Span
    label: str


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault in a keeper's file: what, where, what was expected, how to mend it."""

    code: str
    """Stable code, a word and a number: ``units-201``."""
    what: str
    """One plain sentence."""
    span: Span | None = None
    label: str = ""
    """What stands beside the caret; makes sense without the headline."""
    mend: str = ""
    """Printed as ``try: …``."""
    severity: Severity = Severity.ERROR
    related: tuple[Related, ...] = field(default=())


class AdvisorError(Exception):
    """Root of every exception this package raises on purpose."""

    def __init__(self, message: str, problems: tuple[Problem, ...] = ()) -> None:
        super().__init__(message)
        self.problems = problems


class QuantityError(AdvisorError, ValueError):
    """A number or unit that cannot be what it claims to be."""


class UnusableInput(AdvisorError):
    """The files or the command cannot be used; carries every problem found."""


def unusable(problems: tuple[Problem, ...]) -> UnusableInput:
    """Return the exception that carries `problems`, its message naming the first."""
    first = problems[0].what if problems else "nothing usable was given"
    return UnusableInput(first, problems)
