"""The page of one card."""

from __future__ import annotations

from advisor.language.nodes import HouseVerb
from advisor.rulework.documents import Document, Shelf, page, plain, table


def card_page(name: str, shelf: Shelf) -> Document:
    """Return the page of a card: cautions first, then every line with its source and grade."""
    from advisor.knowledge.cards import card_answer

    answer = card_answer(name, shelf.library)
    rows = [
        (
            plain(line.label),
            plain(line.text) + (" **disputed**" if line.disputed else ""),
            plain(line.source),
            line.grade,
        )
        for line in answer.lines
    ]
    house = shelf.changed(HouseVerb.CHANGE_CARD, name)
    parts = [
        *(f"**Caution.** {plain(caution.text)}" for caution in answer.cautions),
        f"Also called {plain(', '.join(answer.also))}." if answer.also else "",
        table(("what", "value", "source", "grade"), rows),
        *(f"Changed by the house: {change}" for change in house),
    ]
    return Document(shelf.where(name), answer.title, page(answer.title, *parts))
