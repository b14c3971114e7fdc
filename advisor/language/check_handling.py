"""Handling sheets: what they speak of is known, sources are named, nothing forbidden is told as safe."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.check_cards import CardLines
from advisor.language.guess import nearest, several
from advisor.language.nodes import Action, Handling, HandlingKind, HandlingLine
from advisor.language.phrases import says_also
from advisor.model.vocabulary import SetType, WordType

_OF_AN_ACTION = (HandlingKind.NEVER, HandlingKind.SAFE)


def check_handlings(
    sheets: Mapping[str, Handling], actions: Mapping[str, Action], lines: CardLines
) -> tuple[list[Problem], dict[str, Handling]]:
    """Return what is wrong with all handling sheets, and the sheets without their faulty lines.

    A line that forbids something is never the one left out for another's sake.
    """
    problems: list[Problem] = []
    sound: dict[str, Handling] = {}
    for name, sheet in sheets.items():
        problems.extend(_about(sheet, lines))
        kept: list[HandlingLine] = []
        for line in sheet.lines:
            found = [*_actions(line, actions), *_allowed(line, sheet, sheets, actions)]
            problems.extend(found)
            if not found:
                kept.append(line)
            problems.extend(_grounds(line))
        sound[name] = replace(sheet, lines=tuple(kept))
    problems.extend(_silent(sound, actions))
    return problems, sound


def _about(sheet: Handling, lines: CardLines) -> Iterator[Problem]:
    """Hazards and groups that no card can name."""
    for key, words in (("hazard", sheet.hazards), ("group", sheet.groups)):
        measure = lines.by_key.get(key)
        kind = measure.type if measure is not None else None
        known = kind.words if isinstance(kind, WordType | SetType) else ()
        for word in words:
            if word not in known:
                yield Problem(
                    "handling-952",
                    f"no card can have the {key} '{word}'",
                    sheet.span,
                    f"one of: {several(known)}" if known else f"the vocabulary knows no {key}",
                    nearest(word, known),
                )


def _actions(line: HandlingLine, actions: Mapping[str, Action]) -> Iterator[Problem]:
    """Actions nobody declared."""
    for name in (*line.actions, *line.instead_by):
        if name not in actions:
            yield Problem(
                "handling-951",
                f"no action is called '{name}'",
                line.span,
                "an action is declared with 'action'",
                nearest(name, actions),
            )


def _grounds(line: HandlingLine) -> Iterator[Problem]:
    """A line that names nobody who says so."""
    if line.source is None:
        yield Problem(
            "handling-953",
            f"this '{line.kind.value}' names no source",
            line.span,
            "who says so?",
            'source "…" kind guess',
            Severity.WARNING,
        )


def _same(safe: str, never: str, actions: Mapping[str, Action]) -> bool:
    """Whether an action is another one, or goes by words of it."""
    if safe == never or safe not in actions or never not in actions:
        return safe == never
    return says_also(actions[safe], actions[never])


def _allowed(
    line: HandlingLine, sheet: Handling, sheets: Mapping[str, Handling], actions: Mapping[str, Action]
) -> Iterator[Problem]:
    """A safe way to do what is forbidden for the same animals, by whatever name it goes."""
    if line.kind is not HandlingKind.SAFE:
        return
    for other in sheets.values():
        if not _within(sheet, other):
            continue
        for no in other.lines:
            both = sorted(
                safe for safe in line.actions if any(_same(safe, never, actions) for never in no.actions)
            )
            if no.kind is HandlingKind.NEVER and both:
                yield Problem(
                    "handling-954",
                    f"'{both[0]}' is forbidden for these animals and cannot be told as safe",
                    line.span,
                    "this line is left out",
                    "take it out; what to do in its place stands behind 'instead'",
                    Severity.WARNING,
                    (Related(no.span, "forbidden here"),),
                )


def _within(sheet: Handling, other: Handling) -> bool:
    """Whether whatever one sheet is about, the other is about too."""
    if other.anything:
        return True
    return (
        not sheet.anything
        and set(sheet.hazards) <= set(other.hazards)
        and set(sheet.groups) <= set(other.groups)
        and (other.unknown or not sheet.unknown)
    )


def _silent(sheets: Mapping[str, Handling], actions: Mapping[str, Action]) -> Iterator[Problem]:
    """Actions of which nothing is said in general: recognised, and then no answer."""
    told = {
        name
        for sheet in sheets.values()
        if sheet.anything
        for line in sheet.lines
        if line.kind in _OF_AN_ACTION
        for name in line.actions
    }
    for name, action in actions.items():
        if name not in told:
            span: Span = action.span
            yield Problem(
                "handling-955",
                f"of '{name}' no sheet about anything says never or safe",
                span,
                "it would be understood, and nothing answered",
                f"in a sheet about anything: safe {name} …",
                Severity.WARNING,
            )
