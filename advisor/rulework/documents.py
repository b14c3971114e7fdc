"""Pages about rules, cards and readings, in Markdown: made from the checked files, never typed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from advisor.language.format_expr import HARD_SPACE
from advisor.language.library import Library
from advisor.language.nodes import Define, HouseVerb, Prefer, Rule
from advisor.language.walk import conditions, names_used


@dataclass(frozen=True, slots=True)
class Document:
    """One page: where it stands in the folder (with slashes), its title, and its text."""

    path: str
    title: str
    markdown: str


def plain(text: str) -> str:
    """Return text that Markdown leaves as it is."""
    return re.sub(r"([\\`*_\[\]<>|#~])", r"\\\1", " ".join(text.replace(HARD_SPACE, " ").split()))


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table of cells that are Markdown already; empty where there are no rows."""
    found = [f"| {' | '.join(row)} |" for row in rows]
    if not found:
        return ""
    return "\n".join([f"| {' | '.join(heads)} |", f"| {' | '.join('---' for _ in heads)} |", *found])


def page(title: str, *parts: str) -> str:
    """Return the text of a page: its title and its parts, an empty line between."""
    return "\n\n".join([f"# {plain(title)}", *(part for part in parts if part)]) + "\n"


def link(text: str, to: str, at: str) -> str:
    """Return a link from the page `at` to the page `to`, both as paths in the folder."""
    up = "../" * at.count("/")
    return f"[{plain(text)}]({up}{to})"


@dataclass(frozen=True, slots=True)
class Shelf:
    """What pages are made from, with what uses what worked out once."""

    library: Library
    reads: dict[str, frozenset[str]]
    """For each rule and preference: the measures and relations it looks at."""
    numbers: dict[str, tuple[str, ...]]
    """For each rule and preference: the named numbers it uses."""
    rests: dict[str, frozenset[str]]
    """For each rule and preference: the definitions it leads to."""

    def rules_reading(self, name: str) -> tuple[str, ...]:
        """Return the rules and preferences that look at a measure or relation."""
        return tuple(sorted(rule for rule, found in self.reads.items() if name in found))

    def rules_resting_on(self, name: str) -> tuple[str, ...]:
        """Return the rules and preferences that lead to a definition."""
        return tuple(sorted(rule for rule, found in self.rests.items() if name in found))

    def where(self, name: str) -> str:
        """Return the page of a rule, preference, card, definition, measure or relation."""
        if name in self.library.rules or name in self.library.prefers:
            return f"rules/{name}.md"
        if name in self.library.cards:
            return f"cards/{name}.md"
        if name in self.library.defines:
            return f"definitions/{name}.md"
        return f"readings/{name}.md"

    def item(self, name: str) -> Rule | Prefer:
        """Return a rule or preference by its name."""
        return self.library.rules.get(name) or self.library.prefers[name]

    def changed(self, verb: HouseVerb, target: str) -> list[str]:
        """Return what the house changed of something, in words."""
        from advisor.language.format_house import edit_text

        found = [edit for edit in self.library.house if edit.verb is verb and edit.target == target]
        return [plain(edit_text(edit)) for edit in found]


def shelf_of(library: Library) -> Shelf:
    """Return a library with what uses what."""
    known = {**library.vocabulary.measures, **library.vocabulary.relations}
    both: dict[str, Rule | Prefer] = {**library.rules, **library.prefers}
    used = {name: names_used(conditions(item), library.defines) for name, item in both.items()}
    return Shelf(
        library,
        {name: frozenset(names & known.keys()) for name, names in used.items()},
        {name: tuple(sorted(names & library.lets.keys())) for name, names in used.items()},
        {name: frozenset(names & library.defines.keys()) for name, names in used.items()},
    )


def definitions_of(shelf: Shelf, name: str) -> list[Define]:
    """Return the definitions a rule or preference rests on, by name."""
    return [shelf.library.defines[each] for each in sorted(shelf.rests[name])]
