"""Pages of definitions and of what a keeper can change."""

from __future__ import annotations

from advisor.language.format_expr import digits, literal
from advisor.language.nodes import Define, Lever
from advisor.language.walk import bodies, names_used
from advisor.rulework.documents import Document, Shelf, link, page, plain, table
from advisor.rulework.sentences import Speaker


def definition_page(name: str, shelf: Shelf) -> Document:
    """Return the page of a definition: its cases, what it looks at, and which rules rest on it."""
    define, at = shelf.library.defines[name], shelf.where(name)
    speaker = Speaker(shelf.library)
    parts = [
        meaning(define, shelf, at, speaker),
        *_section("Numbers in force", _numbers(define, shelf)),
        *_section("What it looks at", _used(define, shelf, at)),
        *_section("Rules that rest on it", _rules(name, shelf, at)),
        f"Written in `{define.span.file}`, line {define.span.line}.",
    ]
    return Document(at, name, page(name, *parts))


def meaning(define: Define, shelf: Shelf, at: str, speaker: Speaker) -> str:
    """Return what a definition says, one case a line, its name a link unless it is its own page."""
    there = shelf.where(define.name)
    called = plain(speaker.name_of(define)) if there == at else link(speaker.name_of(define), there, at)
    verb = "means that" if define.unit is None else "is"
    cases = speaker.definition(define)
    if len(cases) == 1:
        return f"**{called}** {verb} {plain(cases[0])}."
    return f"**{called}** {verb}\n\n" + "\n".join(f"- {plain(case)}" for case in cases)


def definitions_page(shelf: Shelf) -> Document:
    """Return the list of all definitions."""
    at = "definitions.md"
    speaker = Speaker(shelf.library)
    rows = [
        (
            link(name, shelf.where(name), at),
            plain(speaker.name_of(define)),
            define.unit or "so or not",
            str(len(shelf.rules_resting_on(name))),
        )
        for name, define in sorted(shelf.library.defines.items())
    ]
    return Document(
        at, "Definitions", page("Definitions", table(("definition", "says", "in", "rules"), rows))
    )


def levers_page(shelf: Shelf) -> Document:
    """Return what a keeper can change, and what every answer may therefore propose."""
    at, speaker = "levers.md", Speaker(shelf.library)
    rows = [
        (
            plain(speaker.lever(lever)),
            link(lever.target, shelf.where(lever.target), at),
            plain(_moved(lever)),
            digits(lever.cost),
        )
        for lever in sorted(shelf.library.levers.values(), key=lambda lever: (lever.cost, lever.name))
    ]
    told = "The cheapest change that helps is proposed first. What has no line here is never proposed."
    heads = ("what a keeper can do", "changes", "how", "cost")
    return Document(
        at, "What a keeper can change", page("What a keeper can change", told, table(heads, rows))
    )


def _moved(lever: Lever) -> str:
    """How a lever changes its reading."""
    if lever.step is None:
        return lever.word or "so"
    return f"{lever.way.value} by {literal(lever.step)}".strip()


def _section(title: str, body: str) -> list[str]:
    """A heading and what is below it, if there is anything."""
    return [f"## {title}", body] if body else []


def _numbers(define: Define, shelf: Shelf) -> str:
    """The named numbers it uses."""
    lets = shelf.library.lets
    used = sorted(names_used(bodies(define), shelf.library.defines) & lets.keys())
    rows = [(plain(name), plain(literal(lets[name].value)), plain(lets[name].because)) for name in used]
    return table(("number", "value", "why"), rows)


def _used(define: Define, shelf: Shelf, at: str) -> str:
    """Readings and other definitions it leads to."""
    vocabulary = shelf.library.vocabulary
    known = {*vocabulary.measures, *vocabulary.relations, *shelf.library.defines}
    used = names_used(bodies(define), shelf.library.defines) & known
    return ", ".join(link(name, shelf.where(name), at) for name in sorted(used))


def _rules(name: str, shelf: Shelf, at: str) -> str:
    """Rules and preferences that lead to it."""
    return ", ".join(link(rule, shelf.where(rule), at) for rule in shelf.rules_resting_on(name)) or "None."
