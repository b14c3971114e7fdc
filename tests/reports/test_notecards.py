"""Note cards as a page to print."""

from __future__ import annotations

import re

from advisor.model.results import CardLine
from advisor.reports.notecards import notecards_html
from tests.reports import samples


def test_the_page_needs_no_other_file() -> None:
    page = notecards_html([samples.card_torch()])
    assert page.startswith("<!DOCTYPE html>")
    assert re.findall(r"(?:src|href)=|url\((?!#)", page) == []


def test_every_card_carries_its_own_caution_before_its_lines() -> None:
    page = notecards_html([samples.card_torch(), samples.card_torch()])
    cards = page.split("<article")[1:]
    assert len(cards) == 2
    for card in cards:
        assert card.index('class="caution"') < card.index('class="needs"')
        assert 'class="legend"' in card


def test_lines_have_the_sign_of_their_grade_and_the_number_of_their_source() -> None:
    lines = tuple(
        CardLine(label=label, text="…", topic="light", grade=grade, source=source)
        for label, grade, source in (
            ("a", "study", "One 1999"),
            ("b", "guess", "we"),
            ("c", "study", "One 1999"),
        )
    )
    page = notecards_html([samples.card_torch().model_copy(update={"lines": lines})])
    assert re.findall(r'<sup class="(\w+)"[^>]*>(\d+)</sup>', page) == [
        ("study", "1"),
        ("guess", "2"),
        ("study", "1"),
    ]
    assert "<b>1</b> One 1999; <b>2</b> we" in page


def test_what_sources_dispute_and_what_to_ask_have_parts_of_their_own() -> None:
    ask = CardLine(label="ask the seller", text="How old?", topic="ask the seller")
    torch = samples.card_torch()
    page = notecards_html([torch.model_copy(update={"lines": (*torch.lines, ask)})])
    assert "<h3>Sources disagree</h3><ul><li>Reach at night" in page
    assert "<h3>Ask the seller</h3><ul><li>How old?</li>" in page


def test_a_rank_is_drawn_as_dots() -> None:
    line = CardLine(label="weapon", text="filaments, sting 2 of 5", topic="aggression", low=2, high=2)
    page = notecards_html([samples.card_torch().model_copy(update={"lines": (line,)})])
    assert ">●●○○○</span>" in page


def test_text_of_a_card_is_never_markup() -> None:
    torch = samples.card_torch().model_copy(update={"title": "<b>bold</b>", "called": ("<i>",)})
    page = notecards_html([torch])
    assert "<b>bold" not in page
    assert "For &lt;i&gt;" in page
