"""Index pages: by file, by reading, by group of corals, by source."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.language.nodes import Card, Rule
from advisor.model.vocabulary import Measure, Relation
from advisor.rulework.documents import Document, Shelf, link, page, plain, table
from advisor.rulework.reading_pages import unit_of


def index_pages(shelf: Shelf) -> tuple[Document, ...]:
    """Return the first page and the indexes it leads to."""
    return (_first(shelf), _by_reading(shelf), _by_group(shelf), _by_source(shelf), _numbers(shelf))


def _first(shelf: Shelf) -> Document:
    """All rules by the file they stand in."""
    library = shelf.library
    by_file: dict[str, list[str]] = {}
    for name in (*library.rules, *library.prefers):
        by_file.setdefault(shelf.item(name).span.file, []).append(name)
    parts = [
        "Indexes: "
        + ", ".join(
            link(text, to, "index.md")
            for text, to in (
                ("readings", "by-reading.md"),
                ("cards by group", "by-group.md"),
                ("sources", "by-source.md"),
                ("named numbers", "numbers.md"),
                ("loose words", "words.md"),
                ("definitions", "definitions.md"),
                ("what a keeper can change", "levers.md"),
                ("what a person must mind", "handling.md"),
                ("the rule language", "language.md"),
            )
        )
    ]
    for file in sorted(by_file):
        rows = [
            (_rule_link(name, shelf, "index.md"), _kind(name, shelf), plain(_why(name, shelf)))
            for name in sorted(by_file[file])
        ]
        parts += [f"## {plain(file)}", table(("rule", "level or weight", "why it matters"), rows)]
    return Document("index.md", "Rules", page("Rules", *parts))


def _rule_link(name: str, shelf: Shelf, at: str) -> str:
    return link(name, shelf.where(name), at)


def _why(name: str, shelf: Shelf) -> str:
    """Why a rule matters; a preference says nothing of it."""
    item = shelf.item(name)
    return item.matters if isinstance(item, Rule) else ""


def _kind(name: str, shelf: Shelf) -> str:
    """The level of a rule, the weight of a preference."""
    rule = shelf.library.rules.get(name)
    return rule.level.value if rule is not None else f"weight {shelf.library.prefers[name].weight:g}"


def _by_reading(shelf: Shelf) -> Document:
    """Every measure and relation with how many rules look at it; those nobody looks at last."""
    vocabulary = shelf.library.vocabulary
    everything: dict[str, Measure | Relation] = {**vocabulary.measures, **vocabulary.relations}
    rows = [
        (link(name, shelf.where(name), ""), plain(unit_of(thing)), str(len(shelf.rules_reading(name))))
        for name, thing in sorted(everything.items())
        if shelf.rules_reading(name)
    ]
    unread = [
        link(name, shelf.where(name), "") for name in sorted(everything) if not shelf.rules_reading(name)
    ]
    parts = [
        table(("reading", "in", "rules"), rows),
        "## No rule looks at these",
        ", ".join(unread) or "None.",
    ]
    return Document("by-reading.md", "Readings", page("Readings", *parts))


def _by_group(shelf: Shelf) -> Document:
    """Every card by its group."""
    groups: dict[str, list[Card]] = {}
    for card in shelf.library.cards.values():
        group = next(
            (value.word or " ".join(value.words) for value in card.values if value.key == "group"), "no group"
        )
        groups.setdefault(group, []).append(card)
    parts: list[str] = []
    for group in sorted(groups):
        cards = sorted(groups[group], key=lambda card: card.title)
        parts += [
            f"## {plain(group)}",
            _items(f"{link(card.title, shelf.where(card.name), '')}" for card in cards),
        ]
    return Document("by-group.md", "Cards by group", page("Cards by group", *parts))


def _by_source(shelf: Shelf) -> Document:
    """Every source with its grade and the rules and cards that rest on it."""
    found: dict[tuple[str, str], set[str]] = {}
    for name in (*shelf.library.rules, *shelf.library.prefers):
        source = shelf.item(name).source
        if source is not None:
            found.setdefault((source.grade.value, source.text), set()).add(name)
    for card in shelf.library.cards.values():
        for value in card.values:
            source = value.source or card.source
            if source is not None:
                found.setdefault((source.grade.value, source.text), set()).add(card.name)
    parts: list[str] = []
    for grade in ("study", "maker", "experience", "guess"):
        rows = [
            (plain(text), ", ".join(link(name, shelf.where(name), "") for name in sorted(names)))
            for (kind, text), names in sorted(found.items())
            if kind == grade
        ]
        parts += [f"## {grade}", table(("source", "rests on it"), rows) or "None."]
    return Document("by-source.md", "Sources", page("Sources", *parts))


def _numbers(shelf: Shelf) -> Document:
    """Every named number and who uses it."""
    from advisor.language.format_expr import literal

    users: dict[str, list[str]] = {}
    for name, numbers in shelf.numbers.items():
        for number in numbers:
            users.setdefault(number, []).append(name)
    rows = [
        (
            plain(name),
            plain(literal(let.value)),
            plain(let.because),
            "" if let.source is None else f"{plain(let.source.text)} ({let.source.grade.value})",
            ", ".join(link(rule, shelf.where(rule), "") for rule in sorted(users.get(name, []))),
        )
        for name, let in sorted(shelf.library.lets.items())
    ]
    heads = ("number", "value", "why", "source", "used by")
    return Document("numbers.md", "Named numbers", page("Named numbers", table(heads, rows)))


def _items(lines: Iterable[str]) -> str:
    """A list."""
    return "\n".join(f"- {line}" for line in lines)
