"""The style sheet of note cards stands on its own and knows every group of the shipped cards."""

from __future__ import annotations

from advisor.knowledge.load import shipped_rules
from advisor.reports.notecard_style import STYLE


def test_every_group_has_a_colour() -> None:
    for folder in (shipped_rules() / "corals").iterdir():
        assert f".{folder.name} {{ --tint:" in STYLE


def test_it_needs_nothing_from_elsewhere_and_breaks_no_card_in_two() -> None:
    assert "http" not in STYLE
    assert "@import" not in STYLE
    assert "break-inside: avoid" in STYLE
    assert "@page" in STYLE
    assert STYLE.count("{") == STYLE.count("}")
