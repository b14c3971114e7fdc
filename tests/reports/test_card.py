"""A coral's note card."""

from __future__ import annotations

from pathlib import Path

from advisor.reports.card import card_page
from advisor.reports.printer import render
from tests.reports import samples

GOLDEN = Path(__file__).parent / "golden"


def test_it_reads_as_it_was_approved() -> None:
    approved = (GOLDEN / "card-torch.txt").read_text(encoding="utf-8")
    assert render(card_page(samples.card_torch())) == approved


def test_sources_come_from_level_two() -> None:
    assert "Author 2005" not in render(card_page(samples.card_torch(), 1))
    assert "Author 2005" in render(card_page(samples.card_torch(), 2))


def test_level_zero_keeps_name_and_caution() -> None:
    shown = render(card_page(samples.card_torch(), 0))
    assert "CAUTION" in shown
    assert "150 PAR" not in shown
