"""Nothing that the rules ask for is what the sheet about palytoxin forbids."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from advisor.knowledge.actions import understood
from advisor.language.library import Library
from advisor.language.nodes import HandlingKind, Text
from advisor.model.vocabulary import Kind

SHEET = "palytoxin"


def forbidden(library: Library, text: str) -> set[str]:
    """The actions in a text that must never be done with a zoanthid, word for word."""
    lines = library.handlings[SHEET].lines
    names = {name for line in lines if line.kind is HandlingKind.NEVER for name in line.actions}
    heard = understood(text, {name: library.actions[name] for name in names})
    return set(heard.actions) if not heard.read_as else set()


def words(text: Text) -> str:
    """What a text says, a hole as a word that says nothing."""
    return "".join(piece if isinstance(piece, str) else "it" for piece in text.pieces)


def asked(library: Library) -> Iterator[tuple[str, str]]:
    """What rules that may name an animal, and levers, ask a keeper to do, with who asks it."""
    for rule in library.rules.values():
        if any(binder.kind in (Kind.ANIMAL, Kind.CORAL) for binder in rule.binders):
            yield from ((rule.name, words(text)) for text in (rule.remedy, *rule.duties))
    for lever in library.levers.values():
        if any(param.kind in (Kind.ANIMAL, Kind.CORAL) for param in lever.params):
            yield lever.name, words(lever.say)


def test_nothing_is_asked_of_a_keeper_that_is_forbidden_with_a_zoanthid(library: Library) -> None:
    told = list(asked(library))
    assert len(told) > 50
    assert [(name, text) for name, text in told if forbidden(library, text)] == []


@pytest.mark.parametrize(
    ("text", "action"),
    [("scrape its edge every month", "scrape"), ("boiling the rock", "boil"), ("brush it off", "scrub")],
)
def test_such_words_would_be_seen(library: Library, text: str, action: str) -> None:
    assert action in forbidden(library, text)
