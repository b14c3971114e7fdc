"""Actions and handling sheets out of the parser's tree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.errors import Problem
from advisor.language.build import (
    Refused,
    Site,
    branches,
    joined,
    name_of,
    named,
    source,
    tokens,
    unquoted,
    words,
)
from advisor.language.nodes import Action, Handling, HandlingKind, HandlingLine

if TYPE_CHECKING:
    from advisor.language.build import Branch


def action(site: Site, tree: Branch) -> Action:
    """Return something a person may be about to do, with the words for it."""
    also = [token for part in named(tree, "action_words") for token in tokens(part, "STRING")]
    return Action(
        span=site.span(tree.children[0], tree.children[1]),
        name=name_of(tree),
        title=_title(tree),
        also=tuple(unquoted(str(token)) for token in also),
    )


def handling(site: Site, tree: Branch) -> Handling:
    """Return a handling sheet.

    Raises
    ------
    Refused
        If it does not say what it is about, or tells nothing.
    """
    about = named(tree, "about_some", "about_all")
    told = named(tree, "handling_act", "handling_told")
    for found, asked in ((about, "about"), (told, "never, safe, wait, sign, help or defer")):
        if not found:
            raise Refused(_lacking(site, tree, asked))
    every = {str(part.children[1]) for part in about if part.data == "about_all"}
    return Handling(
        span=site.span(tree.children[0], tree.children[1]),
        name=name_of(tree),
        title=_title(tree),
        lines=tuple(_line(site, part) for part in told),
        hazards=_some(about, "hazard"),
        groups=_some(about, "group"),
        anything="anything" in every,
        unknown="unknown" in every,
    )


def _title(tree: Branch) -> str:
    """How it is called."""
    return unquoted(str(tokens(tree, "STRING")[0]))


def _lacking(site: Site, tree: Branch, asked: str) -> Problem:
    """The problem of a sheet without one of its lines."""
    first = asked.split(",")[0]
    return Problem(
        "word-114",
        f"the handling sheet '{name_of(tree)}' has no '{asked}'",
        site.span(tree.children[0], tree.children[1]),
        f"a handling sheet needs: {asked}",
        f"add a line: {first} …",
    )


def _some(about: list[Branch], what: str) -> tuple[str, ...]:
    """The hazards or the groups it is about, each once."""
    lists = [part for part in about if part.data == "about_some" and str(part.children[1]) == what]
    return tuple(dict.fromkeys(word for part in lists for word in words(named(part, "words")[0])))


def _line(site: Site, tree: Branch) -> HandlingLine:
    """One line of a sheet."""
    acts, place = named(tree, "words"), named(tree, "instead")
    grounds = named(tree, "source")
    kind = HandlingKind(str(tree.children[0]))
    if place and kind is not HandlingKind.NEVER:
        site.say(
            "word-119",
            f"'instead' is no part of '{kind.value}'",
            place[0],
            "it says what to do in place of what must never be done",
            "a line of its own: safe …",
        )
    last = branches(tree)[-1]
    return HandlingLine(
        span=site.span(tree.children[0], last),
        kind=kind,
        text=joined(named(tree, "texts")[0]),
        actions=words(acts[0]) if acts else (),
        instead=joined(named(place[0], "texts")[0]) if place else "",
        source=source(site, grounds[0]) if grounds else None,
        instead_by=tuple(name for part in place for each in named(part, "words") for name in words(each)),
    )
