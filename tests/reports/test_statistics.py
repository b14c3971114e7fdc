"""How counts of what is known read."""

from __future__ import annotations

from advisor.reports.printer import render
from advisor.reports.statistics import statistics_page
from tests.reports.samples_of_statistics import stats


def text(level: int = 1) -> str:
    return render(statistics_page(stats(), level))


def test_grades_stand_side_by_side() -> None:
    rows = {line[:24].strip(): line[24:].split() for line in text().splitlines()}
    assert rows["values of cards"] == ["10"] * 4
    assert rows["share of them"] == ["25", "%"] * 4
    assert rows["named numbers"] == ["4"] * 4


def test_the_order_of_trust_is_explained() -> None:
    shown = " ".join(text().split())
    assert "mean weight of their grades times the dangers that examples decide" in shown
    assert "a guess 4, keepers' word 3, maker's word 2, study 1" in shown
    assert "of 9 decided in lagoon" in shown


def test_more_is_shown_when_asked_for() -> None:
    assert "and 5 more: --level 2" in text()
    assert "swells most" not in text()
    assert "swells most" in text(2)
    assert text(2).count("torch: weapon at most") == 20
    assert "weapon at most" not in text(0)


def test_without_a_tank_single_values_are_not_ranked() -> None:
    page = statistics_page(stats().model_copy(update={"tanks": ()}))
    assert "advisor rules stats DIR" in render(page)


def test_what_no_example_decides_is_told_last_and_all_fits() -> None:
    assert text().splitlines()[-2:] == [
        "Never decided by an example: none.",
        "Looked at by eye, so that no example can decide them: shut-by-day.",
    ]
    assert max(map(len, text(2).splitlines())) <= 80
