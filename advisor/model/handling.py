"""What the answer to ``handle`` is made of: a whole sheet, or what is told of something to be done."""

from __future__ import annotations

from advisor.model.results import ANSWER_EDITION, Caution
from advisor.model.tank import Model


class HandlingStep(Model):
    """One line of a sheet."""

    text: str
    actions: tuple[str, ...] = ()
    """What it is told of, in words: ``boiling it``."""
    instead: str = ""
    """Of what must never be done: what to do in its place."""
    about: str = ""
    """Which animals the sheet is about, in words."""
    source: str = ""
    grade: str = ""
    own: bool = False
    """Whether a file of the keeper's own says it, not what ships."""


class HandlingAnswer(Model):
    """How to handle a coral without harm to a person."""

    edition: int = ANSWER_EDITION
    question: str = "handle"
    asked: str
    """The coral as it was asked for."""
    title: str
    cards: tuple[str, ...] = ()
    known_as: str = ""
    stricter: str = ""
    """Why the stricter sheet is given; empty where it is plain what the coral is."""
    cautions: tuple[Caution, ...] = ()
    doing: str = ""
    """What somebody is about to do, as typed; empty for the whole sheet."""
    about_to: tuple[str, ...] = ()
    """The actions that were recognised in it."""
    read_as: tuple[str, ...] = ()
    """Misspelt words, and how each was read."""
    not_read: tuple[str, ...] = ()
    """Words nothing was recognised in, beside what was: everything that must never be done is told, too."""
    not_recognised: bool = False
    """Whether nothing in `doing` was recognised, so that the whole sheet is given."""
    refused: tuple[HandlingStep, ...] = ()
    """What must never be done, of the things somebody is about to do."""
    never: tuple[HandlingStep, ...] = ()
    """What else must never be done with this animal."""
    first: tuple[HandlingStep, ...] = ()
    """What must be at hand or done before anything is begun."""
    ways: tuple[HandlingStep, ...] = ()
    """How each thing is done."""
    signs: tuple[HandlingStep, ...] = ()
    helps: tuple[HandlingStep, ...] = ()
    defers: tuple[HandlingStep, ...] = ()
    notes: tuple[str, ...] = ()
    more: tuple[str, ...] = ()
    given: str = ""
    """The options that were given and that every command to go on with carries."""
