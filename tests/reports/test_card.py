"""A coral's note card."""

from __future__ import annotations

from pathlib import Path

from advisor.reports.card import card_page, disagreements, heading
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


def test_what_sources_dispute_is_told_once_more_with_who_says_it() -> None:
    answer = samples.card_torch()
    assert disagreements(answer) == ("reach at night: 25 cm at most (club handout, a guess)",)
    assert "DISAGREE  Reach at night" in render(card_page(answer))


def test_the_heading_says_whom_a_card_is_for() -> None:
    answer = samples.card_torch()
    assert heading(answer) == ""
    assert (
        heading(answer.model_copy(update={"called": ("torch", "torch-2", "torch-3")})) == "torch-2, torch-3"
    )
