"""What a person must mind with an animal: actions, and the sheets that speak of them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from advisor.errors import Span
from advisor.model.vocabulary import Source


@dataclass(frozen=True, slots=True)
class Action:
    """Something a person may be about to do with a coral, and the words that say so."""

    span: Span
    name: str
    title: str
    """How it is called in a sentence: ``boiling``."""
    also: tuple[str, ...] = ()
    """Other words for it; its name counts too, and every word in all its inflections."""


class HandlingKind(StrEnum):
    """What a line of a handling sheet tells."""

    NEVER = "never"
    """What must not be done."""
    WAIT = "wait"
    """What must be at hand or done first."""
    SAFE = "safe"
    """How it is done."""
    SIGN = "sign"
    """What shows that a person has come to harm."""
    HELP = "help"
    """What to do then, and when to seek help."""
    DEFER = "defer"
    """Whose word counts above this one."""


@dataclass(frozen=True, slots=True)
class HandlingLine:
    """One line of a handling sheet; `actions` are empty for what is told whatever is done."""

    span: Span
    kind: HandlingKind
    text: str
    actions: tuple[str, ...] = ()
    instead: str = ""
    """NEVER: what to do in its place."""
    source: Source | None = None
    instead_by: tuple[str, ...] = ()
    """NEVER: the actions that do it; what is told of them is told along with the refusal."""


@dataclass(frozen=True, slots=True)
class Handling:
    """What a person must mind with some animals: those of a hazard or a group, or any."""

    span: Span
    name: str
    title: str
    lines: tuple[HandlingLine, ...]
    hazards: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()
    anything: bool = False
    unknown: bool = False
    """Whether it also counts for an animal that nobody can name."""
