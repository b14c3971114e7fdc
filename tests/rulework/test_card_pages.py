"""The page of a card."""

from __future__ import annotations

from advisor.rulework.card_pages import card_page
from tests.rulework.shelves import shelf


def test_what_can_hurt_a_person_stands_first() -> None:
    text = card_page("torch", shelf()).markdown
    assert text.splitlines()[2].startswith("**Caution.** Mild sting")


def test_every_card_has_its_page_with_grades() -> None:
    for name, card in shelf().library.cards.items():
        text = card_page(name, shelf()).markdown
        assert text.startswith("# ")
        assert "| guess |" in text or "| experience |" in text or "| study |" in text, card.name
