"""All pages of a set of rule files, or those of one name."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from advisor.errors import Problem, unusable
from advisor.rulework.card_pages import card_page
from advisor.rulework.definition_pages import definition_page, definitions_page, levers_page
from advisor.rulework.documents import Document, Shelf, shelf_of
from advisor.rulework.handling_pages import HANDLING, handling_page
from advisor.rulework.index_pages import index_pages
from advisor.rulework.reading_pages import reading_page, words_page
from advisor.rulework.rule_pages import rule_page
from advisor.session.opening import library_in_force, usable

LANGUAGE = "language"
"""The name of the reference of the rule language."""
INDEX = "index"
"""The name of the list of all rules, which comes first."""


def all_pages(
    *, rules: Path | None = None, house: Sequence[Path] = (), on: date | None = None
) -> tuple[Document, ...]:
    """Return a page for every rule, preference, card, definition and reading, and the indexes.

    House lines that do not count on the day `on` are left out; None looks at no day.

    Raises
    ------
    UnusableInput
        If a rule file has an error.
    """
    shelf = shelf_of(usable(*library_in_force(rules, house, on)))
    library = shelf.library
    return (
        *index_pages(shelf),
        words_page(shelf),
        definitions_page(shelf),
        levers_page(shelf),
        handling_page(shelf),
        _reference(),
        *(rule_page(name, shelf) for name in (*library.rules, *library.prefers)),
        *(card_page(name, shelf) for name in library.cards),
        *(definition_page(name, shelf) for name in library.defines),
        *(
            reading_page(name, shelf)
            for name in (*library.vocabulary.measures, *library.vocabulary.relations)
        ),
    )


def pages_of(
    names: Sequence[str], *, rules: Path | None = None, house: Sequence[Path] = (), on: date | None = None
) -> tuple[Document, ...]:
    """Return the pages of some names: rules, preferences, cards (by any name), definitions or readings.

    House lines that do not count on the day `on` are left out; None looks at no day.

    Raises
    ------
    UnusableInput
        If nothing has one of the names, or a rule file has an error.
    """
    shelf = shelf_of(usable(*library_in_force(rules, house, on)))
    found = [page for name in names for page in _pages(name, shelf)]
    return tuple(found)


def _reference() -> Document:
    """The reference of the rule language, which lies beside the rules."""
    from advisor.knowledge.load import shipped_rules

    text = (shipped_rules() / "README.md").read_text(encoding="utf-8")
    without_marks = re.sub(r"^<!--.*?-->\n", "", text, flags=re.MULTILINE)
    return Document(f"{LANGUAGE}.md", "The rule language", without_marks)


def _pages(name: str, shelf: Shelf) -> list[Document]:
    """Every page a name may mean."""
    from advisor.knowledge.names import find_card
    from advisor.language.guess import nearest

    library = shelf.library
    vocabulary = library.vocabulary
    out: list[Document] = []
    if name == LANGUAGE:
        return [_reference()]
    if name == INDEX:
        return [index_pages(shelf)[0]]
    if name == HANDLING or name in library.handlings:
        return [handling_page(shelf)]
    if name in library.rules or name in library.prefers:
        out.append(rule_page(name, shelf))
    if name in library.cards:
        out.append(card_page(name, shelf))
    if name in library.defines:
        out.append(definition_page(name, shelf))
    if name in vocabulary.measures or name in vocabulary.relations:
        out.append(reading_page(name, shelf))
    if out:
        return out
    match = find_card(name, library)
    if match.cards:
        return [card_page(card, shelf) for card in match.cards]
    known = (
        *library.rules,
        *library.prefers,
        *library.cards,
        *library.defines,
        *vocabulary.measures,
        *vocabulary.relations,
    )
    near = nearest(name, known)
    mend = f"advisor rules doc {near}" if near else "advisor rules doc, alone, lists the rules"
    raise unusable((Problem("command-113", f"nothing is called '{name}'", mend=mend),))
