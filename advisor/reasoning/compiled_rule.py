"""Rules and preferences as operations, ready to run over any number of bindings."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.language.nodes import Binder, Prefer, Rule
from advisor.reasoning.frame import Ref
from advisor.reasoning.ops import Op


@dataclass(frozen=True, slots=True)
class Template:
    """A compiled text: literal pieces, references to things, and operations."""

    pieces: tuple[str | Ref | Op, ...]


@dataclass(frozen=True, slots=True, eq=False)
class CompiledRule:
    """A rule ready to run over any number of bindings."""

    rule: Rule
    when: Op | None
    expect: Op | None
    unless: Op | None
    because: Template
    by_eye: Template
    """What a person must look for, where the requirement cannot be written."""
    remedy: Template
    duties: tuple[Template, ...]
    aggregates: bool
    """Whether a change elsewhere in the tank can change this rule's verdict on a binding."""

    @property
    def binders(self) -> tuple[Binder, ...]:
        """The rule's variables."""
        return self.rule.binders


@dataclass(frozen=True, slots=True, eq=False)
class CompiledPrefer:
    """A preference ready to run."""

    prefer: Prefer
    when: Op | None
    want: Op
    because: Template
    aggregates: bool

    @property
    def binders(self) -> tuple[Binder, ...]:
        """The preference's variables."""
        return self.prefer.binders
