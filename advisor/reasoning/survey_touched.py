"""Grounds of a value that house lines have set, or were meant to set: told wherever it goes."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import HouseVerb
from advisor.model.cells import Cell, Support
from advisor.reasoning.survey_grounds import HOUSE_FILE


def touched_spans(library: Library) -> frozenset[Span]:
    """Return where the values stand that house lines about cards and numbers set, or were meant to set."""
    edits = [edit for edit in library.house if edit.verb is HouseVerb.CHANGE_CARD]
    lets = [edit.target for edit in library.house if edit.verb is HouseVerb.CHANGE_LET]
    aside = [item.where for item in library.aside]
    named = [library.lets[name].span for name in lets if name in library.lets]
    return frozenset((*(edit.span for edit in edits), *named, *aside))


def changed_lets(library: Library, names: frozenset[str]) -> tuple[Support, ...]:
    """Return what house lines have set of some named numbers."""
    spans = touched_spans(library)
    lets = [library.lets[name] for name in sorted(names & library.lets.keys())]
    return tuple(
        Support(HOUSE_FILE, source=f"changed {let.name}", span=let.span) for let in lets if let.span in spans
    )


def touched(cells: Iterable[Cell], spans: frozenset[Span]) -> tuple[Support, ...]:
    """Return those grounds of some values that stand at one of some places, each once."""
    if not spans:
        return ()
    supports = (support for cell in cells for support in cell.supports)
    return tuple(dict.fromkeys(support for support in supports if support.span in spans))
