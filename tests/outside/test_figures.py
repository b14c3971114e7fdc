"""Figures of agreement with published tables, printed by ``python -m tests.outside.figures``.

Least shares are what was measured when the cards were last changed, rounded down to five: a change that makes
one worse has to say so here.
"""

from __future__ import annotations

import pytest

from tests.outside.figures import Figure, figures, main
from tests.outside.published import table

LEAST = {
    ("Dai 1990", "winners that can hurt the loser"): 85,
    ("Heron Island", "winners that can hurt the loser"): 100,
    ("Sheppard 1979", "pairs of species ranked alike, 0.5 of the study's scale apart"): 90,
    ("Abelson & Loya 1999", "pairs of species ranked alike, 0.5 of the study's scale apart"): 75,
    ("Dai 1990", "pairs of species ranked alike, 0.35 of the study's scale apart"): 95,
    ("CTDB 1.1.1 and NOAA", "planned growth within the middle half of the genus"): 20,
    ("CTDB 1.1.1 and NOAA", "planned growth upward within the middle half"): 30,
    ("CTDB 1.1.1 and NOAA", "field rate told on the card within the middle half"): 40,
    ("CTDB 1.1.1 and NOAA", "planned growth within three times the median"): 75,
}
FIGURES = {(each.study, each.what): each for each in figures()}


@pytest.mark.parametrize("key", LEAST)
def test_no_figure_got_worse_unnoticed(key: tuple[str, str]) -> None:
    assert FIGURES[key].percent >= LEAST[key]


def test_a_figure_is_a_share_of_all_that_was_compared() -> None:
    assert Figure("x", "y", 3, 4).percent == 75
    assert all(0 < each.of and each.agree <= each.of for each in FIGURES.values())


def test_what_is_printed_has_every_figure_and_every_contradiction(capsys: pytest.CaptureFixture[str]) -> None:
    main()
    shown = capsys.readouterr().out
    assert all(each.what in shown for each in FIGURES.values())
    assert all(row["reason"] in shown for row in table("contradictions"))
